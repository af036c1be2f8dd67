package main

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"bankwright/engine"
	"bankwright/engine/diag"
	"bankwright/export"
	"bankwright/export/text"
)

func (a *app) compare() *cobra.Command {
	cmd := &cobra.Command{
		Use:     "compare [FILE]",
		Short:   "show the alternatives side by side, which one wins, and the checks",
		Example: "  bankwright compare\n  bankwright compare cabin.toml --json",
		Args:    atMost(1),
		RunE: func(_ *cobra.Command, args []string) error {
			m, err := a.load(optional(args, 0))
			if err != nil {
				return err
			}
			if m.Compared() == nil {
				return fmt.Errorf("these rules compare nothing: no kind has compare = { by = ... }")
			}
			if a.json {
				return export.CompareJSON(a.out, m)
			}
			text.Compare(a.out, m, a.style())
			return nil
		},
	}
	a.jsonFlag(cmd)
	return cmd
}

func (a *app) jsonFlag(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&a.json, "json", false, "print one JSON document")
}

func (a *app) check() *cobra.Command {
	verify := false
	cmd := &cobra.Command{
		Use:     "check [FILE...]",
		Short:   "report every fault of the files, and every check's finding",
		Example: "  bankwright check cabin.toml\n  bankwright check --verify",
		Args:    atMost(math.MaxInt),
		RunE: func(_ *cobra.Command, files []string) error {
			if len(files) > 1 && a.json {
				return usageError{errors.New("--json prints one document: name one file")}
			}
			if len(files) == 0 {
				files = []string{""}
			}
			failed := false
			for _, file := range files {
				if err := a.checkFile(file, verify); err != nil {
					failed = true
				}
			}
			if failed {
				return errFailed
			}
			return nil
		},
	}
	cmd.Flags().BoolVar(&verify, "verify", false, "recompute every cell on expr's own machine and compare")
	a.jsonFlag(cmd)
	return cmd
}

func (a *app) checkFile(file string, verify bool) error {
	m, err := a.load(file)
	if err != nil {
		return err
	}
	if a.json {
		if err := export.CheckJSON(a.out, m); err != nil {
			return err
		}
	} else {
		text.Check(a.out, m, a.style())
	}
	if !verify {
		return nil
	}
	bad, cells := m.Result.Verify()
	for _, b := range bad {
		fmt.Fprintf(a.err, "bankwright: %s: columns %v, reference %v\n", m.CellName(b.Cell), b.Columns, b.Reference)
	}
	if len(bad) > 0 {
		return errFailed
	}
	fmt.Fprintf(a.err, "%s recomputed on the reference, all equal to the last bit\n", plural(cells, "formula cell", "formula cells"))
	return nil
}

func (a *app) explain() *cobra.Command {
	depth := 3
	cmd := &cobra.Command{
		Use:     "explain [FILE] CELL",
		Short:   "show how one number came about",
		Example: "  bankwright explain alternative.one_oak.runtime\n  bankwright explain cabin.toml battery.slab.energy --depth 1",
		Args:    between(1, 2),
		RunE: func(_ *cobra.Command, args []string) error {
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
			t := m.Explain(c, depth)
			if a.json {
				return export.ExplainJSON(a.out, m, t)
			}
			text.Explain(a.out, m, t, a.style())
			return nil
		},
	}
	cmd.Flags().IntVar(&depth, "depth", depth, "how many levels to show")
	a.jsonFlag(cmd)
	return cmd
}

func (a *app) rules() *cobra.Command {
	cautions := false
	file := ""
	cmd := &cobra.Command{
		Use:     "rules [CELL]",
		Short:   "show what the rules know: quantities, units, formulas, sources",
		Example: "  bankwright rules\n  bankwright rules battery.energy\n  bankwright rules --cautions",
		Args:    atMost(1),
		RunE: func(_ *cobra.Command, args []string) error {
			m, err := a.load(file)
			if err != nil {
				return err
			}
			switch {
			case cautions:
				text.Cautions(a.out, m.Model.Notices, a.style())
			case len(args) == 1:
				return a.rule(m, args[0])
			case a.json:
				return export.RulesJSON(a.out, m.Program)
			default:
				text.Rules(a.out, m.Program, a.style())
			}
			return nil
		},
	}
	cmd.Flags().BoolVar(&cautions, "cautions", false, "show the cautions that every output carries")
	cmd.Flags().StringVar(&file, "scenario", "", "a scenario whose own rules are shown as well")
	a.jsonFlag(cmd)
	return cmd
}

// rule shows one quantity, named kind.quantity, or one check, check.name.
func (a *app) rule(m *engine.Model, name string) error {
	if check, ok := strings.CutPrefix(name, "check."); ok {
		return a.checkRule(m, check)
	}
	q, err := m.ParseQuantity(name)
	if err != nil {
		return err
	}
	if a.json {
		return export.RuleJSON(a.out, q)
	}
	text.Rule(a.out, q, a.style())
	return nil
}

// checkRule shows one check.
func (a *app) checkRule(m *engine.Model, name string) error {
	var names []string
	for _, c := range m.Checks {
		if c.Name == name {
			if a.json {
				return export.CheckRuleJSON(a.out, c)
			}
			text.CheckRule(a.out, c, a.style())
			return nil
		}
		names = append(names, c.Name)
	}
	if near := diag.Nearest(name, names); near != "" {
		return fmt.Errorf("there is no check %s. Did you mean check.%s?", name, near)
	}
	return fmt.Errorf("there is no check %s; bankwright rules lists them", name)
}
