//go:build !unix

package oracle

import "time"

var begin = time.Now()

// Processor is the time of day, where processor time cannot be had in a simple way.
func Processor() time.Duration { return time.Since(begin) }
