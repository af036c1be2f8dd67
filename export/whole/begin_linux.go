package whole

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"golang.org/x/sys/unix"
)

// begin begins a draft that has no name, so that nothing is left of it even where the
// program is killed; one with a name where the file system knows none without.
func begin(path string) (*draft, error) {
	folder := filepath.Dir(path)
	fd, err := unix.Open(folder, unix.O_TMPFILE|unix.O_WRONLY|unix.O_CLOEXEC, 0o600)
	if err != nil {
		return named(path)
	}
	f := os.NewFile(uintptr(fd), path)
	self := fmt.Sprintf("/proc/self/fd/%d", fd)
	if _, err := os.Stat(self); err != nil { // it could not be given a name
		f.Close()
		return named(path)
	}
	return &draft{f, func(path string) error { return name(self, path) }, func() {}}, nil
}

// name gives an open file a name, also in place of another file: then by way of a name
// of its own, for an instant.
func name(self, path string) error {
	link := func(to string) error {
		return unix.Linkat(unix.AT_FDCWD, self, unix.AT_FDCWD, to, unix.AT_SYMLINK_FOLLOW)
	}
	err := link(path)
	if !errors.Is(err, unix.EEXIST) {
		return err
	}
	for i := 0; ; i++ {
		beside := filepath.Join(filepath.Dir(path), fmt.Sprintf(".%s.%d-%d", filepath.Base(path), os.Getpid(), i))
		switch err := link(beside); {
		case errors.Is(err, unix.EEXIST):
			continue
		case err != nil:
			return err
		}
		if err := os.Rename(beside, path); err != nil {
			os.Remove(beside)
			return err
		}
		return nil
	}
}
