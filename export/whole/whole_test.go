package whole

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"testing"
)

// TestWrite: a file is replaced when its content is complete, and stays as it is,
// with nothing left beside it, when something goes wrong.
func TestWrite(t *testing.T) {
	dir := t.TempDir()
	path, link := filepath.Join(dir, "a.csv"), filepath.Join(dir, "link.csv")
	say := func(text string) func(io.Writer) error {
		return func(w io.Writer) error {
			_, err := io.WriteString(w, text)
			return err
		}
	}
	if err := Write(path, say("old")); err != nil {
		t.Fatal(err)
	}
	if err := os.Chmod(path, 0o640); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("a.csv", link); err != nil {
		t.Fatal(err)
	}
	broken := errors.New("the power went out")
	err := Write(path, func(w io.Writer) error {
		if err := say("half")(w); err != nil {
			return err
		}
		return broken
	})
	wantFile(t, path, "old")
	if !errors.Is(err, broken) {
		t.Errorf("the error became %v", err)
	}
	if err := Write(link, say("new")); err != nil {
		t.Fatal(err)
	}
	wantFile(t, path, "new")
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link became %v, %v", info, err)
	}
	if info, err := os.Stat(path); err != nil || info.Mode().Perm() != 0o640 {
		t.Errorf("the permissions became %v, %v", info, err)
	}
	if err := Write(filepath.Join(dir, "none", "a.csv"), say("")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a folder that is not there: %v", err)
	}
	if entries, err := os.ReadDir(dir); err != nil || len(entries) != 2 {
		t.Errorf("left behind: %v, %v", entries, err)
	}
}

func wantFile(t *testing.T, path, want string) {
	t.Helper()
	if got, err := os.ReadFile(path); err != nil || string(got) != want {
		t.Errorf("the file holds %q, %v; want %q", got, err, want)
	}
}
