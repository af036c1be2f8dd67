package main

import (
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"bankwright/engine/decl"
	"bankwright/engine/schema"
	"bankwright/rules"
)

// schemaName is the file that the first line of scenarios names.
const schemaName = "bankwright.schema.json"

func (a *app) schema() *cobra.Command {
	output, force := "", false
	cmd := &cobra.Command{
		Use:   "schema [FILE...]",
		Short: "write a schema of scenarios, by which editors complete and check",
		Long: "Writes a JSON Schema (draft-07) of scenario files, made from the rules. Editors\n" +
			"with a language server for TOML complete names, show what they mean, and mark\n" +
			"what cannot be, where the first line of a scenario names the schema's file:\n\n" +
			"    #:schema " + schemaName + "\n\n" +
			"Each FILE is a scenario whose own rules count as well; without one, it is the\n" +
			"schema of the standard rules. What only the program can tell, such as whether a\n" +
			"formula makes sense, bankwright check tells.",
		Example: "  bankwright schema -o " + schemaName + "\n" +
			"  bankwright schema cabin.toml -o " + schemaName,
		Args:              noneEmpty,
		ValidArgsFunction: scenarioFiles(0),
		RunE: func(cmd *cobra.Command, files []string) error {
			if err := noEmptyFlag(cmd, "output"); err != nil {
				return err
			}
			return a.writeSchema(files, output, force)
		},
	}
	cmd.Flags().StringVarP(&output, "output", "o", "", "write to `OUT.json`, or into a folder")
	cmd.Flags().BoolVar(&force, "force", false, "overwrite a file even if it is no schema of ours")
	flagValues(cmd, map[string]completes{"output": files("json")})
	return cmd
}

// writeSchema writes the schema of scenarios that have the rules of these.
func (a *app) writeSchema(files []string, output string, force bool) error {
	models, err := a.declarations(files)
	if err != nil {
		return err
	}
	if output == "" || output == "-" {
		return schema.Write(a.out, models...)
	}
	if isFolder(output) {
		output = filepath.Join(output, schemaName)
	}
	if !strings.EqualFold(filepath.Ext(output), ".json") {
		return usagef("a schema's name ends in .json; write -o %s", quoted(withoutEnding(output)+".json"))
	}
	if err := a.mayReplace(output, "", force, oursSchema); err != nil {
		return err
	}
	return a.writeWhole(output, "the schema "+output, func(w io.Writer) error { return schema.Write(w, models...) })
}

// declarations are what the standard rules declare and, where scenarios are named,
// what these declare.
func (a *app) declarations(files []string) (models []*decl.Model, err error) {
	if len(files) == 0 {
		m, _ := decl.Load(decl.Sources{Standard: rules.Files})
		return []*decl.Model{m}, nil
	}
	for _, file := range files {
		src := sources(file)
		a.noteReads(&src, file)
		m, list := decl.Load(src)
		if list.HasErrors() {
			a.tell(list, m.Files)
			return nil, errFailed
		}
		models = append(models, m)
	}
	return models, nil
}
