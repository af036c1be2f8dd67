package main

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"slices"
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
	output, force := "", false
	cmd := &cobra.Command{
		Use:   "draw [FILE] [ALTERNATIVE]",
		Short: "draw the wiring of an alternative, SVG or PNG",
		Long: "Draws the wiring of an alternative, the best one unless another is named, as\n" +
			"far as the rules know it. FILE is a scenario; without it, the built-in example.\n" +
			"A picture ends in .svg (stays sharp at any size) or .png (for print). -o\n" +
			"names it; all alternatives are drawn into a folder, or where * stands for their\n" +
			"names. Without -o it is named after the scenario and the alternative. Where the\n" +
			"rules have several drawings, all are made, and their names stand before those\n" +
			"of alternatives. A picture that was changed since it was drawn stays as it is\n" +
			"unless --force is given.",
		Example: "  bankwright draw\n  bankwright draw three_ash -o wiring.png\n  bankwright draw cabin.toml several_small -o several_small.svg\n" +
			"  bankwright draw cabin.toml -o .",
		Args:              fileAndItem,
		ValidArgsFunction: fileThen(1, comparedNames),
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
			return a.drawItems(file, item, output, force)
		},
	}
	cmd.Flags().StringVarP(&output, "output", "o", "", "write to `FILE`, a folder, or a name with *")
	cmd.Flags().BoolVar(&force, "force", false, "overwrite a picture even if it was changed")
	flagValues(cmd, map[string]completes{"output": files("svg", "png")})
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
func (a *app) drawItems(file, name, output string, force bool) error {
	pattern, format, err := pictureName(file, output)
	if err != nil {
		return err
	}
	m, err := a.load(file)
	if err != nil {
		return err
	}
	pictures, err := drawnItems(m, name, output != "" && strings.Contains(pattern, "*"))
	if err != nil {
		return err
	}
	if len(pictures) > 1 && !strings.Contains(pattern, "*") {
		var names []string
		for _, p := range pictures {
			names = append(names, p.name)
		}
		return usagef("%s is one file, but there are %d pictures; name one of %s, or write * into the file's name, where their names go", output, len(pictures), strings.Join(names, ", "))
	}
	path := func(p drawn) string { return strings.ReplaceAll(pattern, "*", p.name) }
	for _, p := range pictures {
		if err := a.mayReplace(path(p), file, force, oursPicture(format)); err != nil {
			return err
		}
	}
	for _, p := range pictures {
		if err := a.writePicture(path(p), export.Circuit(m, p.drawing, p.item), format); err != nil {
			return err
		}
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

// drawn is an item to be drawn, and its name, before which that of its drawing stands
// where the rules have several.
type drawn struct {
	drawing *check.Drawing
	item    int
	name    string
}

// drawnItems are those of a name, or the best one of each drawing, or all.
func drawnItems(m *engine.Model, name string, all bool) (out []drawn, err error) {
	var kinds, names []string
	for _, d := range m.Drawings {
		if !slices.Contains(kinds, d.Kind.Name) {
			kinds = append(kinds, d.Kind.Name)
		}
		best := -1
		if c := m.Compare(); !all && c != nil && c.Kind == d.Kind && len(c.Ranked) > 0 {
			best = c.Ranked[0].Item
		}
		for i, it := range d.Kind.Items {
			p := drawn{d, i, it.Name}
			if len(m.Drawings) > 1 {
				p.name = d.Name + "_" + it.Name
			}
			names = append(names, p.name)
			if name == it.Name || name == it.Label && name != "" || name == p.name || name == "" && (best < 0 || i == best) {
				out = append(out, p)
			}
		}
	}
	kind := strings.Join(kinds, " or ")
	switch near := diag.Nearest(name, names); {
	case len(m.Drawings) == 0:
		return nil, fmt.Errorf("these rules draw nothing: there is no [drawing.NAME]")
	case len(names) == 0:
		return nil, fmt.Errorf("the scenario names no %s to draw", kind)
	case len(out) == 0 && near != "":
		return nil, fmt.Errorf("there is no %s named %s; did you mean %s?", kind, name, near)
	case len(out) == 0:
		return nil, fmt.Errorf("there is no %s named %s; there are %s", kind, name, strings.Join(names, ", "))
	}
	return out, nil
}

// writePicture writes a picture to a file that may be written, with a mark by which it is
// known again.
func (a *app) writePicture(path string, p picture.Picture, f picture.Format) error {
	return a.writeWhole(path, "the picture "+path, func(w io.Writer) error {
		var b bytes.Buffer
		if err := picture.Write(&b, p, f); err != nil {
			return err
		}
		_, err := w.Write(picture.Seal(b.Bytes(), f))
		return err
	})
}
