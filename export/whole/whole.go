// Package whole writes files that are there as a whole or not at all.
package whole

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// Write lets fill write a file, which takes the place of one that is there when
// fill has returned without an error: until then it stands beside it under another
// name, so that the old file stays whole whatever happens. A link stays a link,
// permissions stay as they were. Errors are those of fill, or of the file without
// its name.
func Write(path string, fill func(io.Writer) error) error {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	err := replace(path, fill)
	var at *fs.PathError // its path would be that of the new file beside it
	if errors.As(err, &at) {
		return at.Err
	}
	return err
}

func replace(path string, fill func(io.Writer) error) (err error) {
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*")
	if err != nil {
		return err
	}
	there := false
	defer func() { // also where fill panics
		if !there {
			f.Close()
			os.Remove(f.Name())
		}
	}()
	if err = fill(f); err != nil {
		return err
	}
	if err = f.Chmod(mode(path)); err != nil {
		return err
	}
	if err = f.Sync(); err != nil {
		return err
	}
	if err = f.Close(); err != nil {
		return err
	}
	err = os.Rename(f.Name(), path)
	there = err == nil
	return err
}

// mode is the permissions of the file that is replaced, or the usual ones.
func mode(path string) os.FileMode {
	if info, err := os.Stat(path); err == nil {
		return info.Mode().Perm()
	}
	return 0o644
}
