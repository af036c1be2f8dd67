package main

import (
	"bytes"
	"io"
	"runtime"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"

	"bankwright/engine/decl"
	"bankwright/export"
	"bankwright/export/text"
	"bankwright/rules"
)

// version says what was built, from which commit, and by which rules it works: the
// digest that workbooks name as well. A build that knows no version or commit says so.
func version() string {
	v, commit, built := "of unknown version", "not known", "not known"
	if info, ok := debug.ReadBuildInfo(); ok {
		v, commit = versionOf(info.Main.Version), commitOf(info.Settings)
		built = "with " + info.GoVersion + " for " + runtime.GOOS + "/" + runtime.GOARCH
	}
	m, _ := decl.Load(decl.Sources{Standard: rules.Files})
	return "bankwright " + v + "\ncommit " + commit + "\nrules  " + export.OriginFor(m).Rules + "\nbuilt  " + built + "\n"
}

// versionOf is a module's version in words.
func versionOf(v string) string {
	if v == "" || v == "(devel)" {
		return "from source, without a version"
	}
	return v
}

// commitOf is the commit that was built.
func commitOf(settings []debug.BuildSetting) string {
	of := map[string]string{}
	for _, s := range settings {
		of[s.Key] = s.Value
	}
	commit := of["vcs.revision"]
	if commit == "" {
		return "not known: it was not built from a checkout"
	}
	day, _, _ := strings.Cut(of["vcs.time"], "T")
	commit = commit[:min(12, len(commit))] + " of " + day
	if of["vcs.modified"] == "true" {
		commit += ", with changes that are not in it"
	}
	return commit
}

// helpFitting writes help as cobra does, and makes it fit a terminal that is narrower
// than it is written for.
func (a *app) helpFitting(write func(*cobra.Command, []string)) func(*cobra.Command, []string) {
	return func(cmd *cobra.Command, args []string) {
		var b bytes.Buffer
		cmd.SetOut(&b)
		write(cmd, args)
		cmd.SetOut(a.out)
		help := b.String()
		if n := a.style().Width; n < helpWidth {
			help = text.Fitted(help, n)
		}
		io.WriteString(a.out, help)
	}
}

// helpWidth is how wide help is written.
const helpWidth = 80

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
