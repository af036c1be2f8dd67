package main

import (
	"bytes"
	"flag"
	"io/fs"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine"
	"bankwright/engine/diag"
	"bankwright/engine/oracle"
	"bankwright/export/picture"
	"bankwright/rules"
	"bankwright/scenarios"
)

var updateWrong = flag.Bool("update-wrong", false, "write anew what testdata/wrong.txt expects, to be read through")

// placeInRules is a place in the standard rules, whose lines come and go.
var placeInRules = regexp.MustCompile(`(rules/[\w/]+\.toml):\d+:\d+`)

// TestWrong makes each of the slips of testdata/wrong.txt in a scenario, wrong.toml, and
// expects exactly the messages that stand there: place, line, caret and mend, and
// nothing that follows from them. A slip is told as a change: the lines behind - are
// replaced by those behind +.
func TestWrong(t *testing.T) {
	oracle.OneCore(t)
	const file = "../../testdata/wrong.txt"
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	starter, err := os.ReadFile("../../testdata/wrong.toml")
	if err != nil {
		t.Fatal(err)
	}
	blocks := strings.Split(string(data), "\n=== ")
	if len(blocks) < 60 {
		t.Fatalf("only %d slips", len(blocks)-1)
	}
	for i, block := range blocks[1:] {
		name, block, _ := strings.Cut(block, "\n")
		was, becomes, change, want := slipOf(block)
		t.Run(name, func(t *testing.T) {
			if strings.Count(string(starter), "\n"+was) != 1 {
				t.Fatalf("wrong.toml does not have once %q", was)
			}
			got := messages(strings.Replace(string(starter), "\n"+was, "\n"+becomes, 1), name)
			if *updateWrong {
				blocks[i+1] = name + "\n" + change + got
				return
			}
			if got != want {
				t.Errorf("got\n%s\nwant\n%s", got, want)
			}
			if strings.Contains(got, "error: ") != !strings.HasPrefix(name, "warned") {
				t.Errorf("told as an error or as a warning? %s", got)
			}
		})
	}
	if *updateWrong {
		if err := os.WriteFile(file, []byte(strings.TrimRight(strings.Join(blocks, "\n=== "), "\n")+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// slipOf takes a slip apart: lines, what they become, both as they stand in the file,
// and what is told of it.
func slipOf(block string) (was, becomes, change, want string) {
	for {
		line, rest, _ := strings.Cut(block, "\n")
		switch {
		case strings.HasPrefix(line, "-"):
			was += line[1:] + "\n"
		case strings.HasPrefix(line, "+"):
			becomes += line[1:] + "\n"
		default:
			return was, becomes, change, strings.TrimRight(block, "\n") + "\n"
		}
		change += line + "\n"
		block = rest
	}
}

// messages are what is said of a scenario, without the lines of the rules.
func messages(text, name string) string {
	switch {
	case strings.HasPrefix(name, "line ends of Windows"):
		text = strings.ReplaceAll(text, "\n", "\r\n")
	case strings.HasPrefix(name, "byte order mark"):
		text = "\ufeff" + text
	}
	src := engine.Sources{Files: fstest.MapFS{"s.toml": {Data: []byte(text)}}, Scenario: "s.toml", Standard: rules.Files}
	_, list, files := engine.Load(src)
	var out bytes.Buffer
	diag.Write(&out, list, func(name string) []byte {
		for _, f := range files {
			if f.Name == name && !f.Rules {
				return f.Text
			}
		}
		return nil
	}, false, 0)
	return placeInRules.ReplaceAllString(out.String(), "$1")
}

// Every usual range of the standard rules says where it comes from, one in money in
// which currencies it holds, and no embedded scenario has a value outside one.
func TestUsual(t *testing.T) {
	names, err := fs.Glob(scenarios.Files, "*.toml")
	if err != nil || len(names) == 0 {
		t.Fatal("no scenarios", err)
	}
	ranges := 0
	for _, name := range names {
		m, list, _ := engine.Load(engine.Sources{Files: scenarios.Files, Scenario: name, Standard: rules.Files, Symbols: picture.Symbols()})
		if m == nil {
			t.Fatalf("%s: %v", name, list)
		}
		for _, d := range list {
			if d.Code == "unusual" {
				t.Errorf("%s: %s", name, d.Error())
			}
		}
		for _, q := range m.Quantities {
			if q.UsualMin == nil {
				continue
			}
			if ranges++; q.UsualSource == "" {
				t.Errorf("%s.%s has a usual range without `usual_by`", q.Kind.Name, q.Name)
			}
			if q.Unit.Dim.HasMoney() && !slices.Contains(q.UsualIn, m.Model.Currency) {
				t.Errorf("%s.%s has a usual range in money for any currency", q.Kind.Name, q.Name)
			}
		}
	}
	if ranges < 40*len(names) {
		t.Errorf("only %d usual ranges in %d scenarios", ranges, len(names))
	}
}
