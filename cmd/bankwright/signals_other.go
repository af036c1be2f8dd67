//go:build !unix

package main

import (
	"os"
	"syscall"
)

// toldWhenWriting are signals that say no more than the write does which they come with.
var toldWhenWriting = []os.Signal{syscall.SIGPIPE}
