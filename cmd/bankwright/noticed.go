package main

import (
	"io/fs"
	"path/filepath"

	"bankwright/engine"
)

// noteReads lets the files that a scenario is read from be noted: none of them may be
// written over, and whoever waits for them to be saved waits for these. What is built in
// is no file.
func (a *app) noteReads(src *engine.Sources, scenario string) {
	if scenario == "" {
		return
	}
	folder := filepath.Dir(scenario)
	src.Files = &noticed{src.Files, func(name string) {
		path := filepath.Join(folder, filepath.FromSlash(name))
		a.read[path] = true
		if a.watcher != nil {
			a.watcher.note(path)
		}
	}}
}

// noticed is a file system that tells what is opened in it, also what is not there.
type noticed struct {
	fs.FS
	note func(name string)
}

// Open opens a file.
func (n *noticed) Open(name string) (fs.File, error) {
	n.note(name)
	return n.FS.Open(name)
}

// Stat tells about a file, which is noted as well: what cannot be opened may be mended.
func (n *noticed) Stat(name string) (fs.FileInfo, error) {
	n.note(name)
	return fs.Stat(n.FS, name)
}
