package main

import (
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"bankwright/engine"
	"bankwright/engine/decl"
	"bankwright/engine/diag"
	"bankwright/export"
	"bankwright/export/text"
	"bankwright/export/xlsx"
	"bankwright/scenarios"
)

func (a *app) readback() *cobra.Command {
	output := ""
	cmd := &cobra.Command{
		Use:   "readback BOOK.xlsx [FILE]",
		Short: "read what a client changed in the inputs of a workbook",
		Long: "Reads the inputs of a workbook that was changed in a spreadsheet program and\n" +
			"lists what is other than in its scenario: the input, the value before and now,\n" +
			"and the cell. What the rules do not allow is told with its cell and the mend,\n" +
			"and so is what was changed besides inputs. FILE is the scenario that the\n" +
			"workbook was written from; without it, the one that the workbook names, beside\n" +
			"it, in this folder, or built in. With -o a scenario is written that has the\n" +
			"changed inputs and is otherwise as the old one, comments and all.",
		Example: "  bankwright book cabin.toml\n" +
			"  bankwright readback cabin.xlsx\n" +
			"  bankwright readback cabin.xlsx cabin.toml -o as_returned.toml",
		Args:              bookAndFile,
		ValidArgsFunction: booksAndScenarios,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := noEmptyFlag(cmd, "output"); err != nil {
				return err
			}
			if a.json && output == "-" {
				return usagef("--json and -o - both go to standard output; name a file")
			}
			if output != "" && output != "-" && filepath.Ext(output) != ".toml" {
				return usagef("a scenario's name ends in .toml; write -o %s", quoted(withoutEnding(output)+".toml"))
			}
			return a.readBack(args[0], optional(args, 1), output)
		},
	}
	cmd.Flags().StringVarP(&output, "output", "o", "", "write the returned scenario to `OUT.toml` (-: print it)")
	flagValues(cmd, map[string]completes{"output": files("toml")})
	a.jsonFlag(cmd)
	return cmd
}

// bookAndFile takes a workbook, and behind it a scenario.
func bookAndFile(cmd *cobra.Command, args []string) error {
	switch {
	case len(args) == 0:
		return usagef("%s needs the name of a workbook, such as %s cabin.xlsx", cmd.Name(), cmd.CommandPath())
	case len(args) > 2:
		return usagef("%s takes a workbook and a scenario, but %d files are given; %s", cmd.Name(), len(args), seeHelp(cmd))
	case isScenario(args[0]):
		return usagef("the workbook stands first: %s BOOK.xlsx %s", cmd.CommandPath(), quoted(args[0]))
	}
	return noneEmpty(cmd, args)
}

// readBack reads a workbook and tells what it changes; output is where the scenario
// is written to that has these changes, "" for nowhere.
func (a *app) readBack(book, file, output string) error {
	f, err := xlsx.Open(book)
	if err != nil {
		return fmt.Errorf("%s %w", book, err)
	}
	defer f.Close()
	origin, err := export.OriginOf(f)
	if err != nil {
		return fmt.Errorf("%s %w", book, err)
	}
	m, src, err := a.scenarioOf(book, file, origin)
	if err != nil {
		return err
	}
	var found *engine.Studies
	if export.HasStudies(f) { // what the workbook says of them is held against what they find
		if found, err = a.declared(m); err != nil {
			return err
		}
	}
	read, list := export.ReadBack(m, found, f, book)
	a.tell(append(otherOrigin(book, origin, m), list...), m.Model.Files)
	if list.HasErrors() {
		if !a.json && len(read.Changes) > 0 {
			text.Changes(a.out, changesOf(read), a.style())
		}
		return errFailed
	}
	a.tellUnusual(book, m, src, read)
	if err := a.tellChanges(book, m, read, output); err != nil || output == "" {
		return err
	}
	return a.writeReturned(book, m, src, read, output)
}

// tellUnusual warns of what a scenario with the changes of a workbook computes that is
// unusual, and was not before. What is unusual of an input itself was told at its cell.
func (a *app) tellUnusual(book string, m *engine.Model, src engine.Sources, read *export.Readback) {
	if len(read.Revisions) == 0 {
		return
	}
	revised := m.Model.Revise(read.Revisions, map[string]bool{}, &diag.List{})
	if revised == nil {
		return // told where it is written
	}
	_, before, _ := engine.Load(src)
	_, after, _ := engine.Load(with(src, revised))
	var list diag.List
	for _, d := range after {
		was := slices.ContainsFunc(before, func(b diag.Diagnostic) bool { return b.Summary == d.Summary })
		if d.Code == "unusual" && !was && strings.Contains(d.Summary, " comes to ") {
			list.Warnf(diag.Pos{File: book}, d.Code, d.Mend, "%s", d.Summary)
		}
	}
	a.tell(list, nil)
}

// tellChanges lists what changed; beside a scenario on standard output that is told
// on standard error.
func (a *app) tellChanges(book string, m *engine.Model, read *export.Readback, output string) error {
	if a.json {
		return export.ReadbackJSON(a.out, m, filepath.Base(book), read.Changes)
	}
	var to io.Writer = a.out
	if output == "-" {
		to = a.err
	}
	text.Changes(to, changesOf(read), a.style())
	return nil
}

func changesOf(read *export.Readback) (out []text.Change) {
	for _, c := range read.Changes {
		out = append(out, text.Change(c))
	}
	return out
}

// scenarioOf reads the scenario that a workbook was written from: the file that is
// named, or the first of that name that has the digest of the workbook, or the first
// that is there.
func (a *app) scenarioOf(book, file string, origin export.Origin) (*engine.Model, engine.Sources, error) {
	if file != "" {
		src := sources(file)
		m, err := a.loadFrom(src, file)
		return m, src, err
	}
	var candidates []string
	for _, path := range []string{filepath.Join(filepath.Dir(book), origin.File), origin.File} {
		if info, err := os.Stat(path); err == nil && info.Mode().IsRegular() && !slices.Contains(candidates, path) {
			candidates = append(candidates, path)
		}
	}
	if origin.File == scenarios.Default {
		candidates = append(candidates, "")
	}
	if len(candidates) == 0 || origin.File != filepath.Base(origin.File) {
		return nil, engine.Sources{}, fmt.Errorf("%s was written from %s, which is neither beside it nor in this folder\nName it: bankwright readback %s %s", book, printable(origin.File), quoted(book), quoted(filepath.Join("FOLDER", printable(origin.File))))
	}
	chosen := candidates[0]
	for _, path := range candidates {
		if m, _, _ := engine.Load(sources(path)); m != nil && export.OriginFor(m.Model).Digest == origin.Digest {
			chosen = path
			break
		}
	}
	src := sources(chosen)
	m, err := a.loadFrom(src, chosen)
	return m, src, err
}

// printable is a text of a workbook without what a terminal would take for commands.
func printable(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' || r >= 0x7f && r < 0xa0 {
			return '?'
		}
		return r
	}, diag.Upright(s))
	if r := []rune(s); len(r) > 100 {
		s = string(r[:100]) + "…"
	}
	return s
}

// otherOrigin warns where a workbook comes from another state of its scenario or of
// the rules.
func otherOrigin(book string, o export.Origin, m *engine.Model) (list diag.List) {
	is := export.OriginFor(m.Model)
	at := diag.Pos{File: book}
	if is.Digest != o.Digest {
		list.Warnf(at, "workbook", "Name the scenario as it was then, if it is still there.",
			"it was written from %s as it was then (%s), and this one (%s) is another: what differs between the two looks like a change of the client's", printable(o.File), printable(o.Digest), is.Digest)
	}
	if is.Rules != o.Rules {
		list.Warnf(at, "workbook", "", "it was written by other rules (%s) than those of now (%s): rows and words that differ by that look like changes of the client's", printable(o.Rules), is.Rules)
	}
	return list
}

// writeReturned writes the scenario with the changes of a workbook, once it has been
// read anew and gives just these.
func (a *app) writeReturned(book string, m *engine.Model, src engine.Sources, read *export.Readback, output string) error {
	if output != "-" {
		if err := a.mayWrite(output, ""); err != nil {
			return err
		}
		if folder := filepath.Dir(output); folder != filepath.Clean(src.Folder) || src.Files == fs.FS(scenarios.Files) {
			src.Files, src.Folder = &folderFiles{folder, ""}, folder
		}
		src.Scenario = filepath.Base(output)
	}
	apart := map[string]bool{}
	for {
		list := diag.List{}
		revised := m.Model.Revise(read.Revisions, apart, &list)
		if revised == nil {
			a.tell(list, m.Model.Files)
			return errFailed
		}
		now, faults, files := engine.Load(with(src, revised))
		if now == nil {
			a.tell(faults, files)
			return fmt.Errorf("with these inputs the scenario has faults, and it is not written; files that it names are looked for in the folder of the new one")
		}
		cells, kinds := read.Differs(m, now)
		fresh := false
		for kind := range kinds {
			fresh = fresh || !apart[kind]
			apart[kind] = true
		}
		switch {
		case fresh:
			continue // a condition on combinations has another answer now: they are written one by one
		case len(kinds)+len(cells) > 0:
			return fmt.Errorf("%s cannot be written as a scenario: %s would come out otherwise; please report it", book, strings.Join(cells, ", "))
		}
		return a.putReturned(revised, output)
	}
}

func (a *app) putReturned(revised []byte, output string) error {
	if output == "-" {
		_, err := a.out.Write(revised)
		return err
	}
	if err := writeNew(output, revised); err != nil {
		return err
	}
	a.say("%s is written. Next: bankwright compare %s", output, quoted(output))
	return nil
}

// with are sources in which the scenario has another text.
func with(src engine.Sources, text []byte) decl.Sources {
	src.Files = overlay{src.Files, src.Scenario, text}
	return src
}
