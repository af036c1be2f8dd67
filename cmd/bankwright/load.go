package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"golang.org/x/term"

	"bankwright/engine"
	"bankwright/engine/decl"
	"bankwright/engine/diag"
	"bankwright/engine/unit"
	"bankwright/export/picture"
	"bankwright/export/text"
	"bankwright/rules"
	"bankwright/scenarios"
)

// sources are the embedded example, or a scenario file with the standard rules.
func sources(file string) engine.Sources {
	if file == "" {
		return engine.Sources{Files: scenarios.Files, Scenario: scenarios.Default, Standard: rules.Files, Symbols: picture.Symbols()}
	}
	folder := filepath.Dir(file)
	src := engine.Sources{Files: &folderFiles{folder, filepath.Base(file)}, Scenario: filepath.Base(file), Standard: rules.Files, Symbols: picture.Symbols()}
	if folder != "." {
		src.Folder = folder
	}
	return src
}

// load reads a scenario and tells its faults and warnings, those of recordings in
// short.
func (a *app) load(file string) (*engine.Model, error) { return a.loadFrom(sources(file), file) }

// loadFrom is load from given sources.
func (a *app) loadFrom(src engine.Sources, file string) (*engine.Model, error) {
	if err := notWorkbook(file); err != nil {
		return nil, err
	}
	a.noteReads(&src, file)
	m, list, files := engine.Load(src)
	more := "bankwright check"
	if file != "" {
		more += " " + quoted(file)
	}
	a.tell(engine.Brief(list, files, "All of it is told by "+more+"."), files)
	if m == nil {
		return nil, errFailed
	}
	return m, nil
}

// loadInFull is load, but tells all warnings of recordings, and returns how many warnings
// there are.
func (a *app) loadInFull(file string) (m *engine.Model, warnings int, err error) {
	if err := notWorkbook(file); err != nil {
		return nil, 0, err
	}
	m, list, files := engine.Load(sources(file))
	a.tell(list, files)
	if m == nil {
		return nil, 0, errFailed
	}
	return m, len(list), nil // what is no warning is a fault, with which there is no model
}

// notWorkbook refuses a workbook in the place of a scenario, and says what reads it.
func notWorkbook(file string) error {
	if !strings.EqualFold(filepath.Ext(file), ".xlsx") {
		return nil
	}
	if info, err := os.Stat(file); err != nil || !info.Mode().IsRegular() {
		return nil // which is told where it is read
	}
	f, err := os.Open(file)
	if err != nil {
		return nil
	}
	defer f.Close()
	start := make([]byte, 2)
	if n, err := f.Read(start); err != nil || string(start[:n]) != "PK" { // what ZIP files begin with
		return nil
	}
	return fmt.Errorf("%s is a workbook, not a scenario; what was changed in it is read by bankwright readback %s", file, quoted(file))
}

// tell writes diagnostics to standard error.
func (a *app) tell(list diag.List, files []*decl.File) {
	diag.Write(a.err, engine.Told(list), func(name string) []byte {
		for _, f := range files {
			if f.Name == name {
				return f.Text
			}
		}
		return nil
	}, colored(a.err), columns(a.err))
}

// style is how to write to standard output: the terminal's width, at least 40
// and 80 where there is no terminal.
func (a *app) style() text.Style {
	st := text.Style{Width: 80, Color: colored(a.out.to), Blocks: true}
	if n := columns(a.out.to); n > 0 {
		st.Width, st.Blocks = max(40, min(n, 120)), text.ShowsBlocks(os.Getenv)
	}
	return st
}

// columns is how wide a terminal is, 0 where w is none.
func columns(w any) int {
	if f, ok := w.(*os.File); ok {
		if n, _, err := term.GetSize(int(f.Fd())); err == nil && n > 0 {
			return n
		}
	}
	return 0
}

// say writes a sentence to standard error, wrapped where that is a terminal; elsewhere it
// is one line.
func (a *app) say(format string, args ...any) {
	s := fmt.Sprintf(format, args...)
	if n := columns(a.err); n > 0 {
		s = strings.Join(diag.Wrap(s, max(20, n-2), 0), "\n  ")
	}
	fmt.Fprintln(a.err, s)
}

// colored reports whether w is a terminal and colour is welcome
// (the NO_COLOR convention: any value of the variable turns colour off).
func colored(w any) bool {
	f, ok := w.(*os.File)
	return ok && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb" && term.IsTerminal(int(f.Fd()))
}

// optional is the argument at a place, or nothing.
func optional(args []string, i int) string {
	if i < len(args) {
		return args[i]
	}
	return ""
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return unit.Format(float64(n), 0) + " " + many
}
