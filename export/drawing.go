package export

import (
	"strings"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
	"bankwright/export/picture"
)

// Circuit is the drawing of an item, with its values filled in.
func Circuit(m *engine.Model, d *check.Drawing, item int) picture.Circuit {
	b := drawn{m: m, d: d, item: item}
	k := picture.Circuit{
		Title:   d.Title + ": " + itemLabel(d.Kind.Items[item]),
		Note:    strings.Join(b.lines(d.Note, item, nil, 0), " "),
		Columns: picture.Repeat{Count: b.count(d.Columns), Most: max(d.Drawing.Columns.Most, 2), Name: d.Drawing.Columns.Name},
		Rows:    picture.Repeat{Count: b.count(d.Rows), Most: max(d.Drawing.Rows.Most, 2), Name: d.Drawing.Rows.Name},
	}
	k.Positive, k.Negative = min(b.count(d.Positive), k.Columns.Count), min(b.count(d.Negative), k.Columns.Count)
	k.Foot = b.lines(d.Foot, item, nil, 0)
	for _, n := range d.Cautions {
		k.Foot = append(k.Foot, n.Text)
	}
	for _, p := range d.Parts {
		k.Parts = append(k.Parts, b.parts(p, k.Columns.Count)...)
	}
	return k
}

// drawn is a drawing of an item in the making.
type drawn struct {
	m    *engine.Model
	d    *check.Drawing
	item int
}

// count is the value of a count, at least 1; that is also what an unknown one is.
func (b drawn) count(e *check.Expr) int {
	if e == nil {
		return 1
	}
	const most = 1e6 // more than can be drawn, which the picture says
	if v := b.m.Result.Evaluate(e, b.item, nil, 0); v > 1 {
		return int(min(v, most) + tolerance)
	}
	return 1
}

// parts are those that a declared part stands for: none where its condition is not
// met or not known, several where it is a set.
func (b drawn) parts(p *check.DrawnPart, columns int) []picture.Part {
	if p.Place == decl.Below {
		return []picture.Part{{Place: picture.Below, Name: p.Name, Values: b.values(p, columns)}}
	}
	var out []picture.Part
	for _, item := range toldBy(b.m.Result, p, b.item) {
		if !b.there(p, item, 0) {
			continue
		}
		part := picture.Part{Symbol: p.Symbol, Marks: p.Marks, Place: picture.Place(p.Place.String()), Name: p.Name, Label: b.label(p, item)}
		if p.Is != nil {
			part.Name = itemLabel(p.Kind.Items[item])
		}
		out = append(out, part)
	}
	return out
}

// toldBy are the items whose values a part tells in the drawing of an item.
func toldBy(res *eval.Result, p *check.DrawnPart, item int) []int {
	if p.Is == nil {
		return []int{item}
	}
	var out []int
	for i := range p.Kind.Items {
		if p.Is.Type == decl.Set && res.At(p.Is, item, i) == 1 || p.Is.Type == decl.Reference && res.At(p.Is, item, 0) == float64(i) {
			out = append(out, i)
		}
	}
	return out
}

func (b drawn) there(p *check.DrawnPart, item, step int) bool {
	return p.When == nil || b.m.Result.Evaluate(p.When, item, p.Axis, step) == 1
}

// values are those of a row below the columns.
func (b drawn) values(p *check.DrawnPart, columns int) []string {
	out := make([]string, min(columns, p.Axis.Steps))
	for c := range out {
		if b.there(p, b.item, c) {
			out[c] = strings.Join(b.lines(p.Label, b.item, p.Axis, c), " ")
		}
	}
	return out
}

// label is the lines of a part's label of which all values are known; in place of the
// first that has values, what the rules say where it is not.
func (b drawn) label(p *check.DrawnPart, item int) []string {
	var out []string
	first := true
	for _, l := range p.Label {
		text, known := b.m.Line(l, item, nil, 0)
		if !known && first {
			text = p.Missing
		}
		if known || first && text != "" {
			out = append(out, text)
		}
		first = first && !hasValue(l)
	}
	return out
}

// lines are the lines of which all values are known.
func (b drawn) lines(list [][]check.Part, item int, axis *decl.Axis, step int) []string {
	var out []string
	for _, l := range list {
		if text, known := b.m.Line(l, item, axis, step); known {
			out = append(out, text)
		}
	}
	return out
}

func hasValue(line []check.Part) bool {
	for _, p := range line {
		if p.Read != nil {
			return true
		}
	}
	return false
}
