package decl

import "bankwright/engine/diag"

// Parts are quantities of the compared kind that add up to another one of it: what
// a figure is made of, for a chart.
type Parts struct {
	Sum string   // the quantity to which they add up
	Of  []string // the parts, in the order in which they are drawn
	At  diag.Pos
}

// charting reads what `compare` says of charts.
func (l *loader) charting(c *Compare, f *fields) {
	c.Chart = plain(f.texts("chart", false))
	n := f.n.get("parts")
	if n == nil {
		return
	}
	in := l.fields(n, "`parts`")
	if in == nil {
		return
	}
	p := &Parts{Sum: in.text("sum", true), Of: plain(in.texts("of", false)), At: n.keyAt}
	if len(p.Of) < 2 && (!in.has("of") || !in.n.get("of").bad) {
		in.fault(n.keyAt, "missing", `Write of = ["…", "…"].`, "`parts` needs `of`, a list of two or more quantities")
	}
	seen := map[string]bool{p.Sum: true}
	for _, name := range p.Of {
		if seen[name] {
			in.fault(n.keyAt, "duplicate", "Name each part once, and the sum not among them.", "`parts` names `%s` twice", name)
		}
		seen[name] = true
	}
	if in.ok {
		c.Parts = p
	}
}
