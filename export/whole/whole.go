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
// fill has returned without an error: until then it has no name, or where the system
// cannot do that another name beside it, so that the old file stays whole whatever
// happens. A link stays a link, permissions stay as they were. Errors are those of fill,
// or of the file without its name.
func Write(path string, fill func(io.Writer) error) error {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	err := replace(path, fill)
	var at *fs.PathError // its path would be that of the new file beside it
	var link *os.LinkError
	switch {
	case errors.As(err, &at):
		return at.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}

// draft is a file that is being written, and what gives it its name at last.
type draft struct {
	*os.File
	publish func(path string) error
	drop    func()
}

func replace(path string, fill func(io.Writer) error) (err error) {
	f, err := begin(path)
	if err != nil {
		return err
	}
	there := false
	defer func() { // also where fill panics
		if f.Close(); !there {
			f.drop()
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
	err = f.publish(path)
	there = err == nil
	return err
}

// named begins a draft that has another name beside the file.
func named(path string) (*draft, error) {
	f, err := os.CreateTemp(filepath.Dir(path), pattern(path))
	if err != nil {
		return nil, err
	}
	publish := func(path string) error {
		if err := f.Close(); err != nil { // some systems rename no open file
			return err
		}
		return os.Rename(f.Name(), path)
	}
	return &draft{f, publish, func() { os.Remove(f.Name()) }}, nil
}

// pattern is how the name of a draft begins.
func pattern(path string) string { return "." + filepath.Base(path) + ".*" }

// mode is the permissions of the file that is replaced, or the usual ones.
func mode(path string) os.FileMode {
	if info, err := os.Stat(path); err == nil {
		return info.Mode().Perm()
	}
	return 0o644
}
