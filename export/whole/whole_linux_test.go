package whole

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"golang.org/x/sys/unix"
)

// writesAnd is the variable of the environment by which the test binary is a program that
// writes the file it names, with drafts that have names or none.
const writesAnd = "BANKWRIGHT_TEST_WRITES"

func TestMain(m *testing.M) {
	path := os.Getenv(writesAnd)
	if path == "" {
		os.Exit(m.Run())
	}
	alwaysNamed = os.Args[1] == "named"
	err := Write(path, func(w io.Writer) error {
		fmt.Println("begun")
		for range pieces {
			if _, err := w.Write(piece); err != nil {
				return err
			}
			time.Sleep(50 * time.Microsecond)
		}
		return nil
	})
	if err != nil {
		fmt.Println(err)
		os.Exit(1)
	}
}

// What that program writes.
const pieces = 40

var piece = bytes.Repeat([]byte("new\n"), 1000)

// bothWays runs a test with drafts that have no name, and with such that have one.
func bothWays(t *testing.T, test func(t *testing.T)) {
	for way, set := range map[string]bool{"nameless": false, "named": true} {
		t.Run(way, func(t *testing.T) {
			alwaysNamed = set
			t.Cleanup(func() { alwaysNamed = false })
			test(t)
		})
	}
}

func wantNames(t *testing.T, dir string, want ...string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("the folder holds %q, want %q", got, want)
	}
}

func text(s string) func(io.Writer) error {
	return func(w io.Writer) error { _, err := io.WriteString(w, s); return err }
}

// TestKilledDraft: where a run is killed while it writes, the file is the old one or the
// new one; what is left of a draft that had a name is gone after the next run, and that of
// a run that goes on, or of another file, is not.
func TestKilledDraft(t *testing.T) {
	whole := strings.Repeat(string(piece), pieces)
	bothWays(t, func(t *testing.T) {
		dir := t.TempDir()
		path := filepath.Join(dir, "a.csv")
		lying := 0
		for range 40 {
			if err := os.WriteFile(path, []byte("old"), 0o644); err != nil {
				t.Fatal(err)
			}
			killedWriting(t, path)
			if got, err := os.ReadFile(path); err != nil || string(got) != "old" && string(got) != whole {
				t.Fatalf("%d bytes, %v, that are neither the old file nor the new one", len(got), err)
			}
			entries, err := os.ReadDir(dir)
			if err != nil {
				t.Fatal(err)
			}
			for _, e := range entries {
				if process, ok := writer(e.Name(), path); ok && process != os.Getpid() {
					lying++
				} else if e.Name() != "a.csv" {
					t.Errorf("left behind: %s", e.Name())
				}
			}
			if err := Write(path, text("next")); err != nil {
				t.Fatal(err)
			}
			wantFile(t, path, "next")
			wantNames(t, dir, "a.csv")
		}
		if alwaysNamed && lying == 0 {
			t.Error("no run was killed while its draft had a name")
		}
	})
}

// killedWriting runs the program that writes a file, and kills it at a random moment.
func killedWriting(t *testing.T, path string) {
	t.Helper()
	way := "nameless"
	if alwaysNamed {
		way = "named"
	}
	c := exec.Command(os.Args[0], way)
	c.Env = append(os.Environ(), writesAnd+"="+path)
	out, err := c.StdoutPipe()
	if err == nil {
		err = c.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	if n, err := out.Read(make([]byte, 16)); n == 0 {
		t.Fatalf("it did not begin: %v", err)
	}
	time.Sleep(time.Duration(rand.IntN(int(6 * time.Millisecond))))
	c.Process.Kill()
	c.Wait()
}

// TestOthersDrafts: drafts that are being written, of the same file too, and those of
// other files stay; so does what has such a name by chance.
func TestOthersDrafts(t *testing.T) {
	bothWays(t, func(t *testing.T) {
		dir := t.TempDir()
		path := filepath.Join(dir, "a.csv")
		others := []string{".a.csv.bankwright-notes", ".b.csv.bankwright-1-0"}
		for _, name := range others {
			if err := os.WriteFile(filepath.Join(dir, name), nil, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		err := Write(path, func(w io.Writer) error {
			if err := Write(path, text("inner")); err != nil {
				return err
			}
			return text("outer")(w)
		})
		if err != nil {
			t.Error(err)
		}
		wantFile(t, path, "outer")
		wantNames(t, dir, others[0], others[1], "a.csv")
	})
}

// TestManyAtOnce: writes of one file at the same time all succeed, the file is that of one
// of them, and of new files at the same time one is written.
func TestManyAtOnce(t *testing.T) {
	bothWays(t, func(t *testing.T) {
		dir := t.TempDir()
		path, fresh := filepath.Join(dir, "a.csv"), filepath.Join(dir, "b.toml")
		var done atomic.Int32
		var wait sync.WaitGroup
		for range 8 {
			wait.Go(func() {
				for range 50 {
					if err := Write(path, text("whole")); err != nil {
						t.Error(err)
					}
				}
				switch err := New(fresh, text("whole")); {
				case err == nil:
					done.Add(1)
				case !errors.Is(err, fs.ErrExist):
					t.Error(err)
				}
			})
		}
		wait.Wait()
		wantFile(t, path, "whole")
		wantFile(t, fresh, "whole")
		wantNames(t, dir, "a.csv", "b.toml")
		if done.Load() != 1 {
			t.Errorf("%d have written the new file", done.Load())
		}
	})
}

// TestNew: a file that must not be there is written whole or not at all, and one that is
// there stays, also where it came while the new one was written.
func TestNew(t *testing.T) {
	bothWays(t, func(t *testing.T) {
		dir := t.TempDir()
		path := filepath.Join(dir, "a.toml")
		broken := errors.New("the power went out")
		err := New(path, func(w io.Writer) error { return errors.Join(text("half")(w), broken) })
		if !errors.Is(err, broken) {
			t.Errorf("the error became %v", err)
		}
		wantNames(t, dir)
		err = New(path, func(w io.Writer) error {
			return errors.Join(os.WriteFile(path, []byte("theirs"), 0o644), text("ours")(w))
		})
		if !errors.Is(err, fs.ErrExist) {
			t.Errorf("a file that came meanwhile: %v", err)
		}
		wantFile(t, path, "theirs")
		if err := New(path, text("ours")); !errors.Is(err, fs.ErrExist) {
			t.Errorf("a file that is there: %v", err)
		}
		wantFile(t, path, "theirs")
		if err := os.Remove(path); err != nil {
			t.Fatal(err)
		}
		if err := New(path, text("ours")); err != nil {
			t.Error(err)
		}
		wantFile(t, path, "ours")
		wantNames(t, dir, "a.toml")
	})
}

// TestLongName: a file with the longest name there may be is written and replaced.
func TestLongName(t *testing.T) {
	bothWays(t, func(t *testing.T) {
		for _, letter := range []string{"a", "ä", "\xbf"} {
			dir := t.TempDir()
			name := strings.Repeat(letter, 250/len(letter)) + ".csv"
			path := filepath.Join(dir, name)
			for _, content := range []string{"old", "new"} {
				if err := Write(path, text(content)); err != nil {
					t.Fatal(err)
				}
				wantFile(t, path, content)
			}
			wantNames(t, dir, name)
		}
	})
}

// TestAppendOnly: in a folder in which names may be added but not taken away, what is
// left behind is named. Such folders can be made only where the file system has them,
// and by the superuser.
func TestAppendOnly(t *testing.T) {
	bothWays(t, func(t *testing.T) {
		dir := t.TempDir()
		path := filepath.Join(dir, "a.csv")
		if err := os.WriteFile(path, []byte("old"), 0o644); err != nil {
			t.Fatal(err)
		}
		if err := appendOnly(dir, true); err != nil {
			t.Skipf("no folder can be made append-only here: %v", err)
		}
		err := Write(path, text("new"))
		if err := appendOnly(dir, false); err != nil {
			t.Fatal(err)
		}
		if !errors.Is(err, fs.ErrPermission) || Left(err) == "" {
			t.Errorf("the error is %v, which names nothing that is left", err)
		}
		wantFile(t, path, "old")
		wantNames(t, dir, Left(err), "a.csv")
		if err := Write(path, text("new")); err != nil { // which clears it, too
			t.Fatal(err)
		}
		wantNames(t, dir, "a.csv")
	})
}

func appendOnly(dir string, on bool) error {
	f, err := os.Open(dir)
	if err != nil {
		return err
	}
	defer f.Close()
	flags, err := unix.IoctlGetInt(int(f.Fd()), unix.FS_IOC_GETFLAGS)
	if err != nil {
		return err
	}
	const appends = 0x20 // FS_APPEND_FL of linux/fs.h
	if flags &^= appends; on {
		flags |= appends
	}
	return unix.IoctlSetPointerInt(int(f.Fd()), unix.FS_IOC_SETFLAGS, flags)
}
