//go:build unix

package main

import (
	"os"
	"syscall"
)

// toldWhenWriting are signals that say no more than the write does which they come with:
// that a reader has had enough, that a file may not grow further.
var toldWhenWriting = []os.Signal{syscall.SIGPIPE, syscall.SIGXFSZ}
