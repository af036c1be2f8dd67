package main

import (
	"bytes"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"bankwright/engine/oracle"
)

// program is bankwright as a program of its own, by which tests end it from outside.
func program(t *testing.T) string {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "bankwright") // by this name the test binary is the program
	if err := os.Symlink(self, path); err != nil {
		t.Fatal(err)
	}
	return path
}

// writes are commands that write a file in the folder in which they run, two with
// different contents for each file.
var writes = map[string][2]string{
	"points.csv": {
		"sweep --vary battery.oak.price=900USD..1200USD/200 --vary site.depth_of_discharge=50%..100%/100 -o points.csv",
		"sweep --vary battery.oak.price=900USD..1100USD/200 --vary site.depth_of_discharge=50%..100%/100 -o points.csv",
	},
	"book.xlsx": {"book small.toml -o book.xlsx --force", "book -o book.xlsx --force"},
	"map.svg": {
		"sweep --vary battery.oak.price=900USD..1200USD/30 --vary site.depth_of_discharge=50%..100%/30 --plot map.svg",
		"sweep --vary battery.oak.price=900USD..1100USD/30 --vary site.depth_of_discharge=50%..100%/30 --plot map.svg",
	},
}

// writing is a folder in which a command has written a file once, and how long that took.
type writing struct {
	folder, out string
	command     func(which int) *exec.Cmd
	whole       []byte // the file as it is when the command has ended
	took        time.Duration
}

// writingIn runs a command in a folder of its own.
func writingIn(t *testing.T, folder, program, out string) *writing {
	t.Helper()
	bankwright(t, "new", filepath.Join(folder, "small"))
	w := &writing{folder: folder, out: filepath.Join(folder, out)}
	w.command = func(which int) *exec.Cmd {
		c := exec.Command(program, strings.Fields(writes[out][which])...)
		c.Dir = folder
		return c
	}
	start := time.Now()
	if text, err := w.command(0).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, text)
	}
	w.took = time.Since(start)
	var err error
	if w.whole, err = os.ReadFile(w.out); err != nil {
		t.Fatal(err)
	}
	return w
}

// first is the first of the two commands.
func (w *writing) first() *exec.Cmd { return w.command(0) }

// check fails the test unless the file is one of some, whole, nil being none, and
// nothing else is left in the folder.
func (w *writing) check(t *testing.T, may ...[]byte) {
	t.Helper()
	got, err := os.ReadFile(w.out)
	if os.IsNotExist(err) {
		got = nil
	}
	if !slices.ContainsFunc(may, func(b []byte) bool { return bytes.Equal(b, got) && (b == nil) == (got == nil) }) {
		t.Errorf("%s is neither the old file nor the new one: %d bytes, %v", filepath.Base(w.out), len(got), err)
	}
	entries, err := os.ReadDir(w.folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if e.Name() != "small.toml" && e.Name() != filepath.Base(w.out) {
			t.Errorf("left behind: %s", e.Name())
		}
	}
}

// TestKilled kills commands that write a file at random moments (200 of them where
// everything is required): the old file stays, or the new one is there, each whole, and
// nothing beside it.
func TestKilled(t *testing.T) {
	oracle.OneCore(t)
	moments := 18
	if oracle.Required() {
		moments = 200
	}
	p := program(t)
	old := []byte("what was there before\n")
	for out := range writes {
		t.Run(out, func(t *testing.T) {
			w := writingIn(t, t.TempDir(), p, out)
			killed := 0
			for i := range moments / len(writes) {
				before := old
				if i%2 == 1 {
					before = nil
				}
				os.Remove(w.out)
				if before != nil {
					if err := os.WriteFile(w.out, before, 0o644); err != nil {
						t.Fatal(err)
					}
				}
				c := w.command(0)
				if err := c.Start(); err != nil {
					t.Fatal(err)
				}
				time.Sleep(time.Duration(rand.Float64() * 1.1 * float64(w.took)))
				c.Process.Kill()
				if err := c.Wait(); err != nil {
					killed++
					w.check(t, before, w.whole)
					continue
				}
				w.check(t, w.whole)
			}
			if killed == 0 {
				t.Error("every run had ended before it was to be killed")
			}
		})
	}
}

// TestNoRoom: where a file may not grow as large as it must, and on a disk that is full
// or may not be written to, that is told, the old file stays, and nothing is left beside
// it. Disks are made and filled where that is allowed.
func TestNoRoom(t *testing.T) {
	oracle.OneCore(t)
	p := program(t)
	for out := range writes {
		t.Run(out, func(t *testing.T) {
			w := writingIn(t, t.TempDir(), p, out)
			old := []byte("old")
			limited := func() *exec.Cmd {
				c := exec.Command("sh", append([]string{"-c", `ulimit -f 8; exec "$0" "$@"`, p}, strings.Fields(writes[out][0])...)...)
				c.Dir = w.folder
				return c
			}
			w.refused(t, old, limited, "cannot be written")
		})
	}
	t.Run("disk", func(t *testing.T) {
		disk := t.TempDir()
		if err := syscall.Mount("tmpfs", disk, "tmpfs", 0, "size=16m"); err != nil {
			t.Skipf("no disk can be made here: %v", err)
		}
		t.Cleanup(func() { syscall.Unmount(disk, syscall.MNT_DETACH) })
		folder := filepath.Join(disk, "work")
		if err := os.Mkdir(folder, 0o755); err != nil {
			t.Fatal(err)
		}
		w := writingIn(t, folder, p, "points.csv")
		fill := filepath.Join(disk, "filling")
		var room syscall.Statfs_t
		if err := syscall.Statfs(disk, &room); err != nil {
			t.Fatal(err)
		}
		left := int(room.Bavail)*int(room.Bsize) - len(w.whole)/2
		if err := os.WriteFile(fill, make([]byte, max(0, left)), 0o644); err != nil {
			t.Fatal(err)
		}
		w.refused(t, w.whole, w.first, "there is no room left")
		if err := os.Remove(fill); err != nil {
			t.Fatal(err)
		}
		if err := syscall.Mount("", disk, "", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""); err != nil {
			t.Fatal(err)
		}
		w.refused(t, nil, w.first, "nothing can be written to that disk")
	})
}

// refused runs a command that must say why it cannot write, and leave the file as it is:
// with an old content, or as it was where that is nil.
func (w *writing) refused(t *testing.T, old []byte, command func() *exec.Cmd, why string) {
	t.Helper()
	if old == nil {
		old = w.whole
	} else if err := os.WriteFile(w.out, old, 0o644); err != nil {
		t.Fatal(err)
	}
	text, err := command().CombinedOutput()
	if exit, ok := err.(*exec.ExitError); !ok || exit.ExitCode() != exitFailed || !strings.Contains(string(text), why) {
		t.Errorf("%v, want exit status %d and %q; it says\n%.600s", err, exitFailed, why, text)
	}
	w.check(t, old)
}

// TestAtOnce: of runs at the same time on one file, each with another content, every one
// succeeds, and the file is that of one of them, whole.
func TestAtOnce(t *testing.T) {
	oracle.OneCore(t)
	p := program(t)
	for out := range writes {
		t.Run(out, func(t *testing.T) {
			w := writingIn(t, t.TempDir(), p, out)
			if text, err := w.command(1).CombinedOutput(); err != nil {
				t.Fatalf("%v: %s", err, text)
			}
			second, err := os.ReadFile(w.out)
			if err != nil || bytes.Equal(second, w.whole) {
				t.Fatalf("both contents are the same (%v)", err)
			}
			var wait sync.WaitGroup
			for i := range 6 {
				wait.Go(func() {
					if text, err := w.command(i % 2).CombinedOutput(); err != nil {
						t.Errorf("%v: %s", err, text)
					}
				})
			}
			wait.Wait()
			w.check(t, w.whole, second)
		})
	}
}
