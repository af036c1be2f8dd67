package decl

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
	"time"
	"unicode/utf8"

	"bankwright/engine/diag"
	"bankwright/engine/oracle"
)

// FuzzLoad gives any text to the reader, as a scenario and as rules: it must
// end soon, without a panic, and every message must point into a file.
func FuzzLoad(f *testing.F) {
	for _, pattern := range []string{"testdata/bad/*.toml", "testdata/bad/*/*.toml", "testdata/good/*.toml", "testdata/rules/*.toml"} {
		names, err := filepath.Glob(pattern)
		if err != nil || len(names) == 0 {
			f.Fatal(pattern, err)
		}
		for _, name := range names {
			data, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(string(data))
		}
	}
	for _, tt := range syntaxTests {
		f.Add(tt.src)
	}
	standard := os.DirFS("testdata/rules")
	f.Fuzz(func(t *testing.T, text string) {
		files := fstest.MapFS{"s.toml": {Data: []byte(text)}, "r.toml": {Data: []byte("rule_files = [\"x.toml\"]")}, "x.toml": {Data: []byte(text)}}
		for _, scenario := range []string{"s.toml", "r.toml"} {
			start := oracle.Processor()
			m, diags := Load(Sources{Files: files, Scenario: scenario, Standard: standard, Symbols: []string{"lamp", "valve"}})
			written(m, diags)
			if took := oracle.Processor() - start; took > 5*time.Second {
				t.Errorf("took %s", took)
			}
			for _, d := range diags {
				pointsIntoFile(t, m, d)
			}
		}
	})
}

func pointsIntoFile(t *testing.T, m *Model, d diag.Diagnostic) {
	for _, f := range m.Files {
		if f.Name != d.At.File || d.At.Line == 0 {
			continue
		}
		lines := strings.Split(string(f.Text), "\n")
		if d.At.Line > len(lines) {
			t.Fatalf("line %d of %d: %s", d.At.Line, len(lines), d.Summary)
		}
		if n := utf8.RuneCountInString(lines[d.At.Line-1]); d.At.Col-1+d.At.Len > n+1 {
			t.Fatalf("%s, length %d, in a line of %d characters: %s", d.At, d.At.Len, n, d.Summary)
		}
	}
	if d.Summary == "" || d.Mend == "" {
		t.Fatalf("%s: %q with the mend %q", d.At, d.Summary, d.Mend)
	}
}

// written writes diagnostics as the program does: a hundred of them (engine.MostTold).
func written(m *Model, list diag.List) string {
	var out strings.Builder
	diag.Write(&out, list[:min(len(list), 100)], func(name string) []byte {
		for _, f := range m.Files {
			if f.Name == name {
				return f.Text
			}
		}
		return nil
	}, false, 0)
	return out.String()
}

func numbered(form string, n int) string {
	var out strings.Builder
	for i := range n {
		out.WriteString(strings.ReplaceAll(form, "%d", strconv.Itoa(i)))
	}
	return out.String()
}

// TestHostile gives files that are as large as allowed and built to be slow.
func TestHostile(t *testing.T) {
	oracle.Measured(t)
	fill := func(s string) string { // as often as the limits allow, or beyond them
		n := maxFileSize/len(s) - 1
		if strings.ContainsAny(s, "=\n") {
			n = min(n, maxKeys/2)
		}
		if strings.Contains(s, ",") {
			n = min(n, maxEntries-1)
		}
		return strings.Repeat(s, n)
	}
	tests := map[string]string{
		"one long line of lists":  "a = [" + fill("[1],") + "]",
		"one long line of tables": "a = [" + fill("{a=1},") + "]",
		"keys of many parts":      fill(strings.Repeat("a.", 62) + "b = 1\n"),
		"headings":                fill("[a]\n"),
		"entries of a list":       fill("[[a]]\n"),
		"brackets":                fill("["),
		"braces":                  "a = " + fill("{a="),
		"quotes":                  fill(`"`),
		"one value given often":   fill("title = 3\n"),
		"items":                   "[crate]\n" + fill("a.mass = 3\n"),
		"unknown quantities":      "[house]\n" + fill("areaa = 1\n"),
		"long text":               "title = \"" + fill("é") + "\"",
		"references":              "[plan.a]\nheater = \"x\"\ncrates = [" + fill(`"x",`) + "]\n",
		"many names":              fill("crate.a.mass = 3\n"),
		"names not found":         "[plan]\n" + numbered("b%d = {heater=\"e%d\"}\n", 9000) + "[heater]\n" + numbered("d%d = {}\n", 900) + "[plan.a]\ncrates = [" + fill(`"x",`) + "]",
		"keys not found":          "[house]\n" + numbered("are%d = 3\n", maxKeys-5),
		"texts of units":          "[house]\nsun = [" + fill(`"h/day",`) + "]\n",
		"combinations":            "[plan.a]\nkeep = \"true\"\neach = { count = [" + strings.Repeat("1,", 9000) + "] }",
		"formulas on a line":      "x = [" + fill(`"=a",`) + "]",
		"braces in a name":        "[rules.kind.box]\nname = \"" + fill("{a}") + "\"",
	}
	for name, text := range tests {
		t.Run(name, func(t *testing.T) {
			start := oracle.Processor()
			m, diags := Load(Sources{Files: fstest.MapFS{"s.toml": {Data: []byte(text)}}, Scenario: "s.toml", Standard: os.DirFS("testdata/rules")})
			for _, d := range diags {
				pointsIntoFile(t, m, d)
				break
			}
			if text := written(m, diags); len(text) > 200_000 {
				t.Errorf("%d bytes are told", len(text))
			}
			if took := oracle.Processor() - start; took > 10*time.Second {
				t.Errorf("took %s", took)
			} else {
				t.Log(took, len(diags))
			}
		})
	}
}
