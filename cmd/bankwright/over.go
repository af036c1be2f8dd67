package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"bankwright/engine/schema"
	"bankwright/export/gridfile"
	"bankwright/export/picture"
	"bankwright/export/xlsx"
)

// mayWrite refuses what cannot be meant: a folder that is not there, a folder or a
// device in place of a file, the scenario itself or a file that it was read from, a file
// that is protected, a link out of its folder.
func (a *app) mayWrite(path, scenario string) error {
	folder := filepath.Dir(path)
	if info, err := os.Stat(folder); err != nil || !info.IsDir() {
		return fmt.Errorf("there is no folder %s; make it first, or write elsewhere", folder)
	}
	info, err := os.Stat(path)
	if err != nil {
		if _, err := os.Lstat(path); err == nil {
			return fmt.Errorf("%s is a link that leads to no file; write to another file", path)
		}
		return nil
	}
	if info.IsDir() {
		return fmt.Errorf("%s is a folder; name a file in it", path)
	}
	if !info.Mode().IsRegular() { // reading it might never end, and replacing it would destroy it
		return fmt.Errorf("%s is a device or a pipe; write to a file", path)
	}
	if read, err := os.Stat(scenario); err == nil && os.SameFile(info, read) {
		return fmt.Errorf("%s is the scenario itself; name another file with -o", path)
	}
	for name := range a.read {
		if read, err := os.Stat(name); err == nil && os.SameFile(info, read) {
			return fmt.Errorf("%s is what the scenario was read from; write to another file", path)
		}
	}
	if inner, there := (&folderFiles{folder, ""}).inner(filepath.Base(path)); there && inner == "" {
		return fmt.Errorf("%s is a link out of its folder; write to another file", path)
	}
	return unprotected(path, info)
}

// unprotected refuses a file that may not be written. It could be replaced where its
// folder may be written, but that is not what its owner meant.
func unprotected(path string, info fs.FileInfo) error {
	protected := fmt.Errorf("%s is there already and may not be overwritten; write to another file", path)
	if info.Mode().Perm()&0o222 == 0 { // which does not bind the superuser
		return protected
	}
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	switch {
	case errors.Is(err, fs.ErrPermission):
		return protected
	case err != nil:
		return unwritten(path, err)
	}
	return f.Close()
}

// whose tells of a file that is there whether it is ours, as we wrote it, and where it is
// not, what is to be said of that.
type whose func(path string) (ours bool, said string, err error)

// mayReplace is mayWrite for a file that is replaced where it is ours, or where that is
// forced: what somebody has worked on stays, and so do files of others. What this run has
// written may be written again.
func (a *app) mayReplace(path, scenario string, force bool, whose whose) error {
	if err := a.mayWrite(path, scenario); err != nil || force {
		return err
	}
	if _, err := os.Lstat(path); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if left, ok := a.wrote[path]; ok && left == stampOf(path) {
		return nil
	}
	ours, said, err := whose(path)
	switch {
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s is there already and may not be opened; write to another file", path)
	case err != nil:
		return unwritten(path, err)
	case !ours:
		return fmt.Errorf("%s %s; it stays as it is\nWrite to another file, or overwrite it with --force", path, said)
	}
	return nil
}

// oursBook knows a workbook by its seal.
func oursBook(path string) (bool, string, error) {
	changed, err := xlsx.Changed(path)
	return !changed, "was changed since it was written, or is not a workbook of ours", err
}

// mostPicture is how large a picture may be that is looked at, in bytes.
const mostPicture = 1 << 28

// oursPicture knows a picture by its seal.
func oursPicture(f picture.Format) whose {
	return func(path string) (bool, string, error) {
		const said = "was changed since it was written, or is not a picture of ours"
		if info, err := os.Stat(path); err != nil || info.Size() > mostPicture {
			return false, said, err
		}
		data, err := os.ReadFile(path)
		return picture.Sealed(data, f), said, err
	}
}

// oursPoints knows points by the names of their columns or their maker, and a workbook of
// points not at all: somebody may have worked in it.
func oursPoints(f gridfile.Format) whose {
	return func(path string) (bool, string, error) {
		file, err := os.Open(path)
		if err != nil {
			return false, "", err
		}
		defer file.Close()
		info, err := file.Stat()
		if err != nil {
			return false, "", err
		}
		said := "is there already and not plainly a file of ours"
		if f == gridfile.XLSX {
			said = "is there already and may have been worked on"
		}
		return gridfile.Ours(file, info.Size(), f), said, nil
	}
}

// oursSchema knows a schema by its title.
func oursSchema(path string) (bool, string, error) {
	file, err := os.Open(path)
	if err != nil {
		return false, "", err
	}
	defer file.Close()
	start := make([]byte, 1<<12)
	n, _ := file.Read(start)
	return strings.Contains(string(start[:n]), `"title": "`+schema.Title+`"`), "is there already and not a schema of ours", nil
}
