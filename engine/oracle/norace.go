//go:build !race

package oracle

// Raced is whether the program was built with the race detector.
const Raced = false
