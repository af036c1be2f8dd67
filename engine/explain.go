package engine

import (
	"bankwright/engine/decl"
	"bankwright/engine/eval"
)

// Trace tells how a cell came about.
type Trace struct {
	Cell    eval.Cell
	Name    string // kind.item.quantity[step]
	Value   float64
	Text    string // value with unit
	Formula *decl.Formula
	Given   *decl.Given // a given value
	Reason  string      // why there is no value
	Verdict string      // a check that is not met: its sentence

	Recorded []string // where in recordings it was found, or how a recording was read
	From     []*Trace
	Cut      bool // it reads further cells, which are not traced
}

// verdict is the sentence of a check that is not met.
func (m *Model) verdict(c eval.Cell) string {
	for _, k := range m.Checks {
		if k.Result == c.Quantity {
			return m.Sentence(k.Message, c.Item)
		}
	}
	return ""
}

// Explain traces a cell down to depth levels of what it was computed from. What several
// cells read at one level is one trace.
func (m *Model) Explain(c eval.Cell, depth int) *Trace {
	return m.trace(c, depth, map[level]*Trace{})
}

// level is a cell and how many levels are traced below it.
type level struct {
	cell  eval.Cell
	depth int
}

func (m *Model) trace(c eval.Cell, depth int, known map[level]*Trace) *Trace {
	if t := known[level{c, depth}]; t != nil {
		return t
	}
	q := c.Quantity
	t := &Trace{Cell: c, Name: m.CellName(c), Text: m.CellText(c), Formula: m.FormulaAt(c), Value: nan()}
	known[level{c, depth}] = t
	if !q.Type.Tabular() {
		t.Value = m.Result.At(q, c.Item, c.Row)
		if t.Value == 0 && m.IsCheck(q) {
			t.Verdict = m.verdict(c)
		}
		if t.Value != t.Value {
			t.Reason = m.whySentence(m.Result.Why(c))
		}
	}
	if rec := m.Result.RecordingOf(q, c.Item); rec != nil {
		t.Recorded = recordingAbout(rec)
	} else if t.Formula != nil {
		t.Recorded = m.recorded(c)
	}
	if t.Formula == nil && q.Inverse == nil {
		t.Given = q.GivenFor(q.Kind.Items[c.Item])
		return t
	}
	reads := m.Result.Reads(c)
	if t.Cut = depth == 0 && len(reads) > 0; t.Cut {
		return t
	}
	for _, r := range reads {
		t.From = append(t.From, m.trace(r, depth-1, known))
	}
	return t
}

// Below is how many levels are to be traced below a cell for all to be told, down to
// what is given, and the cells that stand there, each where it is first read.
func (m *Model) Below(c eval.Cell) (levels int, cells []eval.Cell) {
	seen := map[eval.Cell]bool{c: true}
	for at, level := []eval.Cell{c}, 1; len(at) > 0; level++ {
		from := len(cells)
		for _, c := range at {
			if m.FormulaAt(c) == nil && c.Quantity.Inverse == nil {
				continue
			}
			for _, r := range m.Result.Reads(c) {
				levels = level
				if !seen[r] {
					seen[r] = true
					cells = append(cells, r)
				}
			}
		}
		at = cells[from:]
	}
	return levels, cells
}

// GivenBelow are the traces of the cells below one that the scenario gives, in the order
// in which they are read.
func (m *Model) GivenBelow(c eval.Cell) (out []*Trace) {
	_, cells := m.Below(c)
	for _, r := range cells {
		if t := m.Explain(r, 0); t.Given != nil && !t.Given.Default {
			out = append(out, t)
		}
	}
	return out
}
