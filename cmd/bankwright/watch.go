package main

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"time"

	"github.com/fsnotify/fsnotify"
	"github.com/spf13/cobra"

	"bankwright/engine"
)

// quiet is how long no file must have been saved before a run begins: an editor that
// saves writes, renames and touches in quick succession.
const quiet = 20 * time.Millisecond

// watcher waits until a file is saved that the last run read or looked for.
type watcher struct {
	events *fsnotify.Watcher
	read   map[string]stamp // by cleaned path
}

// stamp tells whether a file is the one that was read; zero where there was none.
type stamp struct {
	size int64
	at   time.Time
}

// watchFlag lets a command run again on each save.
func (a *app) watchFlag(cmd *cobra.Command, watch *bool) {
	cmd.Flags().BoolVar(watch, "watch", false, "run again on each save, and show what changed")
}

// watchable refuses what cannot be watched.
func (a *app) watchable(file string) error {
	switch {
	case file == "":
		return usagef("the built-in example does not change; --watch needs a file")
	case a.json:
		return usagef("--watch shows what becomes other, and --json prints one document; leave one of them out")
	}
	return nil
}

// onSave runs a command and, if it is to watch, again each time that a file is saved
// which it read, until it is interrupted or nobody reads on. The command is given the
// model of the last run that had one, nil the first time, and returns its own.
func (a *app) onSave(watch bool, file string, run func(before *engine.Model) (*engine.Model, error)) error {
	if !watch {
		_, err := run(nil)
		return err
	}
	if err := a.watchable(file); err != nil {
		return err
	}
	events, err := fsnotify.NewWatcher()
	if err != nil {
		return fmt.Errorf("the files cannot be watched: %w", err)
	}
	defer events.Close()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	a.watcher = &watcher{events: events, read: map[string]stamp{}}
	var before *engine.Model
	for again := false; ; again = true {
		m, err := run(before)
		if err = a.goesOn(err, !again); err != nil {
			return err
		}
		if m != nil {
			before = m
		}
		if err := a.watcher.follow(); err != nil {
			return fmt.Errorf("the files cannot be watched: %w", err)
		}
		if !again {
			a.say("Watching %s; Ctrl-C ends.", quoted(file))
		}
		saved := a.watcher.wait(ctx)
		if saved == "" {
			return nil
		}
		fmt.Fprintf(a.out, "\n%s  %s\n", time.Now().Format(time.TimeOnly), saved)
	}
}

// goesOn tells a failure that the next save may mend; what it cannot is returned.
func (a *app) goesOn(err error, first bool) error {
	var usage usageError
	var broken interrupted
	switch {
	case a.out.err != nil:
		return a.out.err
	case errors.As(err, &broken), first && errors.As(err, &usage):
		return err
	case err != nil && !errors.Is(err, errFailed):
		a.say("bankwright: %s", err)
	}
	return nil
}

// note notes a file that is read, as it is now.
func (w *watcher) note(path string) { w.read[path] = stampOf(path) }

func stampOf(path string) stamp {
	info, err := os.Stat(path)
	if err != nil {
		return stamp{}
	}
	return stamp{info.Size(), info.ModTime()}
}

// follow listens to the folders of all files that were read: a file that is replaced
// is another one of the same name. Where a name is a link, what it leads to counts.
func (w *watcher) follow() error {
	for path := range w.read {
		folders := []string{filepath.Dir(path)}
		if real, err := filepath.EvalSymlinks(path); err == nil && real != path {
			folders = append(folders, filepath.Dir(real))
		}
		for _, folder := range folders {
			if info, err := os.Stat(folder); err != nil || !info.IsDir() {
				continue
			}
			if err := w.events.Add(folder); err != nil { // twice is once
				return err
			}
		}
	}
	return nil
}

// wait returns the name of a file that was read as soon as it is another than it was;
// nothing when the context ends first.
func (w *watcher) wait(ctx context.Context) (saved string) {
	settled := time.NewTimer(0) // what was saved while the run went on counts
	for {
		select {
		case <-ctx.Done():
			return ""
		case <-w.events.Events:
			settled.Reset(quiet)
		case <-w.events.Errors: // too many events at once: look
			settled.Reset(quiet)
		case <-settled.C:
			for _, path := range slices.Backward(slices.Sorted(maps.Keys(w.read))) { // a file before its folder
				if stampOf(path) != w.read[path] {
					clear(w.read)
					return path
				}
			}
		}
	}
}
