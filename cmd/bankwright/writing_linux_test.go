package main

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"golang.org/x/sys/unix"

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
	"points.csv":     grids("points.csv", 200, 100, "-o"),
	"points.parquet": grids("points.parquet", 200, 100, "-o"),
	"points.xlsx":    grids("points.xlsx", 40, 40, "-o"),
	"map.svg":        grids("map.svg", 30, 30, "--plot"),
	"book.xlsx":      {"book small.toml -o book.xlsx --force", "book -o book.xlsx --force"},
	"wiring.png":     {"draw one_oak -o wiring.png --force", "draw three_ash -o wiring.png --force"},
	"schema.json":    {"schema -o schema.json --force", "schema own.toml -o schema.json --force"},
	"started.toml":   {"new started", "new started --ask"},
	"returned.toml":  {"readback sent.xlsx shelf.toml -o returned.toml", "readback sent.xlsx noted.toml -o returned.toml"},
}

// grids are commands that write a grid of so many points to a file.
func grids(out string, prices, depths int, flag string) (both [2]string) {
	for i, most := range []int{1200, 1100} {
		both[i] = fmt.Sprintf("sweep --vary battery.oak.price=900USD..%dUSD/%d --vary site.depth_of_discharge=50%%..100%%/%d %s %s --force", most, prices, depths, flag, out)
	}
	return both
}

// keeps tells of an output that a file which is there always stays.
func keeps(out string) bool { return !strings.Contains(writes[out][0], "--force") }

// writing is a folder in which a command has written a file once, and how long that took.
type writing struct {
	folder, out string
	keeps       bool
	command     func(which int) *exec.Cmd
	names       []string // what is in the folder beside the file
	whole       []byte   // the file as it is when the command has ended
	took        time.Duration
}

// ownRule makes the schema of a scenario another.
const ownRule = "\n[rules.battery.shade]\nunit     = \"money\"\ndoc      = \"Half the price.\"\noptional = true\n"

// shelf is a scenario whose workbook is read back in no time, with remarks that make it
// larger than the smallest limit on the size of files.
var shelf = `title          = "Shelves"
currency       = "EUR"
standard_rules = false
[rules.kind.shelf]
many    = "shelves"
doc     = "A shelf."
compare = { by = "price", best = "lowest" }
[rules.shelf.price]
unit = "money"
doc  = "What it costs."
[shelf.oak]
price = "80 EUR"
[shelf.ash]
price = "70 EUR"
` + strings.Repeat("# Nobody has asked for it so far.\n", 100)

// writingIn runs a command in a folder of its own.
func writingIn(t *testing.T, folder, program, out string) *writing {
	t.Helper()
	small := filepath.Join(folder, "small.toml")
	bankwright(t, "new", small)
	text, err := os.ReadFile(small)
	for name, content := range map[string]string{"own": string(text) + ownRule, "shelf": shelf, "noted": shelf + "# mind the stairs\n"} {
		if err == nil {
			err = os.WriteFile(filepath.Join(folder, name+".toml"), []byte(content), 0o644)
		}
	}
	if err != nil {
		t.Fatal(err)
	}
	if out == "returned.toml" {
		bankwright(t, "book", filepath.Join(folder, "shelf.toml"), "-o", filepath.Join(folder, "sent.xlsx"))
	}
	w := &writing{folder: folder, out: filepath.Join(folder, out), keeps: keeps(out)}
	w.names = w.inFolder(t)
	w.command = func(which int) *exec.Cmd {
		c := exec.Command(program, strings.Fields(writes[out][which])...)
		c.Dir = folder
		c.Stdin = strings.NewReader(strings.Repeat("\n", 100)) // what is asked is answered as proposed
		return c
	}
	start := time.Now()
	if text, err := w.command(0).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, text)
	}
	w.took = time.Since(start)
	if w.whole, err = os.ReadFile(w.out); err != nil {
		t.Fatal(err)
	}
	return w
}

// inFolder are the names in the folder, without the file's own.
func (w *writing) inFolder(t *testing.T) (names []string) {
	t.Helper()
	entries, err := os.ReadDir(w.folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if e.Name() != filepath.Base(w.out) {
			names = append(names, e.Name())
		}
	}
	return names
}

// before puts a content into the file, or removes it where that is nil or a file that is
// there would stay, and returns what it holds then.
func (w *writing) before(t *testing.T, content []byte) []byte {
	t.Helper()
	os.Remove(w.out)
	if content == nil || w.keeps {
		return nil
	}
	if err := os.WriteFile(w.out, content, 0o644); err != nil {
		t.Fatal(err)
	}
	return content
}

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
	if names := w.inFolder(t); !slices.Equal(names, w.names) {
		t.Errorf("the folder holds %q beside it, and held %q", names, w.names)
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
	killed := 0 // of all: one that takes some milliseconds may always end before
	for out := range writes {
		t.Run(out, func(t *testing.T) {
			w := writingIn(t, t.TempDir(), p, out)
			for i := range (moments + len(writes) - 1) / len(writes) {
				before := w.before(t, [2][]byte{old, nil}[i%2])
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
		})
	}
	if killed == 0 {
		t.Error("every run had ended before it was to be killed")
	}
}

// TestNoRoom: where a file may not grow as large as it must, in a folder and on a disk that
// may not be written to, and on a disk that is full, that is told, the old file stays, and
// nothing is left beside it. The limit on the size of files and the folder are tried
// everywhere; disks are made and filled where that is allowed, also where everything is
// required, since no machine need allow it.
func TestNoRoom(t *testing.T) {
	oracle.OneCore(t)
	p := program(t)
	for out := range writes {
		t.Run(out, func(t *testing.T) {
			w := writingIn(t, t.TempDir(), p, out)
			limited := exec.Command("sh", append([]string{"-c", `ulimit -f 1; exec "$0" "$@"`, p}, strings.Fields(writes[out][0])...)...)
			limited.Dir = w.folder
			w.refused(t, []byte("old"), limited.CombinedOutput, "cannot be written")
			old := w.before(t, []byte("old"))
			if err := os.Chmod(w.folder, 0o555); err != nil {
				t.Fatal(err)
			}
			defer os.Chmod(w.folder, 0o755)
			w.refuses(t, old, func() ([]byte, error) { return bound(t, w.command(0)) }, "you may not write there")
		})
	}
	t.Run("disk", func(t *testing.T) {
		disk := t.TempDir()
		if err := syscall.Mount("tmpfs", disk, "tmpfs", 0, "size=16m"); err != nil {
			t.Skipf("no disk can be made here (%v); a limit on the size of files and a folder stand for it", err)
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
		w.refused(t, w.whole, w.command(0).CombinedOutput, "there is no room left")
		if err := os.Remove(fill); err != nil {
			t.Fatal(err)
		}
		if err := syscall.Mount("", disk, "", syscall.MS_REMOUNT|syscall.MS_RDONLY, ""); err != nil {
			t.Fatal(err)
		}
		w.refuses(t, w.whole, w.command(0).CombinedOutput, "nothing can be written to that disk")
	})
}

// refused is refuses with a content that the file has before.
func (w *writing) refused(t *testing.T, old []byte, command func() ([]byte, error), why string) {
	t.Helper()
	w.refuses(t, w.before(t, old), command, why)
}

// refuses runs a command that must say why it cannot write, and leave the file as it is:
// with an old content, or not there.
func (w *writing) refuses(t *testing.T, old []byte, command func() ([]byte, error), why string) {
	t.Helper()
	text, err := command()
	if exit, ok := err.(*exec.ExitError); !ok || exit.ExitCode() != exitFailed || !strings.Contains(string(text), why) {
		t.Errorf("%v, want exit status %d and %q; it says\n%.600s", err, exitFailed, why, text)
	}
	w.check(t, old)
}

// bound runs a command that permissions bind, also where the superuser tests: its thread,
// and with it the command, gives up the right to pass them over (capabilities(7)).
func bound(t *testing.T, c *exec.Cmd) (text []byte, err error) {
	t.Helper()
	if os.Geteuid() != 0 {
		return c.CombinedOutput()
	}
	var refused error
	done := make(chan bool)
	go func() {
		defer close(done)
		runtime.LockOSThread() // for good: the thread ends with this function
		if refused = giveUp(unix.CAP_DAC_OVERRIDE); refused == nil {
			text, err = c.CombinedOutput()
		}
	}()
	<-done
	if refused != nil {
		t.Skipf("the superuser cannot give up rights here (%v); a limit on the size of files is tried all the same", refused)
	}
	return text, err
}

// giveUp takes a right from all programs that this thread will run.
func giveUp(right int) error {
	if err := unix.Prctl(unix.PR_CAPBSET_DROP, uintptr(right), 0, 0, 0); err != nil {
		return err
	}
	head := unix.CapUserHeader{Version: unix.LINUX_CAPABILITY_VERSION_3}
	var sets [2]unix.CapUserData
	if err := unix.Capget(&head, &sets[0]); err != nil {
		return err
	}
	sets[right/32].Inheritable &^= 1 << (right % 32)
	return unix.Capset(&head, &sets[0])
}

// TestAtOnce: of runs at the same time on one file, each with another content, every one
// succeeds, and the file is that of one of them, whole. Where a file that is there stays,
// one succeeds, and the others say why they do not.
func TestAtOnce(t *testing.T) {
	oracle.OneCore(t)
	p := program(t)
	for out := range writes {
		t.Run(out, func(t *testing.T) {
			w := writingIn(t, t.TempDir(), p, out)
			w.before(t, w.whole)
			if text, err := w.command(1).CombinedOutput(); err != nil {
				t.Fatalf("%v: %s", err, text)
			}
			second, err := os.ReadFile(w.out)
			if err != nil || bytes.Equal(second, w.whole) {
				t.Fatalf("both contents are the same (%v)", err)
			}
			w.before(t, second)
			const runs = 6
			var wait sync.WaitGroup
			var done atomic.Int32
			for i := range runs {
				wait.Go(func() {
					text, err := w.command(i % 2).CombinedOutput()
					switch {
					case err == nil:
						done.Add(1)
					case !w.keeps || !strings.Contains(string(text), "is there already; it stays as it is"):
						t.Errorf("%v: %s", err, text)
					}
				})
			}
			wait.Wait()
			if w.keeps && done.Load() != 1 {
				t.Errorf("%d of %d runs say that they have written the file", done.Load(), runs)
			}
			w.check(t, w.whole, second)
		})
	}
}
