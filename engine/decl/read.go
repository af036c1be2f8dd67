package decl

import (
	"bytes"
	"cmp"
	"errors"
	"io"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"syscall"

	"bankwright/engine/diag"
)

// Limits on what one scenario may draw in.
const (
	maxFiles    = 200
	maxTogether = 16 << 20 // bytes, of all files that others name
)

// open reads and parses a file; shown is its name for people. It is nil where
// that fails, and says so at the place that names the file, if there is one.
func (l *loader) open(files fs.FS, name, shown string, rules bool, by *node) *node {
	at, written := diag.Pos{File: shown}, shown
	if by != nil {
		at, written = by.at, by.text
	}
	data, err := readFile(files, name)
	if err != nil {
		l.unread = true
		l.diags.Errorf(at, "file", fileMend(err, files, name, written), "the file `%s` cannot be read: %s", shown, fileFault(err))
		return nil
	}
	if by != nil {
		l.bytes += len(data)
	}
	if l.bytes > maxTogether {
		if l.unread = true; l.bytes-len(data) <= maxTogether { // told once
			l.diags.Errorf(at, "limit", "Leave out what is not needed.", "the files have more than 16 MB together")
		}
		return nil
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	l.model.Files = append(l.model.Files, &File{Name: shown, Text: data, Rules: rules})
	root := parseFile(shown, data, rules && by == nil, l.diags) // the standard rules are named by no file
	if root == nil {
		l.unread = true
	}
	return root
}

// shown is the name for people of a file of the scenario's.
func (l *loader) shown(name string) string {
	shown := name
	if l.src.Folder != "" {
		shown = filepath.Join(l.src.Folder, filepath.FromSlash(name))
	}
	l.paths[shown] = name
	return shown
}

// readFile reads at most one byte more than a file may hold.
func readFile(files fs.FS, name string) ([]byte, error) {
	f, size, err := openFile(files, name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var b bytes.Buffer
	b.Grow(int(min(max(size, 0), maxFileSize)) + bytes.MinRead)
	_, err = b.ReadFrom(io.LimitReader(f, maxFileSize+1))
	return b.Bytes(), err
}

// openFile opens what is a file, and tells its size. Anything else is refused before
// it is opened: a pipe might have to be waited for without end, and a device never ends.
func openFile(files fs.FS, name string) (fs.File, int64, error) {
	if files == nil {
		return nil, 0, fs.ErrNotExist
	}
	info, err := fs.Stat(files, name)
	switch {
	case err != nil:
		return nil, 0, err
	case info.IsDir():
		return nil, 0, errFolder
	case !info.Mode().IsRegular():
		return nil, 0, errDevice
	}
	f, err := files.Open(name)
	return f, info.Size(), err
}

var (
	errFolder = errors.New("it is a folder")
	errDevice = errors.New("it is a device or a pipe")
)

// ErrOutside says of a file that links lead out of the folder of the files; a file
// system that follows none of these gives it.
var ErrOutside = errors.New("a link leads out of the folder")

func fileFault(err error) string {
	switch {
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, fs.ErrInvalid), errors.Is(err, syscall.ENOTDIR):
		return "there is no such file"
	case errors.Is(err, fs.ErrPermission):
		return "it may not be opened"
	case errors.Is(err, errFolder):
		return "it is a folder"
	case errors.Is(err, errDevice):
		return "it is a device or a pipe"
	case errors.Is(err, ErrOutside):
		return "a link leads out of the folder"
	}
	return "reading fails"
}

// fileMend is what to do about a file that cannot be read: where there is none of
// that name, the nearest one of its folder is named, and of a folder what is in it;
// written is how it was called.
func fileMend(err error, files fs.FS, name, written string) string {
	switch {
	case errors.Is(err, fs.ErrPermission):
		return "Change its permissions."
	case errors.Is(err, errDevice):
		return "Save what it gives to a file, and name that."
	case errors.Is(err, ErrOutside):
		return "Put the file itself into the scenario's folder or below it."
	case errors.Is(err, errFolder):
		if found := listed(files, name, ".toml"); len(found) > 0 {
			return "Name a file in it, such as `" + filepath.Join(written, found[0]) + "`."
		}
		return "Name a file in it."
	}
	base := path.Base(name)
	found := listed(files, path.Dir(name), cmp.Or(path.Ext(base), ".toml"))
	found = slices.DeleteFunc(found, func(name string) bool { return name == base }) // it is there, and cannot be read
	if slices.Contains(found, base+".toml") {
		return "Did you mean `" + written + ".toml`?"
	}
	stems := make([]string, len(found))
	for i, name := range found {
		stems[i] = strings.TrimSuffix(name, path.Ext(name))
	}
	if near := diag.Nearest(strings.TrimSuffix(base, path.Ext(base)), stems); near != "" {
		return "Did you mean `" + filepath.Join(filepath.Dir(written), found[slices.Index(stems, near)]) + "`?"
	}
	if len(found) > 0 && len(found) <= 6 {
		return "Check the name and the folder; there " + areOrIs(found) + "."
	}
	return "Check the name and the folder."
}

// areOrIs says which files there are.
func areOrIs(names []string) string {
	if len(names) == 1 {
		return "is only `" + names[0] + "`"
	}
	return "are `" + strings.Join(names, "`, `") + "`"
}

// listed are the files of a folder with an ending, by name.
func listed(files fs.FS, folder, ending string) []string {
	if files == nil {
		return nil
	}
	entries, err := fs.ReadDir(files, folder)
	if err != nil {
		return nil
	}
	var out []string
	for _, e := range entries {
		if !e.IsDir() && path.Ext(e.Name()) == ending && len(out) < maxFiles {
			out = append(out, e.Name())
		}
	}
	return out
}

// readStandard reads the standard rules.
func (l *loader) readStandard() {
	if l.src.Standard == nil {
		return
	}
	fs.WalkDir(l.src.Standard, ".", func(name string, entry fs.DirEntry, err error) error {
		shown := path.Join("rules", name)
		switch {
		case err != nil:
			l.unread = true
			l.diags.Errorf(diag.Pos{File: shown}, "file", fileMend(err, l.src.Standard, name, name), "`%s` cannot be read: %s", shown, fileFault(err))
		case !entry.IsDir() && path.Ext(name) == ".toml":
			if root := l.open(l.src.Standard, name, shown, true, nil); root != nil {
				l.rules = append(l.rules, &ruleSet{root: root})
			}
		}
		return nil
	})
}

// include reads the files that a key of a document lists, and what they
// include in turn. Each must lie in the document's folder or below it.
func (l *loader) include(doc *node, key string) {
	file := l.paths[doc.at.File]
	f := fields{l: l, n: doc}
	for _, n := range f.texts(key, false) {
		name, ok := l.inside(n, path.Dir(file))
		if !ok {
			continue
		}
		if len(l.seen) >= maxFiles {
			l.diags.Errorf(n.at, "limit", "Join some of them.", "more than %d files are included", maxFiles)
			return
		}
		l.seen[name] = n.at
		if key == "rule_files" {
			if root := l.open(l.src.Files, name, l.shown(name), true, n); root != nil {
				l.rules = append(l.rules, &ruleSet{root: root})
			}
			continue
		}
		if root := l.open(l.src.Files, name, l.shown(name), false, n); root != nil {
			l.lists = append(l.lists, root)
			l.include(root, key)
		}
	}
}

// inside is the path of a file to be included that a document of a folder names.
// It is refused where it leaves the folder or was named before.
func (l *loader) inside(n *node, folder string) (string, bool) {
	name, ok := l.below(n, folder)
	if !ok {
		return "", false
	}
	if name == path.Clean(l.src.Scenario) {
		l.diags.Errorf(n.at, "include", "Leave it out.", "`%s` is the scenario itself", n.text)
		return "", false
	}
	if first, again := l.seen[name]; again {
		l.again(n, name, first)
		return "", false
	}
	return name, true
}

// below is the path of a file that a document of a folder names. It is refused
// where it leaves the folder.
func (l *loader) below(n *node, folder string) (string, bool) {
	text := n.text
	mend := "Put the file into the scenario's folder or below it, and name it from there."
	switch {
	case n.bad:
		return "", false
	case strings.Contains(text, `\`):
		l.diags.Errorf(n.at, "include", "Write / between folders.", "`%s` is not the name of a file", shorten(text, 60))
		return "", false
	case path.IsAbs(text), len(text) > 1 && text[1] == ':':
		l.diags.Errorf(n.at, "include", mend, "`%s` is not named from the scenario's folder", shorten(text, 60))
		return "", false
	case strings.HasPrefix(path.Clean("./"+text), ".."), strings.Contains("/"+text+"/", "/../"):
		l.diags.Errorf(n.at, "include", mend, "`%s` leaves the scenario's folder", shorten(text, 60))
		return "", false
	}
	name := path.Join(folder, text)
	if text == "" || !fs.ValidPath(name) || name == path.Clean(folder) {
		l.diags.Errorf(n.at, "include", mend, "`%s` is not the name of a file", shorten(text, 60))
		return "", false
	}
	return name, true
}

// again reports a file that is named twice: a loop where it is being read.
func (l *loader) again(n *node, name string, first diag.Pos) {
	summary := "`" + name + "` is already included at " + placed(first, n.at)
	if l.within(l.paths[n.at.File], name) {
		summary = "`" + name + "` includes itself"
		if l.paths[n.at.File] != name {
			summary += " by way of `" + n.at.File + "`"
		}
	}
	l.diags.Add(diag.Diagnostic{Code: "include", At: n.at, Summary: summary, Mend: "Leave it out.",
		Related: []diag.Related{{At: first, Text: "included here"}}})
}

// within reports whether a file was drawn in by another, or is that other.
func (l *loader) within(file, other string) bool {
	for range maxFiles {
		if file == other {
			return true
		}
		by, ok := l.seen[file]
		if !ok {
			return false
		}
		file = l.paths[by.File]
	}
	return false
}
