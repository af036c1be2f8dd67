//go:build linux || darwin || freebsd || netbsd || openbsd || dragonfly

package whole

import (
	"os"
	"syscall"
)

// closesFirst is whether a file must be closed before it is renamed.
const closesFirst = false

// hold locks a draft, by which other runs, also on other machines that share the disk,
// see that somebody writes it. The lock ends with the process, whatever ends it. It is
// false where another run has the lock, and so is about to remove the draft.
func hold(f *os.File) bool {
	return syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB) != syscall.EWOULDBLOCK
}

// removeLeft removes a draft that nobody writes any more: one whose lock can be had.
func removeLeft(name string, _ int) {
	f, err := os.OpenFile(name, os.O_WRONLY|syscall.O_NOFOLLOW|syscall.O_NONBLOCK, 0)
	if err != nil {
		return
	}
	defer f.Close()
	if syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB) == nil && stands(f, name) {
		os.Remove(name)
	}
}
