package main

import (
	"errors"
	"io"
	"io/fs"
	"runtime"
	"syscall"
)

// output passes on what is written and remembers the first failure, so that a
// result that is not written in full never ends as if all were well.
type output struct {
	to  io.Writer
	err error
}

func (o *output) Write(p []byte) (int, error) {
	if o.err != nil {
		return 0, o.err
	}
	n, err := o.to.Write(p)
	o.err = err
	return n, err
}

// readerLeft reports whether writing ended because whoever reads has had enough,
// as `bankwright rules | head` has. That is no failure.
func (o *output) readerLeft() bool {
	var number syscall.Errno
	if runtime.GOOS == "windows" && errors.As(o.err, &number) {
		return number == 109 || number == 232 // ERROR_BROKEN_PIPE, ERROR_NO_DATA of Windows' system error codes
	}
	return errors.Is(o.err, syscall.EPIPE)
}

// reason says why a file or a stream cannot be written.
func reason(err error) string {
	var number syscall.Errno
	switch {
	case errors.Is(err, fs.ErrPermission):
		return "you may not write there"
	case errors.Is(err, syscall.ENOSPC):
		return "there is no room left"
	case errors.Is(err, syscall.EROFS):
		return "nothing can be written to that disk"
	case errors.Is(err, syscall.ENAMETOOLONG):
		return "the name is too long"
	case errors.Is(err, fs.ErrNotExist):
		return "no file can be made in that folder"
	case errors.As(err, &number):
		return number.Error() // the system's own words
	}
	return err.Error()
}
