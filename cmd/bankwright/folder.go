package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"bankwright/engine/decl"
)

// folderFiles are the files of a folder and below it. Links within it are followed; one
// that leads out of it is not, whoever sent the folder: what is read goes into workbooks.
// The scenario alone may be such a link, since whoever runs the program has named it.
type folderFiles struct{ folder, named string }

// Open opens a file.
func (f *folderFiles) Open(name string) (file fs.File, err error) {
	err = f.in(name, func(files fs.FS, name string) error {
		file, err = files.Open(name)
		return err
	})
	return file, err
}

// Stat tells about a file.
func (f *folderFiles) Stat(name string) (info fs.FileInfo, err error) {
	err = f.in(name, func(files fs.FS, name string) error {
		info, err = fs.Stat(files, name)
		return err
	})
	return info, err
}

// in does something with a file in the folder, and tells where links lead out of it.
func (f *folderFiles) in(name string, do func(fs.FS, string) error) error {
	if name == f.named {
		return do(os.DirFS(f.folder), name)
	}
	root, err := os.OpenRoot(f.folder)
	if err != nil {
		return err
	}
	defer root.Close()
	err = do(root.FS(), name)
	if err == nil || errors.Is(err, fs.ErrNotExist) || errors.Is(err, fs.ErrInvalid) {
		return err
	}
	inner, there := f.inner(name)
	switch {
	case !there:
		return err
	case inner == "":
		return &fs.PathError{Op: "open", Path: name, Err: decl.ErrOutside}
	}
	return do(root.FS(), inner) // a link that names the folder from the root of all
}

// inner is where in the folder a file lies in the end, whatever links lead to it: empty
// where it lies outside. It may not be there at all.
func (f *folderFiles) inner(name string) (inner string, there bool) {
	var whole [2]string
	for i, path := range []string{f.folder, filepath.Join(f.folder, filepath.FromSlash(name))} {
		path, err := filepath.Abs(path)
		if err == nil {
			path, err = filepath.EvalSymlinks(path)
		}
		if err != nil {
			return "", false
		}
		whole[i] = path
	}
	inner, err := filepath.Rel(whole[0], whole[1])
	if err != nil || !filepath.IsLocal(inner) {
		return "", true
	}
	return filepath.ToSlash(inner), true
}
