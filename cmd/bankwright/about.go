package main

import (
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"

	"bankwright/engine"
)

// version is what the build says of itself: the module's version, which holds
// the commit, and the version of Go. A build that knows neither says so.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "of unknown version"
	}
	v := info.Main.Version
	if v == "" || v == "(devel)" {
		v = "from source, without a version"
	}
	return v + ", built with " + info.GoVersion
}

// help replaces cobra's command, which passes over a name that does not exist.
func (a *app) help() *cobra.Command {
	return &cobra.Command{
		Use:     "help [COMMAND]",
		Short:   "show what a command does, its flags and examples",
		Example: "  bankwright help compare",
		Args:    atMostOne("command"),
		RunE: func(cmd *cobra.Command, args []string) error {
			root := cmd.Root()
			if len(args) == 0 {
				return root.Help()
			}
			found, _, err := root.Find(args)
			if err != nil || found == root {
				return noCommand(root, args[0])
			}
			found.InitDefaultHelpFlag()
			return found.Help()
		},
	}
}

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
		Long: "Writes a script by which a shell completes commands, flags and file names. The\n" +
			"shell is " + shells + ". To have it in bash, put this line into\n" +
			"~/.bashrc:\n\n    source <(bankwright completion bash)",
		Example:   "  bankwright completion bash",
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

// scenarioFiles lets the shell complete the names of scenarios.
func scenarioFiles(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
}

// ruleNames completes the names of kinds, quantities and checks of the standard rules.
func ruleNames(_ *cobra.Command, args []string, begun string) (names []string, _ cobra.ShellCompDirective) {
	m, _, _ := engine.Load(sources(""))
	if m == nil || len(args) > 0 {
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
	add := func(name string) {
		if strings.HasPrefix(name, begun) {
			names = append(names, name)
		}
	}
	for _, k := range m.Kinds {
		add(k.Name)
		for _, q := range k.Quantities {
			add(k.Name + "." + q.Name)
		}
	}
	for _, c := range m.Checks {
		add("check." + c.Name)
	}
	return names, cobra.ShellCompDirectiveNoFileComp
}
