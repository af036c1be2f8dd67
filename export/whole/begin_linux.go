package whole

import (
	"fmt"
	"os"
	"path/filepath"

	"golang.org/x/sys/unix"
)

// alwaysNamed lets tests have drafts with names where there may be some without.
var alwaysNamed = false

// begin begins a draft that has no name, so that nothing is left of it even where the
// program is killed; one with a name where the file system knows none without.
func begin(path string) (*draft, error) {
	if alwaysNamed {
		return named(path)
	}
	fd, err := unix.Open(filepath.Dir(path), unix.O_TMPFILE|unix.O_WRONLY|unix.O_CLOEXEC, 0o600)
	if err != nil {
		return named(path)
	}
	f := os.NewFile(uintptr(fd), path)
	self := fmt.Sprintf("/proc/self/fd/%d", fd)
	if _, err := os.Stat(self); err != nil { // it could not be given a name
		f.Close()
		return named(path)
	}
	hold(f) // for the instant in which it may have a name of its own
	return &draft{f, "", func(to string) error {
		return unix.Linkat(unix.AT_FDCWD, self, unix.AT_FDCWD, to, unix.AT_SYMLINK_FOLLOW)
	}}, nil
}
