package formula

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"bankwright/engine/oracle"
)

// show prints a tree with every bracket, so that a test can see its shape.
func show(n *Node) string {
	var args []string
	for _, a := range n.Args {
		args = append(args, show(a))
	}
	switch n.Kind {
	case Number, Truth:
		return fmt.Sprint(n.Num)
	case Text:
		return fmt.Sprintf("%q", n.Text)
	case Name:
		s := strings.Join(n.Path, ".")
		if n.Dot {
			s = "." + s
		}
		return s
	case Unary:
		return "(" + n.Op + " " + args[0] + ")"
	case Binary:
		return "(" + args[0] + " " + n.Op + " " + args[1] + ")"
	case Cond:
		return "(" + args[0] + " ? " + args[1] + " : " + args[2] + ")"
	case Each:
		return n.Text + "[" + strings.Join(args, " | ") + "]"
	}
	return n.Text + "(" + strings.Join(args, ", ") + ")"
}

// texts are formulas of the subset with the shape they have in expr.
var texts = []struct{ src, want string }{
	{"1 + 2 * x", "(1 + (2 * x))"},
	{"-x ** 2", "(- (x ** 2))"},
	{"2 ** 3 ** 2", "(2 ** (3 ** 2))"},
	{"2 ^ 3", "(2 ** 3)"},
	{"a - b - c", "((a - b) - c)"},
	{"a / b / c", "((a / b) / c)"},
	{"1 < a < 3", "((1 < a) and (a < 3))"},
	{"not a and b or c", "(((not a) and b) or c)"},
	{"!a && b || c", "(((not a) and b) or c)"},
	{"a ? b : c ? d : e", "(a ? b : (c ? d : e))"},
	{"(x ?? 0) + 1", "((x ?? 0) + 1)"},
	{"shelf.board.price", "shelf.board.price"},
	{"sum(crates, .mass * share)", "sum[crates | (.mass * share)]"},
	{"max(map(crates, .board.price))", "max[crates | .board.price]"},
	{"count(crates, .mass > limit)", "count[crates | (.mass > limit)]"},
	{"sum(growth)", "sum(growth)"},
	{"growth | sum()", "sum(growth)"},
	{"prev(stock) + 1", "(prev(stock) + 1)"},
	{`finish == "oiled"`, `(finish == "oiled")`},
	{"min(a, b, 2.5)", "min(a, b, 2.5)"},
	{"count * min", "(count * min)"}, // names of aggregates are fine as names
	{"true and 1e3 > x", "(1 and (1000 > x))"},
	{"interpolate(curve.x, curve.y, 3)", "interpolate(curve.x, curve.y, 3)"},
}

func TestParse(t *testing.T) {
	for _, c := range texts {
		n, problems := Parse(c.src)
		if len(problems) > 0 {
			t.Errorf("%s: %v", c.src, problems[0])
			continue
		}
		if got := show(n); got != c.want {
			t.Errorf("%s\n got %s\nwant %s", c.src, got, c.want)
		}
		again(t, n)
	}
}

func TestSpans(t *testing.T) {
	src := "height * (shelf.board.price + max(a, bb)) - sum(crates, .mass)"
	n, problems := Parse(src)
	if problems != nil {
		t.Fatal(problems)
	}
	runes := []rune(src)
	var got []string
	n.Walk(func(n *Node) {
		if n.Kind == Name || n.Kind == Call || n.Kind == Each {
			got = append(got, string(runes[n.At.Start:n.At.Start+n.At.Len]))
		}
	})
	want := "height|shelf.board.price|max(a, bb)|a|bb|sum(crates, .mass)|crates|.mass"
	if s := strings.Join(got, "|"); s != want {
		t.Errorf("got  %s\nwant %s", s, want)
	}
}

// TestPlaces: a fault of the syntax is told at the whole of what is not expected.
func TestPlaces(t *testing.T) {
	for src, want := range map[string]string{"mass 12": "12", "mass + width width2": "width2", "2 * )": ")", "größe and höhe breite": "breite", "1 + (2 3": "3"} {
		_, problems := Parse(src)
		if len(problems) != 1 {
			t.Errorf("%s: told %v", src, problems)
			continue
		}
		at := problems[0].At
		if got := string([]rune(src)[at.Start : at.Start+at.Len]); got != want {
			t.Errorf("%s: told at %q, want %q", src, got, want)
		}
	}
}

// refused are formulas outside the subset, with what is told of them.
var refused = []struct{ src, want string }{
	{"", "empty"},
	{"a +", "ends too early"},
	{"a = 3", "Write == to compare"},
	{"max(crates, .mass)", "Write max(map(crates, ...))"},
	{"a % 3", "operator % is outside"},
	{"[1, 2]", "lists and maps"},
	{"a in b", "operator in is outside"},
	{"nil", "nil has no place"},
	{"map(crates, .mass)", "map alone"},
	{"a?.b", "outside what formulas may say"},
	{"a[1]", "only plain names"},
	{"let x = 1; x", "outside what formulas may say"},
	{"#", "not expected"},
	{"mass > 3 kg", "3 kg is a value with a unit, which a formula cannot hold / Give the value a name and write that here"},
	{"3kg / count", "value = \"3kg\""},
	{"2 h/day * x", "value = \"2 h/day\""},
	{"5 °C + x", "value = \"5 °C\""},
	{"5 kg/count", "value = \"5 kg\""},
	{"share > 10 %", "value = \"10 %\""},
	{"a + b +", "nothing stands behind + / Write a name or a number behind +"},
	{"min(a,", "nothing stands behind ,"},
	{"a ? b", "? has no : / Write condition ? value : other value"},
	{"(a + b", "a bracket is not closed / Write the closing )"},
	{"a + b)", "Leave it out, or write what is missing before it"},
	{"a[1", "Write what is missing"},
	{"a b", "with one of these signs between two values"},
	{"a € b", "the sign € has no meaning"},
	{"'oak", "Write the closing quote"},
	{"1e", "this number cannot be read / Write it like"},
	{"sum()", "given too little"},
	{"if a then b", "Write condition ? value : other value"},
	{"a..b", "the operator .. is outside"},
	{"a contains b", "Write text comparisons with == and !="},
	{strings.Repeat("(", 65) + "1" + strings.Repeat(")", 65), "nests deeper"},
	{strings.Repeat("-", 100) + "1", "nests deeper"},
	{strings.Repeat("a+", 3000) + "a", "bytes long"},
	{strings.Repeat("a+", 400) + "a", "more than the 500"},
	{"a\xff", "UTF-8"},
}

func TestRefused(t *testing.T) {
	for _, c := range refused {
		_, problems := Parse(c.src)
		if len(problems) == 0 {
			t.Errorf("%.40q: no problem, want %q", c.src, c.want)
			continue
		}
		if problems[0].Mend == "" {
			t.Errorf("%.40q: no mend: %s", c.src, problems[0].Text)
		}
		if got := problems[0].Text + " / " + problems[0].Mend; !strings.Contains(got, c.want) {
			t.Errorf("%.40q: %q does not contain %q", c.src, got, c.want)
		}
	}
}

// source writes a tree as a formula, with every bracket.
func source(n *Node) string {
	var args []string
	for _, a := range n.Args {
		args = append(args, source(a))
	}
	switch n.Kind {
	case Number:
		return strconv.FormatFloat(n.Num, 'g', -1, 64)
	case Truth:
		return strconv.FormatBool(n.Num == 1)
	case Text:
		return strconv.Quote(n.Text)
	case Unary:
		return "(" + n.Op + " " + args[0] + ")"
	case Each:
		if slices.Contains([]string{"sum", "count", "any", "all"}, n.Text) {
			return n.Text + "(" + strings.Join(args, ", ") + ")"
		}
		return n.Text + "(map(" + strings.Join(args, ", ") + "))"
	}
	return show(&Node{Kind: n.Kind, Op: n.Op, Text: n.Text, Path: n.Path, Dot: n.Dot, Args: written(args)})
}

// written are texts in the place of trees.
func written(args []string) (out []*Node) {
	for _, a := range args {
		out = append(out, &Node{Kind: Name, Path: []string{a}})
	}
	return out
}

// given is a formula in a file of rules.
var given = regexp.MustCompile(`(?m)^(?:formula|require|start) *= "(.*)"`)

// again reads what is written of a tree, and wants the same tree.
func again(t *testing.T, n *Node) {
	t.Helper()
	text := source(n)
	got, problems := Parse(text)
	switch {
	case got != nil && show(got) != show(n):
		t.Errorf("%s\nis written %s\nand read   %s", show(n), text, show(got))
	case got == nil && bounded(text) == nil: // all its brackets may be more than are read
		t.Errorf("%s is written %s, which is not read: %s", show(n), text, problems[0].Text)
	}
}

func FuzzParse(f *testing.F) {
	for _, c := range append(texts, refused...) {
		f.Add(c.src)
	}
	for _, file := range []string{"../../rules/*.toml", "../testdata/good/*.toml"} {
		names, err := filepath.Glob(file)
		if err != nil || len(names) == 0 {
			f.Fatal(file, err)
		}
		for _, name := range names {
			text, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			for _, m := range given.FindAllSubmatch(text, -1) {
				f.Add(string(m[1]))
			}
		}
	}
	f.Fuzz(func(t *testing.T, src string) {
		defer oracle.Within(t, oracle.Fuzzed)()
		n, problems := Parse(src)
		if (n == nil) == (len(problems) == 0) {
			t.Fatalf("%q: neither a tree nor a problem", src)
		}
		if n == nil {
			for _, p := range problems {
				if p.Text == "" || p.Mend == "" || strings.Contains(p.Text, "strconv") {
					t.Errorf("%q: %+v", src, *p)
				}
			}
			return
		}
		length := len([]rune(src))
		n.Walk(func(n *Node) {
			if n.At.Start < 0 || n.At.Len < 0 || n.At.Start+n.At.Len > length {
				t.Errorf("%q: span %v is outside", src, n.At)
			}
		})
		again(t, n)
	})
}
