//go:build unix

package oracle

import (
	"syscall"
	"time"
)

// Processor is the processor time that this process has used, all of its threads
// together. Unlike the time of day it does not depend on what else runs.
func Processor() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		panic(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
