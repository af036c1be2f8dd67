package whole

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"unicode/utf8"
)

// longest is how many bytes of the file's name are in that of its draft: the whole must
// not be longer than any file system allows, of which one that encrypts names takes 143.
const longest = 100

// stem is how names of drafts of a file begin.
func stem(path string) string {
	base := filepath.Base(path)
	if len(base) > longest {
		end := longest
		for end > longest-utf8.UTFMax && !utf8.RuneStart(base[end]) {
			end--
		}
		base = base[:end]
	}
	return "." + base + ".bankwright-"
}

// draftName is the n-th name of a draft of a file by this process.
func draftName(path string, n int) string {
	return filepath.Join(filepath.Dir(path), fmt.Sprintf("%s%d-%d", stem(path), os.Getpid(), n))
}

// named begins a draft that has another name beside the file.
func named(path string) (*draft, error) {
	for n := 0; ; n++ {
		name := draftName(path, n)
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
		switch {
		case errors.Is(err, fs.ErrExist):
			continue
		case err != nil:
			return nil, err
		}
		if !hold(f) || !stands(f, name) { // another run took it for left behind before it was held
			f.Close()
			continue
		}
		return &draft{f, name, func(to string) error { return os.Link(name, to) }}, nil
	}
}

// stands reports whether a name is still that of an open file.
func stands(f *os.File, name string) bool {
	open, err := f.Stat()
	if err != nil {
		return false
	}
	there, err := os.Lstat(name)
	return err == nil && os.SameFile(open, there)
}

// tidy removes drafts of a file whose process was killed. What cannot be removed stays:
// it is not what this run is to do.
func tidy(path string) {
	folder, err := os.Open(filepath.Dir(path))
	if err != nil {
		return
	}
	defer folder.Close()
	names, err := folder.Readdirnames(-1)
	if err != nil {
		return
	}
	for _, name := range names {
		if process, ok := writer(name, path); ok {
			removeLeft(filepath.Join(filepath.Dir(path), name), process)
		}
	}
}

// writer is the process that a draft of a file is of, by the draft's name.
func writer(name, path string) (process int, ok bool) {
	rest, ok := strings.CutPrefix(name, stem(path))
	if !ok {
		return 0, false
	}
	before, after, _ := strings.Cut(rest, "-")
	process, err := strconv.Atoi(before)
	if err == nil {
		_, err = strconv.Atoi(after)
	}
	return process, err == nil
}
