//go:build unix

package recording_test

import (
	"syscall"
	"time"
)

// used is the processor time that the program has used, all of its threads
// together. Unlike the time of day it does not depend on what else runs.
func used() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
