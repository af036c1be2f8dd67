package decl

import (
	"fmt"
	"io"
	"path"
	"slices"
	"strconv"
	"strings"
	"time"

	"bankwright/engine/diag"
	"bankwright/engine/reading"
	"bankwright/engine/recording"
	"bankwright/engine/unit"
)

// recorded reads recording = { NAME = "UNIT" } of a rules file. The first column
// is the time.
func (l *loader) recorded(r *ruleSet, f *fields, q *Quantity) {
	q.Type = Recording
	f.clash("`recording`", "type", "unit", "choices", "columns", "rows", "over", "formula", "default", "min", "max", "usual", "usual_in", "usual_by", "whole", "otherwise", "decimals")
	n := f.n.get("recording")
	const mend = "Write { time = \"h\", NAME = \"UNIT\" }."
	if !f.kind(n, tableNode, "is a table of columns and units", mend) {
		return
	}
	for _, kid := range n.kids {
		c := Column{Name: kid.key, Unit: unit.One}
		if !l.nameOK(kid.key, kid.keyAt, logKeys) {
			f.ok = false
		}
		if kid.kind != tableNode {
			c.Unit = l.unitOf(r, f, kid)
		} else if own := l.fields(kid, "a recorded column"); own != nil {
			c.Unit = l.unitOf(r, own, kid.get("unit"))
			c.Optional, c.Counter = own.truth("optional"), own.truth("counter")
			f.ok = f.ok && own.ok
		} else {
			f.ok = false
		}
		q.Columns = append(q.Columns, c)
	}
	switch {
	case len(q.Columns) < 2:
		f.fault(n.at, "missing", mend, "a recording has a column for the time and at least one more")
	case !f.ok:
	case q.Columns[0].Unit.Dim != unit.Hour || q.Columns[0].Optional || q.Columns[0].Counter:
		f.fault(n.kids[0].at, "unit", "Put the time first, such as time = \"h\".", "the first column of a recording is the time, and `%s` is not", q.Columns[0].Name)
	}
}

// log reads what a scenario says of a recording: { file = "NAME.csv", COLUMN =
// "HEADER", ... }, or its file alone.
func (l *loader) log(n *node, q *Quantity) (*reading.Recording, bool) {
	names := columnNames(q.Columns)
	if n.kind != textNode && n.kind != tableNode {
		l.diags.Errorf(n.at, "wrong-type", "Write { file = \"NAME.csv\" }.", "`%s` is %s, not %s", q.Name, q.takes(), n.what())
		return nil, false
	}
	file, f := n, &fields{l: l, n: n, what: "a recording", ok: true}
	if n.kind == tableNode {
		if f = l.fields(n, "a recording", names...); f == nil {
			return nil, false
		}
		if file = n.get("file"); file == nil {
			f.fault(n.at, "missing", "Add file = \"NAME.csv\".", "`%s` does not say in which file the recording is", q.Name)
			return nil, false
		}
		if !f.kind(file, textNode, "is the name of a file", "Put it between quotes.") {
			return nil, false
		}
	}
	r := &reading.Recording{Layout: recording.Layout{Time: names[0]}}
	for _, c := range q.Columns {
		r.Layout.Columns = append(r.Layout.Columns, recording.Column{Name: c.Name, Unit: c.Unit, Optional: c.Optional, Counter: c.Counter})
	}
	if n.kind == tableNode {
		l.logForm(f, r)
		l.logColumns(f, q, r)
	}
	name, ok := l.logFile(file)
	if !f.ok || !ok {
		return nil, false
	}
	r.Name, r.Source.File = l.fromScenario(name), l.shown(name)
	r.Open = func() (io.ReadCloser, error) {
		f, _, err := openFile(l.src.Files, name)
		return f, err
	}
	if l.src.Recordings != nil {
		r = l.src.Recordings.Keep(keyOf(name, r), r)
	}
	return r, true
}

// fromScenario is the name of a file from the scenario's folder, in or below which
// all files lie: the same wherever the program is called from, and one for a file
// that several lists name.
func (l *loader) fromScenario(name string) string {
	return strings.TrimPrefix(name, path.Dir(path.Clean(l.src.Scenario))+"/")
}

// logFile is the path of a recording's file, which must be there.
func (l *loader) logFile(n *node) (string, bool) {
	name, ok := l.below(n, path.Dir(l.paths[n.at.File]))
	if !ok {
		return "", false
	}
	file, _, err := openFile(l.src.Files, name)
	if err == nil {
		file.Close()
	} else {
		l.diags.Errorf(n.at, "file", fileMend(err, l.src.Files, name, n.text), "the file `%s` cannot be read: %s", l.shown(name), fileFault(err))
		return "", false
	}
	return name, true
}

// logForm reads how a recording's file is written, as far as that is said.
func (l *loader) logForm(f *fields, r *reading.Recording) {
	s := &r.Source
	choice := func(key string, choices ...string) string {
		text := f.text(key, false)
		if n := f.n.get(key); n != nil && n.kind == textNode && !n.bad {
			if text = n.text; !slices.Contains(choices, text) {
				f.fault(n.at, "choice", "Write one of "+quotedList(choices)+".", "`%s` cannot be \"%s\"", key, shorten(text, 60))
				return ""
			}
		}
		return text
	}
	if d := choice("delimiter", ",", ";", "tab", "\t"); d == "tab" {
		s.Delimiter = '\t'
	} else if d != "" {
		s.Delimiter = rune(d[0])
	}
	if d := choice("decimal", ".", ","); d != "" {
		s.Decimal = d[0]
	}
	s.TimeForm = recording.TimeForm(choice("time_form", timeForms...))
	if n := f.n.get("time_unit"); n != nil {
		if s.TimeUnit = l.unitOf(&ruleSet{inline: true}, f, n); f.ok && s.TimeUnit.Dim != unit.Hour {
			f.fault(n.at, "unit", "Write a unit of time, such as \"s\" or \"min\".", "`time_unit` is %s, not a time", s.TimeUnit.Dim.Describe())
		}
	}
	s.FirstRow = f.integer("first_row", 1, mostLines, 0)
	if s.LastRow = f.integer("last_row", 1, mostLines, 0); s.LastRow > 0 && s.LastRow <= s.FirstRow {
		f.fault(f.n.get("last_row").at, "bounds", "Count lines of the file from 1.", "`last_row` lies before `first_row`, or is the same")
	}
	if n := f.n.get("gap"); n != nil {
		v, ok := l.number(n, recordedTime, "gap", true)
		if ok && !(v > 0) {
			f.fault(n.at, "bounds", "Write the longest step that is no gap.", "`gap` must be above 0")
		}
		f.ok = f.ok && ok
		s.Gap = time.Duration(min(v, 1e6) * float64(time.Hour))
	}
	if n := f.n.get("gap_steps"); n != nil && f.kind(n, numberNode, "is a number", "Write it without quotes.") {
		if s.GapSteps = n.number; !(s.GapSteps >= 1 && s.GapSteps <= 1e6) {
			f.fault(n.at, "bounds", "Write how many usual steps are no gap yet, such as 5.", "`gap_steps` must be at least 1, and no more than a million")
		}
	}
	if n := f.n.get("date"); n != nil {
		if field, _, ok := l.logField(f, n, Column{Unit: unit.One}); ok {
			s.Date = &field
		}
	}
}

// mostLines bounds the lines of a file that may be named.
const mostLines = 1_000_000_000

var timeForms = []string{
	string(recording.Number), string(recording.YearFirst), string(recording.DayFirst), string(recording.MonthFirst),
	string(recording.Clock), string(recording.HourMinute), string(recording.MinuteSecond),
}

// TimeForms are the words for how times of a recording may be written.
func TimeForms() []string { return slices.Clone(timeForms) }

// recordedTime is the unit in which times of recordings are counted.
var recordedTime = unit.Base(unit.Hour)

// logColumns reads where in the file the columns stand. A column that is named is
// needed, though the rules do without it.
func (l *loader) logColumns(f *fields, q *Quantity, r *reading.Recording) {
	for i, c := range q.Columns {
		n := f.n.get(c.Name)
		if n == nil {
			continue
		}
		field, given, ok := l.logField(f, n, c)
		if !ok {
			continue
		}
		if r.Source.Fields == nil {
			r.Source.Fields = map[string]recording.Field{}
		}
		r.Source.Fields[c.Name] = field
		r.Layout.Columns[i].Optional = r.Layout.Columns[i].Optional && !given
	}
}

// logField reads where a column stands: its header, its number, or a table of
// these with its unit and whether its sign is reversed. It tells whether a place
// is given.
func (l *loader) logField(f *fields, n *node, c Column) (field recording.Field, given, ok bool) {
	place := func(n *node) {
		switch {
		case n.bad:
			f.ok = false
		case n.kind == textNode && strings.TrimSpace(n.text) != "":
			field.Header, given = n.text, true
		case n.kind == numberNode && n.whole && n.number >= 1 && n.number < 1e6:
			field.Number, given = int(n.number), true
		default:
			f.fault(n.at, "wrong-type", "Write the header as it stands in the file, or the number of the column, counted from 1.",
				"`%s` is no header and no number of a column", n.key)
		}
	}
	if n.kind != tableNode {
		place(n)
		return field, given, f.ok
	}
	own := l.fields(n, "a column of a recording")
	if own == nil {
		f.ok = false
		return field, false, false
	}
	if kid := n.get("column"); kid != nil {
		place(kid)
	}
	if kid := n.get("unit"); kid != nil {
		u := l.unitOf(&ruleSet{inline: true}, own, kid)
		field.Unit = &u
	}
	if own.truth("reversed") {
		if field.Unit == nil {
			own.fault(n.get("reversed").keyAt, "missing", "Add unit = \""+c.Unit.Name+"\", or the unit in which the file gives it.",
				"a column whose sign is reversed needs its unit")
		} else {
			field.Unit.Mul = -field.Unit.Mul
		}
	}
	f.ok = f.ok && own.ok
	return field, given, f.ok
}

// keyOf tells recordings apart that are read in different ways.
func keyOf(name string, r *reading.Recording) string {
	s := r.Source
	key := fmt.Sprint(name, r.Layout, s.Delimiter, s.Decimal, s.TimeForm, s.TimeUnit, s.FirstRow, s.LastRow, s.GapSteps, s.Gap)
	field := func(f *recording.Field) string {
		if f == nil {
			return "-"
		}
		u := unit.Unit{}
		if f.Unit != nil {
			u = *f.Unit
		}
		return strconv.Quote(f.Header) + fmt.Sprint(f.Number, u)
	}
	key += field(s.Date)
	for _, c := range r.Layout.Columns {
		if f, ok := s.Fields[c.Name]; ok {
			key += field(&f)
		}
		key += ";"
	}
	return key
}

// Recordings are the recordings that the items of a model name, each once, with
// the place that names it first.
func (m *Model) Recordings() (list []*reading.Recording, at []diag.Pos) {
	for _, k := range m.Kinds {
		for _, q := range k.Quantities {
			for _, it := range k.Items {
				if g := it.Given[q.Name]; g != nil && g.Recording != nil && !slices.Contains(list, g.Recording) {
					list, at = append(list, g.Recording), append(at, g.At)
				}
			}
		}
	}
	return list, at
}
