package main

import (
	"bytes"
	"io/fs"
	"time"
)

// overlay are files of which one has another text, or is there in addition.
type overlay struct {
	fs.FS
	name string
	text []byte
}

// Open opens a file.
func (o overlay) Open(name string) (fs.File, error) {
	if name == o.name {
		return &textFile{bytes.NewReader(o.text), o.name}, nil
	}
	return o.FS.Open(name)
}

// Stat tells about a file.
func (o overlay) Stat(name string) (fs.FileInfo, error) {
	if name == o.name {
		return &textFile{bytes.NewReader(o.text), o.name}, nil
	}
	return fs.Stat(o.FS, name)
}

// textFile is a text as a file.
type textFile struct {
	*bytes.Reader
	name string
}

func (f *textFile) Stat() (fs.FileInfo, error) { return f, nil }
func (f *textFile) Close() error               { return nil }
func (f *textFile) Name() string               { return f.name }
func (f *textFile) Mode() fs.FileMode          { return 0o444 }
func (f *textFile) ModTime() time.Time         { return time.Time{} }
func (f *textFile) IsDir() bool                { return false }
func (f *textFile) Sys() any                   { return nil }
