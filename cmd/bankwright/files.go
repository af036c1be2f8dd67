package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"bankwright/export"
	"bankwright/export/xlsx"
	"bankwright/scenarios"
)

func (a *app) book() *cobra.Command {
	output, force := "", false
	cmd := &cobra.Command{
		Use:     "book [FILE]",
		Short:   "write the client's workbook, every number alive",
		Example: "  bankwright book\n  bankwright book cabin.toml -o comparison.xlsx",
		Args:    atMost(1),
		RunE: func(_ *cobra.Command, args []string) error {
			file := optional(args, 0)
			m, err := a.load(file)
			if err != nil {
				return err
			}
			if output == "" {
				name := file
				if name == "" {
					name = scenarios.Default
				}
				output = strings.TrimSuffix(filepath.Base(name), filepath.Ext(name)) + ".xlsx"
			}
			if err := mayWrite(output, file); err != nil {
				return err
			}
			if !force {
				if err := mayReplace(output); err != nil {
					return err
				}
			}
			book, err := export.NewBook(m)
			if err != nil {
				return err
			}
			if err := xlsx.Write(output, book); err != nil {
				return err
			}
			fmt.Fprintln(a.out, output)
			return nil
		},
	}
	cmd.Flags().StringVarP(&output, "output", "o", "", "the workbook to write (default: as the scenario)")
	cmd.Flags().BoolVar(&force, "force", false, "overwrite a workbook even if it was changed")
	return cmd
}

// mayWrite refuses what cannot be meant: a folder that is not there, a folder in
// place of a file, the scenario itself.
func mayWrite(path, scenario string) error {
	folder := filepath.Dir(path)
	if info, err := os.Stat(folder); err != nil || !info.IsDir() {
		return fmt.Errorf("there is no folder %s; make it first, or write elsewhere", folder)
	}
	info, err := os.Stat(path)
	if err != nil {
		return nil
	}
	if info.IsDir() {
		return fmt.Errorf("%s is a folder; name a file in it", path)
	}
	if read, err := os.Stat(scenario); err == nil && os.SameFile(info, read) {
		return fmt.Errorf("%s is the scenario itself; name another file with -o", path)
	}
	return nil
}

// mayReplace refuses to overwrite what somebody has worked on.
func mayReplace(path string) error {
	if _, err := os.Lstat(path); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	changed, err := xlsx.Changed(path)
	if err != nil {
		return err
	}
	if changed {
		return fmt.Errorf("%s was changed since it was written, or is not a workbook of ours; it stays as it is\nWrite to another file with -o, or overwrite it with --force", path)
	}
	return nil
}

func (a *app) new() *cobra.Command {
	return &cobra.Command{
		Use:     "new [NAME]",
		Short:   "write a commented starter scenario",
		Example: "  bankwright new my-cabin",
		Args:    atMost(1),
		RunE: func(_ *cobra.Command, args []string) error {
			name := optional(args, 0)
			if name == "" {
				name = "scenario"
			}
			if filepath.Ext(name) != ".toml" {
				name += ".toml"
			}
			text, err := scenarios.Files.ReadFile(scenarios.Starter)
			if err != nil {
				return err
			}
			if err := mayWrite(name, ""); err != nil {
				return err
			}
			f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
			if errors.Is(err, fs.ErrExist) {
				return fmt.Errorf("%s is there already; it stays as it is", name)
			}
			if err != nil {
				return err
			}
			if _, err := f.Write(text); err != nil {
				f.Close()
				return err
			}
			if err := f.Close(); err != nil {
				return err
			}
			fmt.Fprintf(a.out, "%s\nNext: bankwright compare %s\n", name, quoted(name))
			return nil
		},
	}
}

// quoted is a file name as a shell takes it.
func quoted(name string) string {
	if strings.ContainsAny(name, " '\"$&()<>|;*?\\") {
		return "'" + strings.ReplaceAll(name, "'", `'\''`) + "'"
	}
	return name
}
