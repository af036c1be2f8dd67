//go:build !(linux || darwin || freebsd || netbsd || openbsd || dragonfly)

package whole

import "os"

// closesFirst is whether a file must be closed before it is renamed.
const closesFirst = true

// hold has nothing to do: the process of a draft stands in its name.
func hold(*os.File) bool { return true }

// removeLeft removes a draft whose process has ended.
func removeLeft(name string, process int) {
	if p, err := os.FindProcess(process); err == nil {
		p.Release()
		return
	}
	os.Remove(name)
}
