package export

import (
	"math"
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
	"bankwright/engine/formula"
	"bankwright/engine/reading"
	"bankwright/engine/recording"
	"bankwright/engine/unit"
	"bankwright/export/calc"
)

// A recording has a sheet of its own with the rows that draw its curves. Where these
// are all rows, what formulas of the rules find in it is worked out of them there, and
// cells of the rules read that; where it is more, it is computed, not live.

// mostKept is how many rows of a recording stand in a workbook.
const mostKept = 500

// Drawn is what the workbook will ask of a recording besides what formulas ask: the
// rows that it shows, and what it says of each column.
func Drawn(l recording.Layout) []recording.Measure {
	if !drawable(l) {
		return nil
	}
	out := []recording.Measure{recording.Curves{Points: mostKept}}
	for _, c := range l.Columns {
		if c.Name == l.Time {
			continue
		}
		for _, f := range described(c) {
			out = append(out, f.Measure([]string{c.Name}, nil))
		}
	}
	return out
}

// drawable reports whether the rows are enough for curves of all columns.
func drawable(l recording.Layout) bool { return 8*len(l.Columns) <= mostKept }

// described are the functions that say something of a column whatever it is.
func described(c recording.Column) []*formula.Function {
	ends := []*formula.Function{formula.Lookup("lowest"), formula.Lookup("highest")}
	if c.Counter {
		return ends
	}
	return append(ends, formula.Lookup("time_mean"))
}

// kept is a recording on a sheet of its own.
type kept struct {
	page    *page
	q       *check.Quantity
	item    int
	rec     *reading.Recording
	rows    []recording.Sample
	whole   bool  // rows are all rows of the recording
	columns []int // of the layout: those that have values, without the time
	sought  []*sought

	askRow, first, last int // the first row of what was found, and of the rows
}

// sought is something that was found in a recording.
type sought struct {
	key    string
	fn     *formula.Function
	names  []string // of the columns
	unit   unit.Unit
	value  float64  // in base units
	forRow []string // labels of the rules that ask for it
	live   bool     // its cell is worked out of the rows
	row    int
}

// keyOf tells what is asked of one recording apart, for functions without numbers.
func keyOf(fn *formula.Function, names []string) string {
	return fn.Name + " " + strings.Join(names, " ")
}

// keepRecordings makes the sheets of all recordings, before any formula is laid out.
func (pl *plan) keepRecordings() {
	pl.kept = map[influenceCell]*kept{}
	for _, k := range pl.prog.Kinds {
		for _, q := range k.Quantities {
			for item := range k.Items {
				if rec := pl.res.RecordingOf(q, item); rec != nil && rec.Report().Usable() && drawable(rec.Layout) {
					pl.keep(&kept{q: q, item: item, rec: rec})
				}
			}
		}
	}
}

// keep makes the sheet of a recording.
func (pl *plan) keep(k *kept) {
	curves := k.rec.Result(recording.Curves{Points: mostKept})
	k.rows, k.whole = curves.Curve, len(curves.Curve) == curves.Rows
	for i, c := range k.rec.Layout.Columns {
		if c.Name != k.rec.Layout.Time && k.some(i) {
			k.columns = append(k.columns, i)
		}
	}
	if len(k.columns) == 0 {
		return
	}
	name := upperFirst(spaced(k.q.Kind.Name)) + " " + itemLabel(k.q.Kind.Items[k.item])
	k.page = &page{name: pl.sheetName(name), title: name + ": " + lowerFirst(labelOf(k.q))}
	pl.kept[influenceCell{k.q, k.item}] = k
	pl.keptOrder = append(pl.keptOrder, k)
	pl.ask(k)
	pl.drawKept(k)
	for _, a := range k.sought {
		pl.trust(k, a)
	}
	k.same()
}

// some reports whether a column has a value in a kept row.
func (k *kept) some(column int) bool {
	for _, s := range k.rows {
		if v := s.Values[column]; v == v {
			return true
		}
	}
	return false
}

// full reports whether a column has a value in every row.
func (k *kept) full(column int) bool {
	for _, s := range k.rows {
		if v := s.Values[column]; v != v {
			return false
		}
	}
	return k.whole
}

// ask lists what was found: what is said of every column, and what rules ask for.
func (pl *plan) ask(k *kept) {
	layout := k.rec.Layout
	for _, i := range k.columns {
		for _, fn := range described(layout.Columns[i]) {
			names := []string{layout.Columns[i].Name}
			found := fn.Pick(k.rec.Result(fn.Measure(names, nil)), k.rec.Report())
			k.sought = append(k.sought, &sought{key: keyOf(fn, names), fn: fn, names: names, unit: layout.Columns[i].Unit, value: found})
		}
	}
	for _, q := range k.q.Kind.Quantities {
		if len(q.Axes) > 0 || q.Value == nil || q.Type == decl.Recording {
			continue
		}
		for _, f := range pl.res.Findings(eval.Cell{Quantity: q, Item: k.item}) {
			if r := f.Call.Args[0].Ref; r.Target == k.q && r.Origin == check.Self && len(r.Hops) == 0 {
				k.more(q, f)
			}
		}
	}
}

// more adds what a rule asks for.
func (k *kept) more(q *check.Quantity, f eval.Finding) {
	names := columnNames(f.Call)
	a := &sought{key: keyOf(f.Call.Fn, names), fn: f.Call.Fn, names: names, unit: baseUnit(f.Call.Dim)}
	numbers := len(f.Call.Args) - f.Call.Columns()
	for _, old := range k.sought {
		if old.key == a.key && numbers == 0 {
			old.forRow = append(old.forRow, labelOf(q))
			return
		}
	}
	if _, fits := unit.Fit(q.Unit.Dim, f.Call.Dim); fits && q.Type == decl.Number {
		a.unit = q.Unit
	}
	a.value, a.forRow = f.Call.Fn.Pick(f.Result, k.rec.Report()), []string{labelOf(q)}
	k.sought = append(k.sought, a)
}

// columnNames are the columns that a call of a function of a recording names.
func columnNames(call *check.Expr) (out []string) {
	for _, a := range call.Args[:call.Columns()] {
		out = append(out, a.Ref.Target.Columns[a.Col].Name)
	}
	return out
}

// trust makes a cell live where all rows stand on the sheet, the function has a form
// over them, and this gives what was found in the recording.
func (pl *plan) trust(k *kept, a *sought) {
	form, ok := k.form(a)
	if !ok {
		return
	}
	s := k.page.sheet
	s.Set(a.row, keptLiveCol, Cell{Formula: form, Style: Computed})
	got := calc.New(&Book{Sheets: []*Sheet{s}}).Cell(0, a.row, keptLiveCol)
	want := a.unit.FromBase(a.value)
	if a.live = got.T == calc.Number && math.Abs(got.N-want) <= 1e-9*math.Abs(want); !a.live {
		s.Set(a.row, keptLiveCol, Cell{Value: notLiveWord, Style: Note})
		return
	}
	pl.drawTrusted(k, a, got.N)
}

// form is the formula of what was asked over the rows; false where it has none, or
// rows or values are missing.
func (k *kept) form(a *sought) (string, bool) {
	f, layout := a.fn.Kept, k.rec.Layout
	if f.Text == "" || len(k.rows) < 2 || a.value != a.value {
		return "", false
	}
	raw := unit.One
	scale := func(u unit.Unit) { raw.Mul, raw.Div = raw.Mul*u.Mul, raw.Div*u.Div }
	var values [3][]string
	for _, name := range a.names {
		i := k.column(name)
		if i < 0 || !k.full(i) {
			return "", false
		}
		for j := range values {
			values[j] = append(values[j], k.cells(i, j))
		}
		if u := layout.Columns[i].Unit; f.Values && len(a.names) == 1 && !f.Time {
			raw = u
		} else if f.Values {
			scale(u)
		}
	}
	if f.Time {
		scale(layout.Columns[k.column(layout.Time)].Unit)
	}
	var fill []string
	for j, end := range []string{"}", "1}", "2}"} {
		fill = append(fill, "{v"+end, strings.Join(values[j], "*"), "{time"+end, k.cells(k.column(layout.Time), j), "{part"+end, k.parts(j))
	}
	t := term{text: lit(strings.NewReplacer(fill...).Replace(f.Text)), prec: precSum}
	if !sameScale(raw, a.unit) {
		t = fromBase(toBase(t, raw), a.unit)
	}
	return t.text.at(spot{}), true
}

// column is the place of a column in the layout, -1 if there is none.
func (k *kept) column(name string) int {
	for i, c := range k.rec.Layout.Columns {
		if c.Name == name {
			return i
		}
	}
	return -1
}

// liveAsk is what a call finds in an item's recording, where that is live.
func (pl *plan) liveAsk(call *check.Expr, item int) (*kept, *sought) {
	r := call.Args[0].Ref
	k := pl.kept[influenceCell{r.Target, item}]
	if k == nil || r.Origin != check.Self || len(r.Hops) > 0 || len(call.Args) > call.Columns() {
		return nil, nil
	}
	key := keyOf(call.Fn, columnNames(call))
	for _, a := range k.sought {
		if a.key == key && a.live {
			return k, a
		}
	}
	return nil, nil
}

// brought is the line that brings what a call finds in recordings, item by item, to
// the sheet of the rule, and its unit; nil where it is live for none.
func (s *scope) brought(call *check.Expr) (*line, unit.Unit) {
	r := call.Args[0].Ref
	texts, u, example := make([]text, len(r.Target.Kind.Items)), unit.Unit{}, 0.0
	for item := range texts {
		k, a := s.pl.liveAsk(call, item)
		switch {
		case k == nil && s.pl.res.RecordingOf(r.Target, item) == nil:
			texts[item] = join("IF(", emptiness(s.cells(r, nil), r), `,"",NA())`)
		case k != nil && (u.Mul == 0 || sameScale(u, a.unit)):
			u, example = a.unit, a.value
			texts[item] = lit(quoteSheet(k.page.name) + "!" + cellName(a.row, keptLiveCol))
		}
	}
	if u.Mul == 0 {
		return nil, u
	}
	names := columnNames(call)
	key := hopKey(r.Kind, nil, r.Target.Name+" "+keyOf(call.Fn, names))
	if l := s.pl.pulls[key]; l != nil {
		return l, u
	}
	l := s.pl.newLine(s.page, line{
		kind: s.kind, only: own, group: r.Target.Name, label: callLabel(call.Fn, names), look: Pulled,
		unit: s.pl.unitName(u), format: decimalFormat(unit.DecimalsFor([]float64{u.FromBase(example)})),
		note: "from the sheet of the recording", step: func(item, _ int) text { return texts[item] },
	})
	s.pl.pulls[key] = l
	l.page.pulled = append(l.page.pulled, l)
	return l, u
}

// callLabel names what a function finds in columns.
func callLabel(fn *formula.Function, names []string) string {
	return upperFirst(spaced(strings.Join(names, ", "))) + ": " + spaced(fn.Name)
}
