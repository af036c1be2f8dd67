package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"bankwright/engine"
	"bankwright/engine/diag"
	"bankwright/rules"
	"bankwright/scenarios"
)

func (a *app) new() *cobra.Command {
	ask := false
	cmd := &cobra.Command{
		Use:   "new [NAME]",
		Short: "write a commented starter scenario",
		Long: "Writes a commented scenario to begin with, NAME.toml, or scenario.toml without a\n" +
			"name. A file that is there already stays as it is. With --ask it puts a few\n" +
			"questions first, such as the system's voltage and what two batteries cost; an\n" +
			"empty answer takes what stands in brackets.",
		Example:           "  bankwright new my-cabin\n  bankwright new hut --ask",
		Args:              atMostOne("name"),
		ValidArgsFunction: nothing,
		RunE: func(_ *cobra.Command, args []string) error {
			name, err := starterName(optional(args, 0))
			if err != nil {
				return err
			}
			return a.writeStarter(name, ask)
		},
	}
	cmd.Flags().BoolVar(&ask, "ask", false, "ask for the figures that matter most")
	return cmd
}

// starterName is the file that a starter is written to.
func starterName(name string) (string, error) {
	switch {
	case name == "":
		name = "scenario"
	case os.IsPathSeparator(name[len(name)-1]), filepath.Base(name) == ".", filepath.Base(name) == "..":
		return "", usagef("%s is a folder; name a file in it", name)
	}
	switch ext := filepath.Ext(name); {
	case ext == ".toml":
		return name, nil
	case otherText[strings.ToLower(ext)]:
		return "", usagef("a scenario is a file of TOML; write bankwright new %s", quoted(strings.TrimSuffix(name, ext)+".toml"))
	}
	return name + ".toml", nil
}

// otherText are endings of names that are meant as such; another, as in "plan 1.2", is a
// part of the name.
var otherText = map[string]bool{".txt": true, ".md": true, ".json": true, ".yaml": true, ".yml": true, ".csv": true, ".xlsx": true, ".tml": true, ".ini": true}

// writeStarter writes the starter scenario to a file that is not there yet.
func (a *app) writeStarter(name string, ask bool) error {
	raw, err := scenarios.Files.ReadFile(scenarios.Starter)
	if err != nil {
		return err
	}
	if err := a.mayWrite(name, ""); err != nil {
		return err
	}
	if _, err := os.Lstat(name); err == nil {
		return thereAlready(name)
	}
	text := string(raw)
	if ask {
		if text, err = (&interview{answers: bufio.NewReader(a.in), to: a.err}).run(text); err != nil {
			return err
		}
	}
	if err := writeNew(name, []byte(text)); err != nil {
		return err
	}
	fmt.Fprintln(a.out, name)
	if ask {
		fmt.Fprintln(a.err, "What was not asked for is an example: go through the file once.")
	}
	fmt.Fprintf(a.err, "Next: bankwright compare %s\n", quoted(name))
	return nil
}

// asked is a line of a starter whose value is asked for: KEY = VALUE #?1 QUESTION,
// numbered in the order in which that is done.
var asked = regexp.MustCompile(`(?m)^(\w+)( *= *)("[^"]*"|[^ "]+)( *)#\?(\d+) (.*)$`)

// interview asks for values of a starter.
type interview struct {
	answers *bufio.Reader
	to      io.Writer
	told    []string // remarks
}

// back is the answer that goes back to the question before.
const back = "<"

// run asks for all values and returns the text with the answers in it. An answer that
// makes a fault is told and asked for again.
func (v *interview) run(text string) (string, error) {
	fmt.Fprintf(v.to, "Enter takes what stands in brackets, %s goes back; nothing is written before the end.\n\n", back)
	count := len(asked.FindAllString(text, -1))
	for number := 1; number <= count; {
		changed, err := v.ask(text, number)
		switch {
		case errors.Is(err, errBack):
			number = max(1, number-1)
			continue
		case err != nil:
			return "", err
		}
		fault, remarks := assessed(changed)
		if fault != "" {
			fmt.Fprintln(v.to, "  "+fault)
			continue
		}
		for _, r := range remarks {
			if !slices.Contains(v.told, r) {
				v.told = append(v.told, r)
				fmt.Fprintln(v.to, "  mind: "+r)
			}
		}
		text = changed
		number++
	}
	lines := slices.DeleteFunc(strings.Split(text, "\n"), func(l string) bool { return strings.HasPrefix(l, "#") && strings.Contains(l, "#?") })
	return marks.ReplaceAllString(strings.Join(lines, "\n"), "# "), nil
}

var errBack = errors.New("back")

// ask asks the question of a number and returns the text with its answer in it.
func (v *interview) ask(text string, number int) (string, error) {
	m := place(text, number)
	part := func(n int) string { return text[m[2*n]:m[2*n+1]] }
	answer, err := v.answer(part(6), part(3))
	if err != nil {
		return "", err
	}
	if part(1) == "currency" { // prices are written in it
		return strings.ReplaceAll(text, unquoted(part(3)), unquoted(answer)), nil
	}
	gap := strings.Repeat(" ", max(1, len(part(3))+len(part(4))-len(answer)))
	return text[:m[6]] + answer + gap + text[m[9]:], nil
}

// marks are what stands before questions.
var marks = regexp.MustCompile(`#\?\d+ `)

// place is where the question of a number stands, and its parts.
func place(text string, number int) []int {
	all := asked.FindAllStringSubmatchIndex(text, -1)
	return all[slices.IndexFunc(all, func(m []int) bool { return text[m[10]:m[11]] == strconv.Itoa(number) })]
}

// answer asks one question and returns the value as TOML has it; the default where
// nothing is answered. A number alone takes the default's unit.
func (v *interview) answer(question, value string) (string, error) {
	fmt.Fprintf(v.to, "%s [%s]: ", question, unquoted(value))
	line, err := v.answers.ReadString('\n')
	if err != nil && line == "" {
		fmt.Fprintln(v.to)
		return "", errors.New("not all questions were answered; nothing is written")
	}
	line = strings.TrimSpace(line)
	_, number := strconv.ParseFloat(line, 64)
	switch {
	case line == "":
		return value, nil
	case line == back:
		return "", errBack
	case value == unquoted(value):
		if number != nil {
			line = strconv.Quote(line)
		}
		return line, nil
	case number == nil:
		if _, unit, ok := strings.Cut(unquoted(value), " "); ok {
			line += " " + unit
		}
	}
	return strconv.Quote(line), nil
}

func unquoted(value string) string { return strings.Trim(value, `"`) }

// assessed is the first fault of a scenario in a sentence with its mend, nothing where it
// has none; and what may be slips.
func assessed(text string) (fault string, remarks []string) {
	_, list, _ := engine.Load(engine.Sources{Files: overlay{scenarios.Files, scenarios.Starter, []byte(text)}, Scenario: scenarios.Starter, Standard: rules.Files})
	for _, d := range list {
		if d.Severity == diag.Error {
			return strings.TrimSpace(d.Summary + ". " + d.Mend), nil
		}
		remarks = append(remarks, d.Summary)
	}
	return "", remarks
}
