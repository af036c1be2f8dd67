//go:build !unix

package recording_test

import "time"

var begin = time.Now()

// used is the time of day, where processor time cannot be had in a simple way.
func used() time.Duration { return time.Since(begin) }
