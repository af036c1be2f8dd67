package export

import (
	"io/fs"
	"maps"
	"slices"
	"strings"
	"testing"

	"bankwright/engine"
	"bankwright/engine/oracle"
	"bankwright/engine/unit"
	"bankwright/rules"
	"bankwright/scenarios"
)

// The workbook keeps published practice: ICAEW, Twenty Principles for Good
// Spreadsheet Practice (second edition, 2015), and the formula rules of The FAST
// Standard (fast-standard.org, sections 3.02 to 3.06 and 4.01). Principles 1 to
// 6, 8 and 17 are about people and their organisations; of the others each has a
// rule here where a program can tell. What only a file shows (panes as written,
// page set-up, names, hidden sheets) is looked at by package xlsx.

// practice is a workbook that is looked at.
type practice struct {
	book       *Book
	series     map[string]bool // sheets with a step in each row
	unitsOn    *Sheet          // of which units are known
	units      map[[2]int]unit.Unit
	steps      map[*Sheet]map[int]map[string]float64
	recordings int    // sheets of recordings
	fixture    bool   // of the rules language, without the standard rules
	seen       *Sheet // of which forms are known
	forms      map[[2]int]string
	rule       string
	found      []finding
}

// finding is a cell that breaks a rule.
type finding struct{ rule, sheet, cell, what string }

func (f finding) String() string { return f.sheet + "!" + f.cell + " breaks " + f.rule + ": " + f.what }

// rules are what is looked at, with what each rests on.
var practiceRules = []struct {
	name string
	look func(*practice)
}{
	{"inputs apart from workings and results (ICAEW 10, FAST 1.01)", (*practice).inputsApart},
	{"a legend on the first screen of each sheet with inputs (ICAEW 10)", (*practice).legends},
	{"nothing in a formula that may change (ICAEW 14, FAST 3.04-01)", (*practice).literals},
	{"no factor that multiplies and divides again (FAST 3.03-01)", (*practice).noIdleFactors},
	{"one formula along a row, or down a series (ICAEW 12, FAST 3.02)", (*practice).sameFormula},
	{"short formulas (ICAEW 13, FAST 3.03-01)", (*practice).shortFormulas},
	{"no error values (ICAEW 18)", (*practice).noErrorValues},
	{"no volatile functions (ICAEW 16, FAST 4.01-03)", (*practice).noVolatile},
	{"nothing outside the workbook (FAST 1.03)", (*practice).nothingOutside},
	{"no merged cells among data (ICAEW 11, FAST 4.02)", (*practice).noMerged},
	{"checks add up to one visible total (ICAEW 19)", (*practice).oneTotal},
	{"a label and a unit for each row (ICAEW 11, FAST 3.05)", (*practice).labelled},
	{"heads that stay in sight and on paper (ICAEW 11, FAST 2.03)", (*practice).heads},
	{"names that are safe (FAST 4.03)", (*practice).safeNames},
	{"a first sheet that says what the workbook is (ICAEW 7, 9)", (*practice).welcome},
}

// exempt are the cells in which a rule cannot be held, each with its reason.
var exempt = []struct {
	rule, sheet, reason string
	holds               func(p *practice, f finding) bool
}{
	{"one formula along a row, or down a series (ICAEW 12, FAST 3.02)", "Inputs", "an input that a scenario gives by a formula of its own stands where its value would",
		func(p *practice, f finding) bool { return true }},
	{"one formula along a row, or down a series (ICAEW 12, FAST 3.02)", "", "each recording has a sheet of its own, from which what was found in it is brought",
		func(p *practice, f finding) bool { return p.recordings > 0 && strings.Contains(f.what, "NA()") }},
	{"nothing in a formula that may change (ICAEW 14, FAST 3.04-01)", "", "the exponent of a square and the divisor of a half say how a formula is built, as its signs do: no other figure could stand there, and a name such as two would tell no more (FAST 3.04-01.1, universal constants, from memory)",
		func(p *practice, f finding) bool {
			return strings.HasPrefix(f.what, "^2 in ") || strings.HasPrefix(f.what, "/2 in ")
		}},
	{"nothing in a formula that may change (ICAEW 14, FAST 3.04-01)", "", "Student's distribution stands written out by the beta distribution, whose parameters 1/2 are its definition (Abramowitz and Stegun 26.7.1, from memory); of its two forms the one is taken that loses fewer digits, from a square of 4 on",
		func(p *practice, f finding) bool {
			figure, in, ok := strings.Cut(f.what, " in ")
			figure = strings.TrimLeft(figure, "=<(,*/-+^")
			return ok && slices.Contains([]string{"2", "0.5", "4"}, figure) && (strings.Contains(in, "BETADIST(") || strings.Contains(in, "BETAINV(") || strings.Contains(in, "SIGN("))
		}},
	{"one formula along a row, or down a series (ICAEW 12, FAST 3.02)", "", "a fixture's scenario gives one item's series by a formula, and what its items have stands side by side",
		func(p *practice, f finding) bool { return p.fixture && p.series[f.sheet] }},
	{"nothing in a formula that may change (ICAEW 14, FAST 3.04-01)", "", "a fixture of the rules language says figures in formulas on purpose",
		func(p *practice, f finding) bool { return p.fixture }},
	{"heads that stay in sight and on paper (ICAEW 11, FAST 2.03)", "", "the rows of a recording, and what is not met in words, stand below others, and so does their head; on paper it is repeated",
		func(p *practice, f finding) bool { return p.book.Find(f.sheet).Print.RepeatFrom > 0 }},
	{"short formulas (ICAEW 13, FAST 3.03-01)", "", "over the steps of two axes a function names one range for each step of the first",
		func(p *practice, f finding) bool { return manyRanges(f.what) }},
}

// look is everything that is found in the workbook.
func (p *practice) look() []finding {
	for _, r := range practiceRules {
		p.rule = r.name
		r.look(p)
	}
	return slices.DeleteFunc(p.found, func(f finding) bool {
		for _, e := range exempt {
			if e.rule == f.rule && (e.sheet == "" || e.sheet == f.sheet) && e.holds(p, f) {
				return true
			}
		}
		return false
	})
}

func (p *practice) tell(s *Sheet, row, col int, what string) {
	p.found = append(p.found, finding{p.rule, s.Name, cellName(row, col), what})
}

// each calls f for every cell that is not empty.
func (p *practice) each(f func(s *Sheet, row, col int, c Cell)) {
	for _, s := range p.book.Sheets {
		for r, row := range s.Rows() {
			for c, cell := range row {
				if cell != (Cell{}) {
					f(s, r+1, c+1, cell)
				}
			}
		}
	}
}

// practiceOf is the workbook of a plan, to be looked at.
func practiceOf(pl *plan) *practice {
	p := &practice{recordings: len(pl.keptOrder), fixture: !standardRules(pl), book: pl.book, series: map[string]bool{}}
	for _, pg := range pl.series {
		p.series[pg.name] = true
	}
	return p
}

// standardRules reports whether the standard rules were read.
func standardRules(pl *plan) bool {
	for _, f := range pl.prog.Model.Files {
		if f.Rules && strings.HasSuffix(f.Name, "site.toml") {
			return true
		}
	}
	return false
}

// TestPractice looks at the workbooks of all scenarios and fixtures.
func TestPractice(t *testing.T) {
	oracle.OneCore(t)
	list := maps.Clone(models(t))
	files, err := fs.Glob(scenarios.Files, "*.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if !slices.ContainsFunc(slices.Collect(maps.Values(list)), func(m *engine.Model) bool { return m.Model.Files[0].Name == f }) {
			list[f] = load(t, scenarios.Files, f, rules.Files)
		}
	}
	list["trays"] = trayModel(t)
	for name, m := range list {
		t.Run(name, func(t *testing.T) {
			pl := plotBook(m, study(t, m))
			if pl.fault != nil {
				t.Fatal(pl.fault)
			}
			if err := pl.book.fill(); err != nil {
				t.Fatal(err)
			}
			report(t, practiceOf(pl).look())
		})
	}
}

// report prints offending cells, the first of each rule on each sheet.
func report(t *testing.T, list []finding) {
	t.Helper()
	count := map[string]int{}
	for _, f := range list {
		at := f.rule + " " + f.sheet
		if count[at]++; count[at] <= 3 {
			t.Error(f)
		}
	}
	for _, at := range sortedKeys(count) {
		if n := count[at]; n > 3 {
			t.Errorf("%s: %d cells in all", at, n)
		}
	}
}

func sortedKeys(m map[string]int) []string {
	var out []string
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}

// plainText is the text of a cell that holds one, without a formula.
func plainText(c Cell) string {
	s, _ := c.Value.(string)
	if c.Formula != "" {
		return ""
	}
	return strings.TrimSpace(s)
}
