package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/diag"
	"bankwright/export"
	"bankwright/export/picture"
	"bankwright/scenarios"
)

func (a *app) draw() *cobra.Command {
	output := ""
	cmd := &cobra.Command{
		Use:   "draw [FILE] [ALTERNATIVE]",
		Short: "draw the wiring of an alternative, SVG or PNG",
		Long: "Draws the wiring of an alternative, the best one unless another is named, as\n" +
			"far as the rules know it. FILE is a scenario; without it, the built-in example.\n" +
			"A picture ends in .svg (stays sharp at any size) or .png (for print). -o\n" +
			"names it; all alternatives are drawn into a folder, or where * stands for their\n" +
			"names. Without -o it is named after the scenario and the alternative.",
		Example: "  bankwright draw\n  bankwright draw three_ash -o wiring.png\n  bankwright draw cabin.toml two_small -o two_small.svg\n" +
			"  bankwright draw cabin.toml -o .",
		Args:              fileAndItem,
		ValidArgsFunction: scenarioFiles,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := noEmptyFlag(cmd, "output"); err != nil {
				return err
			}
			file, item := "", ""
			for _, arg := range args {
				if isScenario(arg) {
					file = arg
				} else {
					item = arg
				}
			}
			return a.drawItems(file, item, output)
		},
	}
	cmd.Flags().StringVarP(&output, "output", "o", "", "write to `FILE`, a folder, or a name with *")
	return cmd
}

// fileAndItem takes a scenario and the name of an alternative, both optional.
func fileAndItem(cmd *cobra.Command, args []string) error {
	switch {
	case len(args) > 2:
		return usagef("%s takes a file and an alternative, but %d arguments are given; %s", cmd.Name(), len(args), seeHelp(cmd))
	case len(args) == 2 && isScenario(args[1]) && !isScenario(args[0]):
		return usagef("the file stands before the alternative: %s %s %s", cmd.CommandPath(), quoted(args[1]), quoted(args[0]))
	case len(args) == 2 && isScenario(args[0]) == isScenario(args[1]):
		return usagef("%s takes a scenario, whose name ends in .toml, and an alternative; %s", cmd.Name(), seeHelp(cmd))
	}
	return noneEmpty(cmd, args)
}

// drawItems draws one item, or all where the output has room for all.
func (a *app) drawItems(file, name, output string) error {
	pattern, format, err := pictureName(file, output)
	if err != nil {
		return err
	}
	m, err := a.load(file)
	if err != nil {
		return err
	}
	if len(m.Drawings) == 0 {
		return fmt.Errorf("these rules draw nothing: there is no [drawing.NAME]")
	}
	d := m.Drawings[0]
	items, err := drawnItems(m, d, name, output != "" && strings.Contains(pattern, "*"))
	if err != nil {
		return err
	}
	for _, item := range items {
		path := strings.ReplaceAll(pattern, "*", d.Kind.Items[item].Name)
		if err := writePicture(path, file, export.Circuit(m, d, item), format); err != nil {
			return err
		}
		fmt.Fprintln(a.out, path)
	}
	return nil
}

// pictureName is where pictures go; * stands for the name of what is drawn.
func pictureName(file, output string) (pattern string, format picture.Format, err error) {
	if output == "" {
		if file == "" {
			file = scenarios.Default
		}
		return withoutEnding(filepath.Base(file)) + "_*.svg", picture.SVG, nil
	}
	if output == "-" {
		return "", "", usagef("a picture goes into a file, not to standard output; name one")
	}
	if isFolder(output) {
		output = filepath.Join(output, "*.svg")
	}
	if format, err = picture.FormatOf(output); err != nil {
		return "", "", usagef("%s", err)
	}
	return output, format, nil
}

// drawnItems are those of a name, or the best one, or all.
func drawnItems(m *engine.Model, d *check.Drawing, name string, all bool) ([]int, error) {
	if name != "" {
		for i, it := range d.Kind.Items {
			if it.Name == name || it.Label == name {
				return []int{i}, nil
			}
		}
		mend := strings.Join(d.Kind.ItemNames(), ", ")
		if near := diag.Nearest(name, d.Kind.ItemNames()); near != "" {
			return nil, fmt.Errorf("there is no %s named %s; did you mean %s?", d.Kind.Name, name, near)
		}
		return nil, fmt.Errorf("there is no %s named %s; there are %s", d.Kind.Name, name, mend)
	}
	if c := m.Compare(); !all && c != nil && c.Kind == d.Kind && len(c.Ranked) > 0 {
		return []int{c.Ranked[0].Item}, nil
	}
	var items []int
	for i := range d.Kind.Items {
		items = append(items, i)
	}
	return items, nil
}

// writePicture writes a picture to a file, whole or not at all.
func writePicture(path, scenario string, p picture.Picture, f picture.Format) error {
	if err := mayWrite(path, scenario); err != nil {
		return err
	}
	var b bytes.Buffer
	if err := picture.Write(&b, p, f); err != nil {
		return err
	}
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		return unwritten("the picture "+path, err)
	}
	return nil
}
