// Package whole writes files that are there as a whole or not at all.
package whole

import (
	"errors"
	"fmt"
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
//
// Where a run was killed that had to give its draft a name, the next one that writes the
// same file removes it.
func Write(path string, fill func(io.Writer) error) error {
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	return put(path, fill, (*draft).replace)
}

// New is Write for a file that must not be there yet: if it is, also if it came to be
// there meanwhile, it stays as it is, and the error is fs.ErrExist.
func New(path string, fill func(io.Writer) error) error {
	if _, err := os.Lstat(path); err == nil {
		return fs.ErrExist
	}
	return put(path, fill, (*draft).add)
}

// left is the error of a draft that can be neither named nor removed.
type left struct {
	name string
	why  error
}

func (l left) Error() string {
	return fmt.Sprintf("%s; %s is left beside it, which cannot be removed", l.why, l.name)
}
func (l left) Unwrap() error { return l.why }

// Left is the name of the file that a failed write could not but leave behind, as in a
// folder in which names may be added, but not taken away; "" where it left nothing.
func Left(err error) string {
	var l left
	errors.As(err, &l)
	return l.name
}

// draft is a file that is being written. It has a name where the system knows no files
// without one, or once it has got one.
type draft struct {
	*os.File
	name string
	link func(to string) error // gives it a name that no other file has
}

func put(path string, fill func(io.Writer) error, publish func(d *draft, path string) error) (err error) {
	tidy(path)
	d, err := begin(path)
	if err != nil {
		return bare(err)
	}
	defer func() { // also where fill panics
		d.Close()
		if gone := d.drop(); gone != nil && err != nil {
			err = left{filepath.Base(d.name), err}
		}
	}()
	if err = fill(d); err != nil {
		return bare(err)
	}
	if err = d.Chmod(mode(path)); err != nil {
		return bare(err)
	}
	if err = d.Sync(); err != nil {
		return bare(err)
	}
	return bare(publish(d, path))
}

// bare is an error of the system without a name in it, which would be that of the draft.
func bare(err error) error {
	var at *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &at):
		return at.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}

// drop removes what the draft was called, if it still is.
func (d *draft) drop() error {
	if d.name == "" {
		return nil
	}
	err := os.Remove(d.name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}

// replace gives the draft its name at last, in place of a file that may be there.
func (d *draft) replace(path string) error {
	if d.name == "" {
		err := d.link(path)
		if !errors.Is(err, fs.ErrExist) {
			return err
		}
		if err := d.call(path); err != nil {
			return err
		}
	}
	return d.rename(path)
}

// call gives a draft without a name one of its own, for the instant before it replaces
// another file.
func (d *draft) call(path string) error {
	for n := 0; ; n++ {
		name := draftName(path, n)
		switch err := d.link(name); {
		case errors.Is(err, fs.ErrExist):
			continue
		case err != nil:
			return err
		}
		d.name = name
		return nil
	}
}

func (d *draft) rename(path string) error {
	if closesFirst {
		if err := d.Close(); err != nil {
			return err
		}
	}
	err := os.Rename(d.name, path)
	if err == nil {
		d.name = ""
	}
	return err
}

// add gives the draft its name at last, if no file has it.
func (d *draft) add(path string) error {
	err := d.link(path)
	if err == nil || errors.Is(err, fs.ErrExist) || d.name == "" {
		return err
	}
	if _, err := os.Lstat(path); err == nil { // on a disk on which no file has two names
		return fs.ErrExist
	}
	return d.rename(path)
}

// mode is the permissions of the file that is replaced, or the usual ones.
func mode(path string) os.FileMode {
	if info, err := os.Stat(path); err == nil {
		return info.Mode().Perm()
	}
	return 0o644
}
