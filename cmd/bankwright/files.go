package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"github.com/spf13/cobra"

	"bankwright/engine"
	"bankwright/engine/reading"
	"bankwright/export"
	"bankwright/export/text"
	"bankwright/export/whole"
	"bankwright/export/xlsx"
	"bankwright/scenarios"
)

func (a *app) book() *cobra.Command {
	output, force, watch := "", false, false
	cmd := &cobra.Command{
		Use:   "book [FILE]",
		Short: "write the client's workbook, every number a live formula",
		Long: "Writes the client's workbook, in which every number is a live formula. FILE is a\n" +
			"scenario; without it, the built-in example. A workbook that was changed since\n" +
			"it was written stays as it is unless --force is given.",
		Example:           "  bankwright book\n  bankwright book cabin.toml -o comparison.xlsx",
		Args:              atMostOne("file"),
		ValidArgsFunction: scenarioFiles(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := noEmptyFlag(cmd, "output"); err != nil {
				return err
			}
			file := optional(args, 0)
			path, err := bookName(output, file)
			if err != nil {
				return err
			}
			return a.onSave(watch, file, func(before *engine.Model) (*engine.Model, error) { return a.writeBook(path, file, force, before) })
		},
	}
	cmd.Flags().StringVarP(&output, "output", "o", "", "write to `OUT.xlsx` (default: named as the scenario)")
	cmd.Flags().BoolVar(&force, "force", false, "overwrite a workbook even if it was changed")
	a.watchFlag(cmd, &watch)
	flagValues(cmd, map[string]completes{"output": files("xlsx")})
	return cmd
}

// writeBook writes the workbook of a scenario, and shows what is other than before.
func (a *app) writeBook(path, file string, force bool, before *engine.Model) (*engine.Model, error) {
	src := sources(file)
	src.Recordings = &reading.Shelf{Ahead: export.Drawn} // a long recording is read once for all
	m, err := a.loadFrom(src, file)
	if err != nil {
		return nil, err
	}
	if before != nil {
		text.Since(a.out, m, before, "", a.style())
	}
	if err := a.mayReplace(path, file, force, oursBook); err != nil {
		return nil, err
	}
	found, err := a.declared(m)
	if err != nil {
		return nil, err
	}
	book, err := export.NewBook(m, found)
	if err != nil {
		return nil, err
	}
	if err := xlsx.Write(path, book); err != nil {
		return nil, unwritten("the workbook "+path, err)
	}
	a.wrote[path] = stampOf(path)
	fmt.Fprintln(a.out, path)
	return m, nil
}

// bookName is the file that a workbook is written to: the one that is named, or
// else one named as the scenario. Spreadsheet programs go by the ending.
func bookName(output, scenario string) (string, error) {
	if output == "" {
		if scenario == "" {
			scenario = scenarios.Default
		}
		return withoutEnding(filepath.Base(scenario)) + ".xlsx", nil
	}
	if output == "-" {
		return "", usagef("a workbook goes into a file, not to standard output; name one")
	}
	if isFolder(output) {
		return "", usagef("%s is a folder; name a file in it", output)
	}
	switch ending := filepath.Ext(output); {
	case ending == "" || ending == ".":
		return withoutEnding(output) + ".xlsx", nil
	case !strings.EqualFold(ending, ".xlsx"):
		return "", usagef("a workbook's name ends in .xlsx, not in %s; write -o %s", ending, quoted(withoutEnding(output)+".xlsx"))
	}
	return output, nil
}

func withoutEnding(name string) string { return strings.TrimSuffix(name, filepath.Ext(name)) }

// isFolder reports whether a name is that of a folder, or can only be meant so.
func isFolder(name string) bool {
	info, err := os.Stat(name)
	return os.IsPathSeparator(name[len(name)-1]) || err == nil && info.IsDir()
}

// unwritten says that a file cannot be written, and why.
func unwritten(what string, err error) error {
	var number syscall.Errno
	if !errors.As(err, &number) {
		return err
	}
	also := ""
	if left := whole.Left(err); left != "" {
		also = fmt.Sprintf("\n%s is left in that folder, from which nothing may be removed", left)
	}
	return fmt.Errorf("%s cannot be written: %s; write elsewhere%s", what, reason(err), also)
}

// writeWhole writes a file, whole or not at all, and tells its name.
func (a *app) writeWhole(path, what string, fill func(io.Writer) error) error {
	if err := whole.Write(path, fill); err != nil {
		return unwritten(what, err)
	}
	a.wrote[path] = stampOf(path)
	_, err := fmt.Fprintln(a.out, path)
	return err
}

// writeNew writes a text to a file that may be written and is not there yet, whole or
// not at all.
func writeNew(name string, text []byte) error {
	err := whole.New(name, func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	})
	switch {
	case errors.Is(err, fs.ErrExist):
		return thereAlready(name)
	case err != nil:
		return unwritten(name, err)
	}
	return nil
}

func thereAlready(name string) error {
	return fmt.Errorf("%s is there already; it stays as it is", name)
}

// quoted is a file name as the system's shells take it, and as no command takes it for a
// flag.
func quoted(name string) string { return quotedFor(os.PathSeparator, name) }

// quotedFor is a file name as the shells of a system take it, which is told by what
// stands between its folders: both of Windows' take double quotes.
func quotedFor(separator rune, name string) string {
	if strings.HasPrefix(name, "-") {
		name = "." + string(separator) + name
	}
	switch {
	case separator == '\\' && strings.ContainsAny(name, " '$&()<>|;,^%`"):
		return `"` + name + `"`
	case separator == '/' && strings.ContainsAny(name, " '\"$&()<>|;*?\\`#"):
		return "'" + strings.ReplaceAll(name, "'", `'\''`) + "'"
	}
	return name
}
