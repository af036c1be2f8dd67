//go:build !linux

package whole

// begin begins a draft that has another name beside the file.
func begin(path string) (*draft, error) { return named(path) }
