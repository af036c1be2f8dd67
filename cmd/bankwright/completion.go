package main

import (
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"bankwright/engine/decl"
	"bankwright/export/text"
)

// completion writes the script by which a shell completes a command line.
func (a *app) completion() *cobra.Command {
	scripts := map[string]func(root *cobra.Command) error{
		"bash":       func(root *cobra.Command) error { return root.GenBashCompletionV2(a.out, true) },
		"fish":       func(root *cobra.Command) error { return root.GenFishCompletion(a.out, true) },
		"powershell": func(root *cobra.Command) error { return root.GenPowerShellCompletionWithDesc(a.out) },
		"zsh":        func(root *cobra.Command) error { return root.GenZshCompletion(a.out) },
	}
	const shells = "bash, fish, powershell or zsh"
	return &cobra.Command{
		Use:   "completion SHELL",
		Short: "write a script by which your shell completes commands",
		Long: "Writes a script by which a shell completes commands, flags, files, and names of\n" +
			"cells, studies and alternatives of the scenario on the command line. The shell\n" +
			"is " + shells + ". To have it, put this line into the file\n" +
			"that the shell reads when it starts:\n\n" +
			"    ~/.bashrc                    source <(bankwright completion bash)\n" +
			"    ~/.zshrc                     source <(bankwright completion zsh)\n" +
			"    ~/.config/fish/config.fish   bankwright completion fish | source\n" +
			"    $PROFILE of PowerShell       bankwright completion powershell |\n" +
			"                                   Out-String | Invoke-Expression\n\n" +
			"bash needs the package bash-completion besides, and zsh the line\n" +
			"autoload -U compinit; compinit before.",
		Example: "  bankwright completion bash\n  bankwright completion zsh\n" +
			"  bankwright completion fish\n  bankwright completion powershell",
		ValidArgs: []string{"bash", "fish", "powershell", "zsh"},
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) != 1 {
				return usagef("%s needs the name of one shell: %s", cmd.Name(), shells)
			}
			if scripts[args[0]] == nil {
				return usagef("there is no completion for %q, only for %s", args[0], shells)
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return scripts[args[0]](cmd.Root()) },
	}
}

// declaredBy is what a scenario and its rules declare, as far as they can be read; its
// faults are told elsewhere. Nothing is computed, which would take too long.
func declaredBy(file string) *decl.Model {
	m, _ := decl.Load(sources(file))
	return m
}

// completes is a function of cobra's that completes a word.
type completes = func(cmd *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective)

// files completes the names of files with these endings.
func files(endings ...string) completes {
	return func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
		return endings, cobra.ShellCompDirectiveFilterFileExt
	}
}

// scenarioFiles completes the names of scenarios, as many as a command takes.
func scenarioFiles(most int) completes {
	return func(cmd *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
		if most > 0 && len(args) >= most {
			return nothing(cmd, args, begun)
		}
		return files("toml")(cmd, args, begun)
	}
}

// booksAndScenarios completes the names of workbooks, then of scenarios.
func booksAndScenarios(cmd *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
	if len(args) == 0 {
		return files("xlsx")(cmd, args, begun)
	}
	return scenarioFiles(2)(cmd, args, begun)
}

// nothing completes nothing, not even names of files.
func nothing(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return nil, cobra.ShellCompDirectiveNoFileComp
}

// words completes one of some words.
func words(list ...string) completes {
	return func(_ *cobra.Command, _ []string, begun string) ([]string, cobra.ShellCompDirective) {
		return beginning(list, begun), cobra.ShellCompDirectiveNoFileComp
	}
}

// commandNames completes the names of commands.
func commandNames(cmd *cobra.Command, args []string, begun string) (list []string, _ cobra.ShellCompDirective) {
	if len(args) == 0 {
		for _, c := range cmd.Root().Commands() {
			if c.IsAvailableCommand() {
				list = append(list, c.Name()+"\t"+c.Short)
			}
		}
	}
	return beginning(list, begun), cobra.ShellCompDirectiveNoFileComp
}

// fileThen completes the name of a scenario, then names from it; without a file, names
// from the built-in example. Before anything is typed, the scenarios that lie here are
// more likely meant than the example.
func fileThen(most int, names func(m *decl.Model, given []string, begun string) ([]string, cobra.ShellCompDirective)) completes {
	return func(cmd *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
		file, given := scenarioOn(args)
		if most > 0 && len(given) >= most {
			return nothing(cmd, args, begun)
		}
		if len(args) > 0 {
			return names(declaredBy(file), given, begun)
		}
		if here, _ := filepath.Glob("*.toml"); begun == "" && len(here) > 0 {
			return files("toml")(cmd, args, begun)
		}
		list, directive := names(declaredBy(""), nil, begun)
		if len(list) == 0 {
			return files("toml")(cmd, args, begun)
		}
		return list, directive
	}
}

// scenarioOn is the scenario that arguments begin with, if they do, and the others.
func scenarioOn(args []string) (file string, others []string) {
	if len(args) > 0 && isFile(args[0]) {
		return args[0], args[1:]
	}
	return "", args
}

// beginning are the words that begin so.
func beginning(list []string, begun string) []string {
	return slices.DeleteFunc(slices.Clone(list), func(w string) bool { return !strings.HasPrefix(w, begun) })
}

// aside is a name with what is said of it, as cobra has it.
func aside(name, doc string) string {
	if doc == "" {
		return name
	}
	return name + "\t" + strings.Join(strings.Fields(doc), " ")
}

// cellNames completes the name of a cell: the kind, then the item, then the quantity;
// or check, its name, and the item.
func cellNames(m *decl.Model, _ []string, begun string) ([]string, cobra.ShellCompDirective) {
	return stepwise(m, begun, func(q *decl.Quantity) bool { return true })
}

// stepwise completes the name of a cell whose quantity is wanted.
func stepwise(m *decl.Model, begun string, wanted func(*decl.Quantity) bool) ([]string, cobra.ShellCompDirective) {
	parts := strings.Split(begun, ".")
	var list []string
	if len(parts) == 1 {
		for _, k := range m.Kinds {
			list = append(list, aside(k.Name+".", k.Doc))
		}
		if len(m.Checks) > 0 {
			list = append(list, "check.\tWhat a check finds.")
		}
		return beginning(list, begun), cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
	}
	if parts[0] == "check" {
		return checkNames(m, parts, begun)
	}
	i := slices.IndexFunc(m.Kinds, func(k *decl.Kind) bool { return k.Name == parts[0] })
	if i < 0 || len(parts) > 3 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	k := m.Kinds[i]
	if k.Many && len(parts) == 2 {
		for _, it := range k.Items {
			list = append(list, aside(k.Name+"."+it.Name+".", it.Label))
		}
		return beginning(list, begun), cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
	}
	front := strings.Join(parts[:len(parts)-1], ".") + "."
	for _, q := range k.Quantities {
		if k.Many == (len(parts) == 3) && wanted(q) {
			list = append(list, aside(front+q.Name, q.Doc))
		}
	}
	return beginning(list, begun), cobra.ShellCompDirectiveNoFileComp
}

// checkNames completes check.NAME.ITEM.
func checkNames(m *decl.Model, parts []string, begun string) (list []string, directive cobra.ShellCompDirective) {
	directive = cobra.ShellCompDirectiveNoFileComp
	for _, c := range m.Checks {
		switch {
		case len(parts) == 2:
			list = append(list, aside("check."+c.Name+".", c.Doc))
			directive |= cobra.ShellCompDirectiveNoSpace
		case c.Name == parts[1] && len(parts) == 3:
			for _, it := range c.Of.Items {
				list = append(list, aside("check."+c.Name+"."+it.Name, it.Label))
			}
		}
	}
	return beginning(list, begun), directive
}

// sectionNames completes what compare can show alone, in small letters.
func sectionNames(_ *cobra.Command, args []string, begun string) (list []string, _ cobra.ShellCompDirective) {
	list = text.Parts()
	file, _ := scenarioOn(args)
	for _, k := range declaredBy(file).Kinds {
		for _, q := range k.Quantities {
			if name := strings.ToLower(q.Section); k.Compare != nil && name != "" && !slices.Contains(list, name) {
				list = append(list, name)
			}
		}
	}
	return beginning(list, strings.ToLower(begun)), cobra.ShellCompDirectiveNoFileComp
}

// ruleNames completes the names of kinds, of their quantities and of checks, of the
// rules of a scenario where one is named.
func ruleNames(cmd *cobra.Command, args []string, begun string) (list []string, _ cobra.ShellCompDirective) {
	if len(args) > 0 {
		return nothing(cmd, args, begun)
	}
	file, _ := cmd.Flags().GetString("scenario")
	m := declaredBy(file)
	kind, _, dotted := strings.Cut(begun, ".")
	for _, k := range m.Kinds {
		if !dotted {
			list = append(list, aside(k.Name, k.Doc), aside(k.Name+".", "its quantities"))
		}
		for _, q := range k.Quantities {
			if dotted && k.Name == kind {
				list = append(list, aside(k.Name+"."+q.Name, q.Doc))
			}
		}
	}
	if !dotted {
		list = append(list, "check.\tthe checks")
		return beginning(list, begun), cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace
	}
	for _, c := range m.Checks {
		list = append(list, aside("check."+c.Name, c.Doc))
	}
	return beginning(list, begun), cobra.ShellCompDirectiveNoFileComp
}

// studyNames completes the names of sweeps, doubts and break-evens that are not named
// yet; one that several sorts share, with its sort.
func studyNames(m *decl.Model, given []string, begun string) (list []string, _ cobra.ShellCompDirective) {
	sorts, count := map[string]string{}, map[string]int{}
	var names []string
	add := func(sort string, s decl.Study) {
		count[s.Name]++
		names = append(names, sort+"."+s.Name)
		sorts[sort+"."+s.Name] = aside("", s.Title)
	}
	for _, s := range m.Sweeps {
		add("sweep", s.Study)
	}
	for _, d := range m.Doubts {
		add("doubt", d.Study)
	}
	for _, b := range m.BreakEvens {
		add("break_even", b.Study)
	}
	for _, full := range names {
		_, name, _ := strings.Cut(full, ".")
		if count[name] > 1 || strings.HasPrefix(begun, full[:len(full)-len(name)]) {
			name = full
		}
		if !slices.Contains(given, name) {
			list = append(list, name+sorts[full])
		}
	}
	return beginning(list, begun), cobra.ShellCompDirectiveNoFileComp
}

// comparedNames completes the names of what is compared.
func comparedNames(m *decl.Model, _ []string, begun string) (list []string, _ cobra.ShellCompDirective) {
	for _, k := range m.Kinds {
		if k.Compare != nil {
			for _, it := range k.Items {
				list = append(list, aside(it.Name, it.Label))
			}
		}
	}
	return beginning(list, begun), cobra.ShellCompDirectiveNoFileComp
}

// flagValues says how the values of flags are completed.
func flagValues(cmd *cobra.Command, values map[string]completes) {
	for flag, f := range values {
		if err := cmd.RegisterFlagCompletionFunc(flag, f); err != nil {
			panic(err) // no such flag: a slip of ours, which every test meets
		}
	}
}

// cellOf completes the name of a cell behind a flag, from the scenario among the
// arguments; end stands behind it.
func cellOf(end string, wanted func(*decl.Quantity) bool) completes {
	return func(_ *cobra.Command, args []string, begun string) ([]string, cobra.ShellCompDirective) {
		file, _ := scenarioOn(args)
		list, directive := stepwise(declaredBy(file), begun, wanted)
		if end == "" || directive&cobra.ShellCompDirectiveNoSpace != 0 {
			return list, directive
		}
		for i, name := range list {
			name, doc, _ := strings.Cut(name, "\t")
			list[i] = aside(name+end, doc)
		}
		return list, directive | cobra.ShellCompDirectiveNoSpace
	}
}
