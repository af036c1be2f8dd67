package main

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/export"
	"bankwright/export/reference"
	"bankwright/export/text"
	"bankwright/rules"
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
			"questions, cautions, or what the rules know of one section, such as life.\n" +
			"FILE is a scenario; without it, the built-in example.",
		Example:           "  bankwright compare\n  bankwright compare cabin.toml --all\n  bankwright compare cabin.toml --only checks --only life\n  bankwright compare cabin.toml --json",
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
	cmd.Flags().StringArrayVar(&sections, "only", nil, "show only this `SECTION`, and others")
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
	for _, name := range sections {
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

func (a *app) jsonFlag(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&a.json, "json", false, "print one JSON document")
}

func (a *app) check() *cobra.Command {
	verify := false
	cmd := &cobra.Command{
		Use:   "check [FILE...]",
		Short: "report every fault of the files, and every check's finding",
		Long: "Reports every fault of the files, or else what every check finds of every item:\n" +
			"pass, caution, unfit (would not serve), stop (must not be built), or not\n" +
			"applicable where what it needs is not given. FILE is a scenario; without it,\n" +
			"the built-in example. The exit status is 1 where a file has faults; a check\n" +
			"that is not met is no fault of the file.",
		Example:           "  bankwright check cabin.toml\n  bankwright check --verify",
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
				err := a.checkFile(file, verify)
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
	cmd.Flags().BoolVar(&verify, "verify", false, "recompute every number in a second way, and compare")
	a.jsonFlag(cmd)
	return cmd
}

func (a *app) checkFile(file string, verify bool) error {
	m, err := a.loadInFull(file)
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
		fmt.Fprintf(a.err, "bankwright: %s comes out as %v in one way and as %v in the other; please report it\n", m.CellName(b.Cell), b.Columns, b.Reference)
	}
	if len(bad) > 0 {
		return errFailed
	}
	fmt.Fprintf(a.err, "%s recomputed in a second way, all equal to the last bit\n", plural(cells, "formula cell", "formula cells"))
	return nil
}

func (a *app) explain() *cobra.Command {
	depth := 3
	cmd := &cobra.Command{
		Use:   "explain [FILE] CELL",
		Short: "show how one number came about",
		Long: "Shows how one number came about: its formula, what that reads, and the lines\n" +
			"that give it. CELL is kind.item.quantity, kind.quantity where a kind has one\n" +
			"item, or check.name.item; an item and a quantity may be named by their labels:\n" +
			"\"alternative.one_oak.cost per kWh\". The step of a series stands behind it:\n" +
			"alternative.one_oak.health[3]; without it, the values of all steps are shown,\n" +
			"and how the first came about. FILE is a scenario; without it, the built-in\n" +
			"example.",
		Example:           "  bankwright explain alternative.one_oak.runtime\n  bankwright explain cabin.toml battery.large.rated_energy --depth 1",
		Args:              fileAndCell,
		ValidArgsFunction: fileThen(1, cellNames),
		RunE: func(_ *cobra.Command, args []string) error {
			if depth < 0 {
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
			t := m.Explain(c, depth)
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
	cmd.Flags().IntVar(&depth, "depth", depth, "how many `LEVELS` to show below the number")
	flagValues(cmd, map[string]completes{"depth": words("0", "1", "2", "3", "5", "10")})
	a.jsonFlag(cmd)
	return cmd
}

func (a *app) rules() *cobra.Command {
	var show ruleViews
	file := ""
	cmd := &cobra.Command{
		Use:   "rules [NAME]",
		Short: "show what the rules know: quantities, units, formulas, sources",
		Long: "Shows what the rules know: every kind with its quantities, units and formulas,\n" +
			"and the checks. With NAME all that is known of one of them: a kind,\n" +
			"kind.quantity or check.name, or the name alone where only one has it.\n" +
			"--reference writes all of it as a page of Markdown; --checked shows published\n" +
			"values beside what the rules give, and the rules that none of them reaches.",
		Example:           "  bankwright rules\n  bankwright rules battery\n  bankwright rules battery.rated_energy\n  bankwright rules check.autonomy\n  bankwright rules --cautions\n  bankwright rules --reference\n  bankwright rules --checked",
		Args:              atMostOne("quantity or check"),
		ValidArgsFunction: ruleNames,
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := a.rulesUsage(cmd, args, show); err != nil {
				return err
			}
			switch {
			case show.whole:
				return a.reference(file)
			case show.checked:
				return a.checked()
			}
			m, err := a.load(file)
			if err != nil {
				return err
			}
			switch {
			case show.cautions:
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
	cmd.Flags().BoolVar(&show.cautions, "cautions", false, "show the cautions that every output carries")
	cmd.Flags().BoolVar(&show.whole, "reference", false, "write all that the rules know as Markdown")
	cmd.Flags().BoolVar(&show.checked, "checked", false, "show published values beside what the rules give")
	cmd.Flags().StringVar(&file, "scenario", "", "show the rules of this scenario `FILE` as well")
	flagValues(cmd, map[string]completes{"scenario": files("toml")})
	a.jsonFlag(cmd)
	return cmd
}

// cautionsOf is the command that shows all cautions of a scenario.
func cautionsOf(file string) string {
	if file == "" {
		return "bankwright rules --cautions"
	}
	return "bankwright rules --cautions --scenario " + quoted(file)
}

// ruleViews say what rules shows in place of quantities and checks.
type ruleViews struct{ cautions, whole, checked bool }

// rulesUsage refuses arguments of rules that cannot be meant.
func (a *app) rulesUsage(cmd *cobra.Command, args []string, show ruleViews) error {
	switch name := optional(args, 0); {
	case isScenario(name):
		return usagef("rules takes a quantity or check; the rules of a scenario are shown with --scenario %s", quoted(name))
	case strings.HasSuffix(name, "."):
		return usagef("%s ends where a name is expected; rules lists them all", name)
	case show.checked && (name != "" || show.whole || show.cautions || cmd.Flags().Changed("scenario")):
		return usagef("--checked is of all standard rules; leave out what stands beside it, but for --json")
	case show.whole && (name != "" || a.json || show.cautions):
		return usagef("--reference writes all as Markdown; leave out what stands beside it, but for --scenario")
	case show.cautions && name != "":
		return usagef("--cautions shows all cautions; leave out %s", name)
	case show.cautions && a.json:
		return usagef("--cautions prints text only; leave out --json")
	}
	return noEmptyFlag(cmd, "scenario")
}

// rule shows one kind, one quantity, named kind.quantity, or one check,
// check.name; the name alone will do where only one has it.
func (a *app) rule(m *engine.Model, name string) error {
	if check, ok := strings.CutPrefix(name, "check."); ok {
		check, _, _ = strings.Cut(check, ".") // a finding's name is understood as well
		c, err := m.CheckNamed(check)
		if err != nil {
			return err
		}
		return a.checkRule(c)
	}
	if i := slices.IndexFunc(m.Kinds, func(k *check.Kind) bool { return k.Name == name }); i >= 0 {
		return a.kindRules(m, m.Kinds[i])
	}
	q, err := m.ParseQuantity(name)
	if c, noCheck := m.CheckNamed(name); err != nil && noCheck == nil {
		return a.checkRule(c)
	}
	if err != nil {
		return err
	}
	if a.json {
		return export.RuleJSON(a.out, q)
	}
	text.Rule(a.out, q, a.style())
	return nil
}

// reference writes all that the standard rules know, or those of a scenario.
func (a *app) reference(file string) error {
	var files []string
	if file != "" {
		files = append(files, file)
	}
	models, err := a.declarations(files)
	if err != nil {
		return err
	}
	return reference.Write(a.out, models[0])
}

// checked shows how the standard rules stand against published values.
func (a *app) checked() error {
	if a.json {
		_, err := a.out.Write(rules.Checked)
		return err
	}
	return checkedPage(a.out, rules.Checked)
}

// checkedPage writes what was found of published values, told as JSON, for people.
func checkedPage(w io.Writer, data []byte) error {
	found, err := reference.ReadChecked(data)
	if err != nil {
		return err
	}
	text.Checked(w, found)
	return nil
}

// kindRules shows one kind, as rules without a name shows all.
func (a *app) kindRules(m *engine.Model, k *check.Kind) error {
	one := *m.Program
	one.Kinds, one.Checks = []*check.Kind{k}, nil
	for _, c := range m.Checks {
		if c.Result.Kind == k {
			one.Checks = append(one.Checks, c)
		}
	}
	if a.json {
		return export.RulesJSON(a.out, &one)
	}
	text.Rules(a.out, &one, a.style())
	return nil
}

// checkRule shows one check.
func (a *app) checkRule(c *check.Check) error {
	if a.json {
		return export.CheckRuleJSON(a.out, c)
	}
	text.CheckRule(a.out, c, a.style())
	return nil
}
