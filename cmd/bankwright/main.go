// Command bankwright compares battery banks: one large battery or several
// small ones, for given loads, at given prices. It reads arguments, calls the
// engine and prints; everything it knows of batteries stands in rules files.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"bankwright/engine/diag"
)

// Exit statuses.
const (
	exitDone   = 0
	exitFailed = 1 // the files have faults, or the work failed
	exitUsage  = 2 // the command line is wrong
)

// errFailed says that the work failed and the reason has been told.
var errFailed = errors.New("failed")

// app is where a run reads and writes; tests run it in place of the process.
type app struct {
	out, err io.Writer
	json     bool
}

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// run executes a command line and returns the exit status.
func run(args []string, out, errs io.Writer) (status int) {
	defer func() { // a fault of ours is told in a sentence, too
		if fault := recover(); fault != nil {
			fmt.Fprintf(errs, "bankwright: something went wrong inside the program (%v)\n", fault)
			status = exitFailed
		}
	}()
	a := &app{out: out, err: errs}
	root := a.root()
	root.SetArgs(args)
	root.SetOut(out)
	root.SetErr(errs)
	err := root.Execute()
	var usage usageError
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errFailed):
		return exitFailed
	case errors.As(err, &usage):
		fmt.Fprintf(errs, "bankwright: %s\n", usage)
		return exitUsage
	}
	fmt.Fprintf(errs, "bankwright: %s\n", err)
	return exitFailed
}

// usageError is a command line that cannot be understood.
type usageError struct{ error }

func (a *app) root() *cobra.Command {
	root := &cobra.Command{
		Use:   "bankwright",
		Short: "One large battery or several small ones, for these loads, at these prices?",
		Long: "bankwright compares battery banks from plain text files: what each costs over\n" +
			"the years, how long it runs the loads, which checks it fails. Without a file\n" +
			"every command works on the built-in example.",
		SilenceErrors:     true,
		SilenceUsage:      true,
		CompletionOptions: cobra.CompletionOptions{HiddenDefaultCmd: true},
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return usageError{fmt.Errorf("there is no command %q; %s", args[0], a.instead(args[0]))}
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		text, _, _ := strings.Cut(err.Error(), ": strconv.") // what follows speaks of Go
		return usageError{fmt.Errorf("%s; see %s --help", text, cmd.CommandPath())}
	})
	root.AddCommand(a.compare(), a.book(), a.check(), a.explain(), a.rules(), a.new())
	return root
}

// instead says what to do in place of a command that does not exist.
func (a *app) instead(name string) string {
	var names []string
	for _, c := range a.root().Commands() {
		names = append(names, c.Name())
	}
	if near := diag.Nearest(name, names); near != "" {
		return "did you mean " + near + "?"
	}
	return "see bankwright --help"
}

// atMost limits the number of arguments.
func atMost(n int) cobra.PositionalArgs { return between(0, n) }

func between(low, high int) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) < low || len(args) > high {
			return usageError{fmt.Errorf("usage: %s", cmd.UseLine())}
		}
		if slices.Contains(args, "") { // such as a shell variable that was never set
			return usageError{errors.New("an argument is empty; leave it out to work on the built-in example")}
		}
		return nil
	}
}
