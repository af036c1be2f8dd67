package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/export"
	"bankwright/export/text"
)

func (a *app) compare() *cobra.Command {
	all, watch := false, false
	var sections []string
	cmd := &cobra.Command{
		Use:   "compare [FILE]",
		Short: "show the alternatives side by side, which one wins, and the checks",
		Long: "Shows the alternatives side by side, best first, then which one wins and by how\n" +
			"much, then the checks that are not met. Where there are many, the best and\n" +
			"those that the scenario names stand side by side, the others in one table. With\n" +
			"--only some sections are shown: figures, verdict, checks, others, open,\n" +
			"questions, cautions, or what the rules know of one section, such as current or\n" +
			"\"first cost\". FILE is a scenario; without it, the built-in example.",
		Example:           "  bankwright compare\n  bankwright compare cabin.toml --all\n  bankwright compare cabin.toml --only checks,current\n  bankwright compare cabin.toml --json",
		Args:              atMostOne("file"),
		ValidArgsFunction: scenarioFiles(1),
		RunE: func(_ *cobra.Command, args []string) error {
			file := optional(args, 0)
			if a.json && sections != nil {
				return usagef("--json holds everything; leave out --only")
			}
			return a.onSave(watch, file, func(before *engine.Model) (*engine.Model, error) { return a.compareFile(file, before, all, sections) })
		},
	}
	a.watchFlag(cmd, &watch)
	cmd.Flags().BoolVar(&all, "all", false, "show all side by side, however many there are")
	cmd.Flags().StringArrayVar(&sections, "only", nil, "show this `SECTION` only, or several (a,b); may be repeated")
	flagValues(cmd, map[string]completes{"only": sectionNames})
	a.jsonFlag(cmd)
	return cmd
}

// compareFile shows a comparison, or what is other in it than before.
func (a *app) compareFile(file string, before *engine.Model, all bool, sections []string) (*engine.Model, error) {
	m, err := a.load(file)
	if err != nil {
		return nil, err
	}
	st := a.style()
	st.Cautions = cautionsOf(file)
	st.All = all
	k := m.Compared()
	if k == nil {
		return nil, fmt.Errorf("these rules compare nothing: no kind has compare = { by = ... }")
	}
	for _, name := range parted(k, sections) {
		section, err := text.Section(k, name)
		if err != nil {
			return nil, usageError{err}
		}
		st.Only = append(st.Only, section)
	}
	switch {
	case a.json:
		return m, export.CompareJSON(a.out, m)
	case before != nil:
		text.Since(a.out, m, before, "; --all shows them", st)
	default:
		text.Compare(a.out, m, st)
	}
	return m, nil
}

// parted are names of sections, of which one text may hold several with commas between
// them; a name that has a comma itself stays.
func parted(k *check.Kind, names []string) (out []string) {
	for _, name := range names {
		if _, err := text.Section(k, name); err == nil {
			out = append(out, name)
			continue
		}
		for part := range strings.SplitSeq(name, ",") {
			out = append(out, strings.TrimSpace(part))
		}
	}
	return out
}

func (a *app) jsonFlag(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&a.json, "json", false, "print one JSON document")
}

func (a *app) check() *cobra.Command {
	verify, all := false, false
	cmd := &cobra.Command{
		Use:   "check [FILE...]",
		Short: "report every fault of the files, and every check's finding",
		Long: "Reports every fault of the files, or else the checks that are not met, the\n" +
			"gravest first: stop (must not be built), unfit (would not serve), caution. The\n" +
			"others pass, or are not applicable where what they need is not given; they are\n" +
			"counted, and named with --all. FILE is a scenario; without it, the built-in\n" +
			"example. The exit status is 1 where a file has faults; a check that is not met\n" +
			"is no fault of the file.",
		Example:           "  bankwright check cabin.toml\n  bankwright check --all\n  bankwright check --verify",
		Args:              noneEmpty,
		ValidArgsFunction: scenarioFiles(0),
		RunE: func(_ *cobra.Command, files []string) error {
			if len(files) > 1 && a.json {
				return usagef("--json prints one document; name one file")
			}
			if len(files) == 0 {
				files = []string{""}
			}
			failed := false
			for i, file := range files {
				if i > 0 {
					fmt.Fprintln(a.out)
				}
				err := a.checkFile(file, verify, all)
				if err != nil && !errors.Is(err, errFailed) {
					return err
				}
				failed = failed || err != nil
			}
			if failed {
				return errFailed
			}
			return nil
		},
	}
	cmd.Flags().BoolVar(&all, "all", false, "name the checks that pass or are not applicable, too")
	cmd.Flags().BoolVar(&verify, "verify", false, "recompute every number in a second way, and compare")
	a.jsonFlag(cmd)
	return cmd
}

func (a *app) checkFile(file string, verify, all bool) error {
	m, warnings, err := a.loadInFull(file)
	if err != nil {
		return err
	}
	if a.json {
		if err := export.CheckJSON(a.out, m); err != nil {
			return err
		}
	} else {
		st := a.style()
		st.All = all
		text.Check(a.out, m, warnings, st)
	}
	if !verify {
		return nil
	}
	bad, cells := m.Result.Verify()
	for _, b := range bad {
		a.say("bankwright: %s comes out as %v in one way and as %v in the other; please report it", m.CellName(b.Cell), b.Columns, b.Reference)
	}
	if len(bad) > 0 {
		return errFailed
	}
	a.say("%s recomputed in a second way, all equal to the last bit", plural(cells, "formula cell", "formula cells"))
	return nil
}

func (a *app) explain() *cobra.Command {
	depth := -1
	cmd := &cobra.Command{
		Use:   "explain [FILE] CELL",
		Short: "show how one number came about",
		Long: "Shows how one number came about: its formula, what that reads, and the lines\n" +
			"that give it. CELL is kind.item.quantity, kind.quantity where a kind has one\n" +
			"item, or check.name.item; an item and a quantity may be named by their labels:\n" +
			"\"alternative.one_oak.cost per kWh\". The step of a series stands behind it:\n" +
			"alternative.one_oak.health[3]; without it, the values of all steps are shown,\n" +
			"and how the first came about. A small tree is shown down to the lines that give\n" +
			"it; of a large one three levels, unless --depth says how many, and then what is\n" +
			"given further down. FILE is a scenario; without it, the built-in example.",
		Example:           "  bankwright explain alternative.one_oak.runtime\n  bankwright explain cabin.toml battery.large.rated_energy --depth 1",
		Args:              fileAndCell,
		ValidArgsFunction: fileThen(1, cellNames),
		RunE: func(cmd *cobra.Command, args []string) error {
			given := cmd.Flags().Changed("depth")
			if given && depth < 0 {
				return usagef("--depth counts levels from 0, and %d is less", depth)
			}
			file, cell := "", args[len(args)-1]
			if len(args) == 2 {
				file = args[0]
			}
			m, err := a.load(file)
			if err != nil {
				return err
			}
			c, err := m.ParseCell(cell)
			if err != nil {
				return err
			}
			t := text.Tree(m, c, a.style())
			if given {
				t = m.Explain(c, depth)
			}
			if a.json {
				return export.ExplainJSON(a.out, m, t)
			}
			if !strings.Contains(cell, "[") {
				text.Steps(a.out, m, t, a.style())
			}
			text.Explain(a.out, m, t, a.style())
			return nil
		},
	}
	cmd.Flags().IntVar(&depth, "depth", depth, "show so many `LEVELS` below the number")
	cmd.Flags().Lookup("depth").DefValue = "0" // it is told in the text
	flagValues(cmd, map[string]completes{"depth": words("0", "1", "2", "3", "5", "10")})
	a.jsonFlag(cmd)
	return cmd
}
