package main

import (
	"runtime/debug"

	"github.com/spf13/cobra"
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
		Use:               "help [COMMAND]",
		Short:             "show what a command does, its flags and examples",
		Example:           "  bankwright help compare",
		Args:              atMostOne("command"),
		ValidArgsFunction: commandNames,
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
