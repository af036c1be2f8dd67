package engine_test

import (
	"errors"
	"io"
	"io/fs"
	"strings"
	"testing"

	"bankwright/engine"
)

// failing are files of which one vanishes between two looks at it, or breaks while it is
// read, as on a drive that is pulled out.
type failing struct {
	fs.FS
	name  string
	opens int // how often it can be opened
	bytes int // how many of its bytes can be read
}

// Stat tells about a file, as long as it is there.
func (f *failing) Stat(name string) (fs.FileInfo, error) { return fs.Stat(f.FS, name) }

// Open opens a file.
func (f *failing) Open(name string) (fs.File, error) {
	file, err := f.FS.Open(name)
	if name != f.name || err != nil {
		return file, err
	}
	if f.opens--; f.opens < 0 {
		file.Close()
		return nil, &fs.PathError{Op: "open", Path: name, Err: fs.ErrNotExist}
	}
	return &broken{file, f.bytes}, nil
}

// broken is a file that cannot be read to its end.
type broken struct {
	fs.File
	left int
}

// Read reads what can be read.
func (b *broken) Read(p []byte) (int, error) {
	if b.left == 0 {
		return 0, errors.New("input/output error")
	}
	n, err := b.File.Read(p[:min(len(p), b.left)])
	if b.left -= n; err == io.EOF {
		err = nil
	}
	return n, err
}

// TestVanishing: a file that is gone, or breaks off, when it is read is a fault of the
// scenario, told once; nothing is computed from the half of it.
func TestVanishing(t *testing.T) {
	for _, c := range []struct {
		what, name   string
		opens, bytes int
		want         string
	}{
		{"a scenario that vanishes", "a/s.toml", 0, 0, "the file `a/s.toml` cannot be read: there is no such file"},
		{"a scenario that breaks off", "a/s.toml", 9, 300, "the file `a/s.toml` cannot be read: reading fails"},
		{"a scenario of which nothing can be read", "a/s.toml", 9, 0, "the file `a/s.toml` cannot be read: reading fails"},
		{"a recording that vanishes", "a/logs/old.csv", 0, 0, "the file `a/logs/old.csv` cannot be read: there is no such file"},
		{"a recording that vanishes before it is read", "a/logs/old.csv", 1, 0, "the recording cannot be opened"},
		{"a recording of which nothing can be read", "a/logs/old.csv", 9, 0, "a/logs/old.csv"},
		{"a recording that breaks off", "a/logs/old.csv", 9, 40, "a/logs/old.csv"},
	} {
		m, list, _ := engine.Load(engine.Sources{Files: &failing{stoveFiles(stoves).MapFS, c.name, c.opens, c.bytes}, Scenario: "a/s.toml"})
		var told []string
		for _, d := range list {
			told = append(told, d.At.File+": "+d.Summary)
			if d.Mend == "" {
				t.Errorf("%s: no mend: %s", c.what, d.Summary)
			}
		}
		all := strings.Join(told, "\n")
		if m != nil || strings.Count(all, c.want) != 1 {
			t.Errorf("%s: %s\nwant %s", c.what, all, c.want)
		}
	}
}
