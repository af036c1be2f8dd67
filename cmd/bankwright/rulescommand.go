package main

import (
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
