// Command bankwright compares battery banks: one large battery or several
// small ones, for given loads, at given prices. It reads arguments, calls the
// engine and prints; everything it knows of batteries stands in rules files.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime"
	"runtime/debug"

	"github.com/spf13/cobra"
)

// Exit statuses.
const (
	exitDone   = 0
	exitFailed = 1   // the files have faults, or the work failed
	exitUsage  = 2   // the command line is wrong
	exitBroken = 130 // interrupted: 128 and the number of the signal, as shells have it
)

// errFailed says that the work failed and the reason has been told.
var errFailed = errors.New("failed")

// app is where a run reads and writes; tests run it in place of the process.
type app struct {
	in   io.Reader
	out  *output
	err  io.Writer
	json bool

	watcher *watcher         // is told which files are read; nil: nobody waits for them to be saved
	read    map[string]bool  // the files that were read or looked for
	wrote   map[string]stamp // the files that were written, as they were left
}

func main() {
	collectLate()
	signal.Ignore(toldWhenWriting...)
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr))
}

// collectLate lets memory be collected for the first time when so much is taken that most
// runs are over, and from then on when it has grown to three times what is in use. So the
// workbook of the built-in example costs a tenth less processor time than at the pace of
// the runtime itself, and takes 170 MB in place of 145.
func collectLate() {
	debug.SetGCPercent(-1)
	limit := debug.SetMemoryLimit(-1) // as the environment sets it
	debug.SetMemoryLimit(min(limit, mostUncollected))
	runtime.AddCleanup(new([64]byte), func(int) {
		debug.SetGCPercent(200)
		debug.SetMemoryLimit(min(limit, mostAtEase))
	}, 0)
}

// mostUncollected is how many bytes are taken before memory is collected: what any
// machine has to spare, and twice what a comparison takes.
const mostUncollected = 100 << 20

// mostAtEase is how many bytes may be taken until memory is collected as often as it
// takes to stay below: a large comparison is then slower rather than larger.
const mostAtEase = 350 << 20

// run executes a command line and returns the exit status.
func run(args []string, out, errs io.Writer) int { return answered(args, os.Stdin, out, errs) }

// answered is run with answers to what the command asks.
func answered(args []string, in io.Reader, out, errs io.Writer) (status int) {
	defer func() { // a fault of ours is told in a sentence, too
		if recover() != nil {
			fmt.Fprintln(errs, "bankwright: something went wrong inside the program; please report the command and the file that bring it about")
			status = exitFailed
		}
	}()
	a := &app{in: in, out: &output{to: out}, err: errs, read: map[string]bool{}, wrote: map[string]stamp{}}
	root := a.root()
	root.SetArgs(args)
	root.SetOut(a.out)
	root.SetErr(errs)
	return a.status(root.Execute())
}

// status tells what is left to tell and returns the exit status.
func (a *app) status(err error) int {
	var usage usageError
	var broken interrupted
	switch {
	case errors.As(err, &usage):
		a.say("bankwright: %s", usage)
		return exitUsage
	case errors.As(err, &broken):
		a.say("bankwright: %s", broken)
		return exitBroken
	case a.out.err != nil && !a.out.readerLeft():
		a.say("bankwright: the result cannot be written: %s", reason(a.out.err))
		return exitFailed
	case errors.Is(err, errFailed):
		return exitFailed
	case a.out.readerLeft():
		return exitDone
	case err != nil:
		a.say("bankwright: %s", err)
		return exitFailed
	}
	return exitDone
}

func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "bankwright",
		Short: "One large battery or several small ones, for these loads, at these prices?",
		Long: "bankwright compares battery banks from plain text files: what each costs over\n" +
			"the years, how long it runs the loads, which checks it fails. Without a file\n" +
			"every command works on the built-in example.",
		Example: "  bankwright compare              the built-in example, side by side\n" +
			"  bankwright new cabin            cabin.toml, to begin with\n" +
			"  bankwright compare cabin.toml   and what becomes of it",
		SilenceErrors:     true,
		SilenceUsage:      true,
		CompletionOptions: cobra.CompletionOptions{DisableDefaultCmd: true},
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return noCommand(cmd, args[0])
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, _ []string) error {
			if told, _ := cmd.Flags().GetBool("version"); told {
				_, err := io.WriteString(a.out, version())
				return err
			}
			return cmd.Help()
		},
	}
	root.Flags().BoolP("version", "v", false, "show version, commit and the digest of the rules")
	root.SetFlagErrorFunc(flagError)
	root.SetHelpCommand(a.help())
	root.SetHelpFunc(a.helpFitting(root.HelpFunc()))
	root.AddCommand(a.compare(), a.book(), a.draw(), a.readback(), a.check(), a.explain(), a.sweep(), a.rules(), a.new(), a.schema(), a.completion(), a.man())
	return root
}
