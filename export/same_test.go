package export_test

import (
	"bytes"
	"fmt"
	"runtime"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/xuri/excelize/v2"

	"bankwright/engine"
	"bankwright/engine/diag"
	"bankwright/export"
	"bankwright/export/xlsx"
)

// shelves is a small scenario with rules of its own: a comparison, a reference, a
// series, a check, a choice and a question.
const shelves = `
title          = TITLE
currency       = "EUR"
standard_rules = false
about          = LABEL

[board.oak]
label = LABEL
price = "20 EUR"
wood  = "hard"
[board.pine]
price = "11 EUR"
wood  = "soft"

[shelf.long]
label = LABEL
board = "oak"
count = 3
[shelf.short]
board = "pine"
count = 2

[rules.kind.board]
many = "boards"
[rules.kind.shelf]
many    = "shelves"
compare = { by = "cost", best = "lowest", show = ["cost"] }
[rules.axis.season]
steps  = 2
labels = ["dry", LABEL]
[rules.board.price]
unit = "money"
min  = "0 money"
doc  = LABEL
[rules.board.wood]
type    = "text"
choices = ["hard", "soft"]
[rules.shelf.board]
refers = "board"
[rules.shelf.count]
min   = 1
whole = true
[rules.shelf.cost]
unit    = "money"
formula = "count * board.price"
label   = LABEL
doc     = "What it costs."
[rules.shelf.bend]
over    = "season"
formula = "count * season"
[rules.check.cheap]
of        = "shelf"
severity  = "caution"
require   = "cost <= board.price"
otherwise = LABEL
doc       = LABEL
[rules.question.load]
of     = "shelf"
ask    = LABEL
answer = LABEL
`

// shelvesBook is the workbook of the small scenario with a text in all places where a
// file may have one; nil where the text is refused, with what is said.
func shelvesBook(t *testing.T, title, label string) (*export.Book, string) {
	t.Helper()
	text := strings.ReplaceAll(strings.ReplaceAll(shelves, "TITLE", title), "LABEL", label)
	m, list, _ := engine.Load(engine.Sources{Files: fstest.MapFS{"shelves.toml": {Data: []byte(text)}}, Scenario: "shelves.toml"})
	if m == nil {
		return nil, fmt.Sprint(list)
	}
	b, err := export.NewBook(m, nil)
	if err != nil {
		return nil, err.Error()
	}
	return b, ""
}

// TestThousandRuns: a thousand runs of the small scenario give the same bytes, on one core
// and on eight. The scenarios that come with the program take longer: see TestSameBook of
// the command.
func TestThousandRuns(t *testing.T) {
	runs := 500
	if testing.Short() {
		runs = 50
	}
	var first []byte
	for _, cores := range []int{1, 8} {
		before := runtime.GOMAXPROCS(cores)
		for range runs {
			b, refused := shelvesBook(t, `"Shelves"`, `"plain"`)
			if b == nil {
				t.Fatal(refused)
			}
			data, err := xlsx.Bytes(b)
			if err != nil {
				t.Fatal(err)
			}
			if first == nil {
				first = data
			}
			if !bytes.Equal(first, data) {
				t.Fatalf("two runs differ, on %d cores", cores)
			}
		}
		runtime.GOMAXPROCS(before)
	}
}

// TestHostileTexts: whatever a scenario says in its titles, labels, notes and
// sentences is shown as text, or refused in words.
func TestHostileTexts(t *testing.T) {
	plain, refused := shelvesBook(t, `"Shelves"`, `"plain"`)
	if plain == nil {
		t.Fatal(refused)
	}
	long := `"` + strings.Repeat("long ", 8000) + `"`
	for of, texts := range map[string][2]string{"`title` has 39999 characters": {long, `"plain"`}, "`label` has 39999 characters": {`"Shelves"`, long}} {
		if b, refused := shelvesBook(t, texts[0], texts[1]); b != nil || !strings.Contains(refused, of) {
			t.Errorf("want %s: %.200s", of, refused)
		}
	}
	for _, c := range []struct{ toml, shown string }{
		{`"=1+1"`, "=1+1"}, {`"+cmd|' /c calc'!A0"`, "+cmd|' /c calc'!A0"}, {`"@SUM(A1)"`, "@SUM(A1)"}, {`"-2+3"`, "-2+3"},
		{`"=HYPERLINK(\"http://x\",\"y\")"`, `=HYPERLINK("http://x","y")`},
		{`"\"&A1&\""`, `"&A1&"`}, {`"[1]Prices!A1"`, "[1]Prices!A1"},
		{`"bell \u0007 and null \u0001"`, "bell"},
		{`"עברית \u05D0"`, "עברית א"}, {`"😀👩🏽‍🔧"`, "😀"},
	} {
		b, refused := shelvesBook(t, c.toml, c.toml)
		if b == nil {
			if len(refused) < 20 || strings.Contains(refused, "panic") {
				t.Errorf("%.30s: refused without a reason: %q", c.toml, refused)
			}
			t.Logf("%.30s is refused: %.200s", c.toml, refused)
			continue
		}
		showsAsText(t, c.toml, c.shown, plain, b)
	}
}

// showsAsText writes a book and looks at every cell that the plain one has.
func showsAsText(t *testing.T, what, shown string, plain, b *export.Book) {
	t.Helper()
	data, err := xlsx.Bytes(b)
	if err != nil {
		t.Fatalf("%.30s: %v", what, err)
	}
	f, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	found := 0
	for _, s := range b.Sheets {
		p := plain.Find(s.Name)
		for r, row := range s.Rows() {
			for c, cell := range row {
				if text := fmt.Sprint(cell.Value, cell.Formula); diag.Upright(text) != text {
					t.Errorf("%.30s: %s turns what stands behind it: %q", what, s.Name, text)
				}
				at, _ := excelize.CoordinatesToCellName(c+1, r+1)
				formula, _ := f.GetCellFormula(s.Name, at)
				if formula != cell.Formula || p != nil && cell.Formula == "" && formula != "" {
					t.Errorf("%.30s: %s!%s has the formula %s", what, s.Name, at, formula)
				}
				text, ok := cell.Value.(string)
				if !ok || !strings.Contains(text, shown) {
					continue
				}
				found++
				got, _ := f.GetCellValue(s.Name, at)
				if !strings.Contains(got, shown) && !strings.Contains(got, "longer than a cell can hold") {
					t.Errorf("%.30s: %s!%s shows %.60q", what, s.Name, at, got)
				}
				if ok, link, _ := f.GetCellHyperLink(s.Name, at); ok && !strings.Contains(link, "!") {
					t.Errorf("%.30s: %s!%s leads to %s", what, s.Name, at, link)
				}
			}
		}
	}
	if found < 4 {
		t.Errorf("%.30s is shown in %d cells only", what, found)
	}
}

// TestStudiedBytes: a workbook with its studies has the same bytes on any number of
// cores.
func TestStudiedBytes(t *testing.T) {
	var first []byte
	for _, cores := range []int{1, 2, 3, 8} {
		before := runtime.GOMAXPROCS(cores)
		data, err := xlsx.Bytes(export.Studied(t))
		runtime.GOMAXPROCS(before)
		if err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = data
		}
		if !bytes.Equal(first, data) {
			t.Fatalf("another file on %d cores", cores)
		}
	}
}
