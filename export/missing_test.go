package export

import (
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
	"bankwright/engine/oracle"
	"bankwright/export/calc"
)

// blank is the book with one cell of an input blanked.
func blank(pl *plan, l *line, item, row int) *calc.Book {
	return calc.New(live{Book: pl.book, changed: map[[3]int]any{{pl.book.Sheet(l.page.name), l.row + row, l.column(item)}: nil}})
}

// TestBlanked blanks every required input, one at a time, of large models for
// one item only, and not every one: the first sheet names it and shows no error value, and what needs it has no figure and is not best.
func TestBlanked(t *testing.T) {
	oracle.OneCore(t)
	for name, m := range eachModel(t) {
		if m.Compared() == nil {
			continue // nothing is decided
		}
		t.Run(name, func(t *testing.T) {
			pl := plotBook(m, nil)
			full := small[name] && name != "cabin"
			for _, l := range pl.inputs.lines {
				if !wanted(l.q) || l.q.Type.Tabular() || !small[name] && l.row%12 > 0 {
					continue
				}
				for item := range l.items() {
					if !full && item != l.row%l.items() {
						continue // one of many alike
					}
					if o := instead(l.q); o != nil && stands(m, o, item) {
						continue // what stands in its place is given
					}
					if l.q.Own[item] == nil {
						blankedCell(t, pl, m, l, item)
					}
				}
			}
		})
	}
}

// stands reports whether an input has a value, be it a table or a recording.
func stands(m *engine.Model, q *check.Quantity, item int) bool {
	if q.Type.Tabular() {
		return q.GivenFor(q.Kind.Items[item]) != nil
	}
	v := m.Result.At(q, item, 0)
	return v == v
}

func blankedCell(t *testing.T, pl *plan, m *engine.Model, l *line, item int) {
	t.Helper()
	run := blank(pl, l, item, 0)
	answer := pl.book.Find("Answer")
	sentence := ""
	for r, row := range answer.Rows() {
		for c, content := range row {
			v := run.Cell(0, r+1, c+1)
			if v.T == calc.Error {
				t.Fatalf("%s of item %d blank: Answer!%s is %s: %s", l.label, item, cellName(r+1, c+1), v.S, content.Formula)
			}
			if content.Style == Lead {
				sentence = v.S
			}
		}
	}
	who := l.kind.Items[item]
	// What has a formula over a blank input is blank as well.
	of := " of " + itemLabel(who)
	if !strings.HasPrefix(sentence, "Missing: "+l.label) || l.kind.Many && !strings.Contains(sentence, of+" (") && !strings.Contains(sentence, of+", and ") {
		t.Errorf("%s of %s blank: the first sheet says %q", l.label, who.Name, sentence)
	}
	k := m.Compared()
	places, _ := answerOf(pl.book, run)
	for i, moved := range moves(m, l.q, item) {
		lacking := run.Cell(pl.book.Sheet(pl.lacking[k].page.name), pl.lacking[k].row, pl.lacking[k].column(i)).N
		if moved && lacking == 0 {
			t.Errorf("%s of %s decides on %s, which is not said to lack it", l.label, who.Name, k.Items[i].Name)
		}
		if lacking > 0 && places[i] != "-" {
			t.Errorf("%s of %s blank: %s still has place %s", l.label, who.Name, k.Items[i].Name, places[i])
		}
	}
}

// TestInstead: of two inputs of which one is enough, the workbook asks for one
// only where both are blank, and then names it and recommends nothing.
func TestInstead(t *testing.T) {
	oracle.OneCore(t)
	m := models(t)["cabin"]
	pl := plotBook(m, nil)
	k := m.Kind("load")
	power, energy := pl.places[k.Quantity("power")], pl.places[k.Quantity("yearly_energy")]
	inputs := pl.book.Sheet("Inputs")
	for item, it := range k.Items {
		for _, c := range []struct {
			power, energy any
			missing       bool
		}{{nil, nil, true}, {nil, 200.0, false}, {50.0, nil, false}} {
			run := calc.New(live{Book: pl.book, changed: map[[3]int]any{
				{inputs, power.row, power.column(item)}: c.power, {inputs, energy.row, energy.column(item)}: c.energy}})
			places, sentence := answerOf(pl.book, run)
			if !c.missing {
				if strings.HasPrefix(sentence, "Missing") {
					t.Errorf("%s with %v, %v: %q", it.Name, c.power, c.energy, sentence)
				}
				continue
			}
			if want := "Missing: Power of " + itemLabel(it) + " (sheet Inputs, cell " + cellName(power.row, power.column(item)) + ")."; sentence != want {
				t.Errorf("%s: %q, want %q", it.Name, sentence, want)
			}
			if got := strings.Trim(strings.Join(places, ""), "-"); got != "" {
				t.Errorf("%s: still placed, %v", it.Name, places)
			}
		}
	}
}

// moves tells whose deciding figure changes with a number.
func moves(m *engine.Model, q *check.Quantity, item int) []bool {
	k := m.Compared()
	by := k.Quantity(k.Compare.By)
	out := make([]bool, len(k.Items))
	if q.Type != decl.Number || len(q.Axes) > 0 {
		return out
	}
	r := eval.New(m.Program).Run(eval.Change{Quantity: q, Item: item, Value: 1.01*m.Result.At(q, item, 0) + 1e-3})
	for i := range out {
		a, b := m.Result.At(by, i, 0), r.At(by, i, 0)
		out[i] = a != b && a == a
	}
	return out
}

// TestNoFigure: where no alternative has a figure, that is what is said.
func TestNoFigure(t *testing.T) {
	text := strings.Replace(crates, `formula = "a + b"`, `formula = "a / b"`, 1)
	text = strings.Replace(strings.ReplaceAll(text, "BEST", "lowest"), "b = 0\n", "b = 1\n", 1)
	m := load(t, fstest.MapFS{"crates.toml": {Data: []byte(text)}}, "crates.toml", nil)
	pl := plotBook(m, nil)
	if err := pl.book.fill(); err != nil {
		t.Fatal(err)
	}
	b := pl.places[m.Compared().Quantity("b")]
	for _, c := range []struct {
		zero   int
		broken bool
		want   string
	}{
		{5, false, "No crate has a figure: total cannot be calculated from these inputs."},
		{4, true, "No crate can be recommended: each is stopped or unfit, or has no figure, as the sheet Checks says."},
		{4, false, "cheap has the lowest total: 0.00."},
	} {
		l := live{Book: pl.book, changed: map[[3]int]any{}}
		for i := range c.zero {
			l.changed[[3]int{pl.book.Sheet("Inputs"), b.row, b.column(i)}] = 0.0
		}
		if c.broken {
			sound := pl.places[m.Compared().Quantity("sound")]
			l.changed[[3]int{pl.book.Sheet("Inputs"), sound.row, sound.column(4)}] = false
		}
		if _, sentence := answerOf(pl.book, calc.New(l)); sentence != c.want {
			t.Errorf("%d without a figure: %q, want %q", c.zero, sentence, c.want)
		}
	}
}

// blankedTrials are workbooks in which inputs are blanked that must not be, or
// nothing is asked for.
func blankedTrials(pl *plan, m *engine.Model) []Trial {
	at := func(q *check.Quantity, item int, data any) change {
		l := pl.places[q]
		return change{sheet: l.page.name, row: l.row, col: l.column(item), data: data, what: q.Name}
	}
	battery, load, k := m.Kind("battery"), m.Kind("load"), m.Compared()
	out := []Trial{
		{"no capacity", pl.book, pl, nil, []change{at(battery.Quantity("capacity"), 0, nil), at(battery.Quantity("price"), 1, nil)}},
		{"no currents", pl.book, pl, nil, []change{at(battery.Quantity("max_discharge_current"), 1, nil)}},
		{"neither power nor energy", pl.book, pl, nil, []change{at(load.Quantity("power"), 1, nil)}},
		{"not possible", pl.book, pl, nil, []change{at(m.Kind("site").Quantity("study_period"), 0, 45.0), at(load.Quantity("count"), 0, 1.5),
			at(load.Quantity("supply"), 1, "gas"), at(k.Quantity("battery"), 1, "elm"), at(load.Quantity("duty"), 0, "much")}},
		{"no battery chosen", pl.book, pl, nil, []change{at(k.Quantity("battery"), 2, nil)}},
	}
	var nothing []change
	for i := range load.Items {
		c := at(load.Quantity("power"), i, 0.0)
		c.engine = eval.Change{Quantity: load.Quantity("power"), Item: i, Value: 0}
		nothing = append(nothing, c)
	}
	return append(out, Trial{"nothing asked for", pl.book, pl, func() *engine.Model { return apply(m, nothing) }, nothing})
}

// TestBlankReference: a reference that is blank, or says what there is not, gives no
// error value on any sheet; what needs it has no place, its checks are not judged, and
// its name says above its figures that they are incomplete.
func TestBlankReference(t *testing.T) {
	oracle.OneCore(t)
	tried := 0
	for _, name := range []string{"cabin", "bench"} {
		m := models(t)[name]
		pl := plotBook(m, nil)
		k := m.Compared()
		checks := pl.book.Find("Checks")
		for _, l := range pl.inputs.lines {
			if l.q == nil || l.q.Type != decl.Reference || l.row == 0 {
				continue
			}
			for _, typed := range []any{nil, "no such thing", 7.0} {
				item := l.items() - 1
				run := calc.New(live{Book: pl.book, changed: map[[3]int]any{{pl.book.Sheet("Inputs"), l.row, l.column(item)}: typed}})
				noErrorValues(t, pl.book, run, l.label+" is "+content(ReturnedCell{Value: typed}))
				if tried++; l.q.MayBeAbsent || l.kind != k {
					continue
				}
				places, _ := answerOf(pl.book, run)
				of := pl.rules[k].sheet
				if head := run.Cell(pl.book.Sheet(of.Name), ruleRow-1, itemCol+item).S; places[item] != "-" || head != incomplete+": "+k.Items[item].Name {
					t.Errorf("%s, %s is %v: place %s, below %q", name, l.label, typed, places[item], head)
				}
				for r := range checks.Rows() {
					switch got := run.Cell(pl.book.Sheet("Checks"), r+1, checkItemCol+item).S; got {
					case passed, decl.Stop.String(), decl.Unfit.String(), decl.Caution.String():
						if r > placedBelow(checks, titleOf(k)) {
							t.Fatalf("%s, %s is %v: Checks!%s says %q", name, l.label, typed, cellName(r+1, checkItemCol+item), got)
						}
					}
				}
			}
		}
	}
	if tried < 12 {
		t.Errorf("only %d references were tried", tried)
	}
}

// placedBelow is the row of the heading of a table of checks.
func placedBelow(s *Sheet, heading string) int {
	for r := range s.Rows() {
		if c := s.At(r+1, labelCol); c.Style == Heading && c.Value == heading {
			return r
		}
	}
	return 0
}

// noErrorValues demands that no cell of a book gives an error value.
func noErrorValues(t *testing.T, b *Book, run *calc.Book, when string) {
	t.Helper()
	for n, s := range b.Sheets {
		for r, row := range s.Rows() {
			for c := range row {
				if v := run.Cell(n, r+1, c+1); v.T == calc.Error {
					t.Fatalf("%s: %s!%s gives %s: %s", when, s.Name, cellName(r+1, c+1), v.S, row[c].Formula)
				}
			}
		}
	}
}
