package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"bankwright/engine/diag"
)

// usageError is a command line that cannot be understood.
type usageError struct{ error }

func usagef(format string, args ...any) error { return usageError{fmt.Errorf(format, args...)} }

// seeHelp is what to do where nothing better can be said.
func seeHelp(cmd *cobra.Command) string { return "see " + cmd.CommandPath() + " --help" }

// atMostOne takes one argument or none; what it is stands in the sentence.
func atMostOne(what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) > 1 {
			return usagef("%s takes one %s at most, but %d are given; %s", cmd.Name(), what, len(args), seeHelp(cmd))
		}
		return noneEmpty(cmd, args)
	}
}

// noneEmpty refuses an argument such as a shell variable that was never set.
func noneEmpty(_ *cobra.Command, args []string) error {
	if slices.Contains(args, "") {
		return usagef("an argument is empty; leave it out to work on the built-in example")
	}
	return nil
}

// fileAndCell takes the name of a cell, and before it that of a file.
func fileAndCell(cmd *cobra.Command, args []string) error {
	switch {
	case len(args) == 0, len(args) == 1 && isScenario(args[0]):
		return usagef("%s needs the name of a cell, such as %s alternative.one_oak.runtime", cmd.Name(), strings.Join(append([]string{cmd.CommandPath()}, args...), " "))
	case len(args) > 2:
		return usagef("%s takes a file and a cell, but %d arguments are given; %s", cmd.Name(), len(args), seeHelp(cmd))
	case len(args) == 2 && isScenario(args[1]) && !isScenario(args[0]):
		return usagef("the file stands before the cell: %s %s %s", cmd.CommandPath(), quoted(args[1]), quoted(args[0]))
	}
	return noneEmpty(cmd, args)
}

// isScenario reports whether an argument is a file's name rather than a cell's.
func isScenario(arg string) bool { return strings.HasSuffix(arg, ".toml") }

// noEmptyFlag refuses a flag that is given without a value, as with -o "$NAME".
func noEmptyFlag(cmd *cobra.Command, name string) error {
	if f := cmd.Flags().Lookup(name); f.Changed && f.Value.String() == "" {
		return usagef("--%s is given an empty name; leave it out, or name a file", name)
	}
	return nil
}

// flagError says in a sentence what is wrong with a flag.
func flagError(cmd *cobra.Command, err error) error {
	var unknown *pflag.NotExistError
	var bare *pflag.ValueRequiredError
	var value *pflag.InvalidValueError
	switch {
	case errors.As(err, &unknown) && unknown.GetSpecifiedShortnames() != "":
		return usagef("there is no flag -%s; %s", unknown.GetSpecifiedName(), seeHelp(cmd))
	case errors.As(err, &unknown):
		return usagef("there is no flag --%s; %s", unknown.GetSpecifiedName(), nearestFlag(cmd, unknown.GetSpecifiedName()))
	case errors.As(err, &bare):
		return usagef("--%s needs a value; %s", bare.GetFlag().Name, seeHelp(cmd))
	case errors.As(err, &value):
		takes := "a whole number"
		if value.GetFlag().Value.Type() == "bool" {
			takes = "no value"
		}
		return usagef("--%s takes %s, not %q; %s", value.GetFlag().Name, takes, value.GetValue(), seeHelp(cmd))
	}
	return usagef("a flag cannot be read; %s", seeHelp(cmd))
}

// nearestFlag says what to do in place of a flag that does not exist.
func nearestFlag(cmd *cobra.Command, name string) string {
	var names []string
	cmd.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	if near := diag.Nearest(name, names); near != "" {
		return "did you mean --" + near + "?"
	}
	return seeHelp(cmd)
}

// noCommand says what to do in place of a command that does not exist.
func noCommand(root *cobra.Command, name string) error {
	var names []string
	for _, c := range root.Commands() {
		names = append(names, c.Name())
	}
	if near := diag.Nearest(name, names); near != "" {
		return usagef("there is no command %q; did you mean %s?", name, near)
	}
	if isScenario(name) {
		return usagef("there is no command %q; did you mean bankwright compare %s?", name, quoted(name))
	}
	return usagef("there is no command %q; %s", name, seeHelp(root))
}
