package decl

import (
	"slices"

	"bankwright/engine/diag"
)

// Drawing is how each item of a kind is drawn ([drawing.NAME] in a rules file): a
// grid of parts in rows and columns between two lines, one positive and one
// negative, with further parts in these lines and from one to the other.
type Drawing struct {
	Name     string
	Title    string // of the picture, and of its sheet
	Of       *Kind
	Note     []Told    // lines below the title
	Foot     []Told    // lines at the bottom
	Cautions []*Notice // sentences below these
	Columns  Repeat
	Rows     Repeat
	Along    *Axis    // whose steps the columns are, for values by column; nil: there are none
	Positive *Formula // the column from which the positive line leaves, counted from 1; nil: the first
	Negative *Formula // that of the negative line
	Parts    []*Part
	At       diag.Pos
}

// Repeat is how often something is drawn, and how often at most.
type Repeat struct {
	Count *Formula // nil: once
	Most  int
	Name  string // of one of them
}

// Part is one part of a drawing ([drawing.NAME.part.NAME]).
type Part struct {
	Key     string
	Symbol  string // one of Sources.Symbols
	Marks   string // signs in the symbol
	Place   Place
	Name    string   // what it is; may be empty
	Is      string   // a reference or set of the kind: the part is the item, one for each
	When    *Formula // whether it is there; nil: always
	Label   []Told   // lines beside it
	Missing string   // stands where no value of the label is known
	At      diag.Pos
	IsAt    diag.Pos
}

// Told is a sentence with {paths} that are filled in.
type Told struct {
	Text string
	At   diag.Pos
}

// Place is where a part of a drawing stands.
type Place int

// The places. What is in the lines and what goes across stands in the order of the
// declaration, counted from the columns.
const (
	InCell   Place = iota // in each cell of the grid
	Between               // between a cell and the next in the same column
	InColumn              // once in each column, at its positive end
	Joining               // from each column to the next, in both lines
	Positive              // in the positive line
	Negative              // in the negative line
	Both                  // in both lines
	Across                // from the positive line to the negative one
	Below                 // a row of values below the columns, without a symbol
)

// places are the words of rules files for the places.
var places = []string{"cell", "between", "column", "join", "positive", "negative", "both", "across", "below"}

// Places are the words of rules files for the places.
func Places() []string { return slices.Clone(places) }

// String is the word that rules files use.
func (p Place) String() string { return places[p] }

// Limits of drawings: beyond, nothing can be read.
const (
	maxDrawn   = 40 // rows or columns
	usualDrawn = 8
)

func (l *loader) declareDrawing(_ *ruleSet, n *node) {
	f := l.fields(n, "a drawing")
	if f == nil || !l.nameOK(n.key, n.keyAt) || !l.unique("the drawing", n.key, n.keyAt) {
		return
	}
	d := &Drawing{Name: n.key, Title: f.text("title", false), Of: l.of(f), Note: sentences(f.texts("note", true)), Foot: sentences(f.texts("foot", true)), At: n.keyAt}
	if d.Title == "" {
		d.Title = heading(d.Name)
	}
	l.cautionsOf(d, f)
	if c := n.get("columns"); c != nil {
		if in := l.fields(c, "`columns`"); in != nil {
			d.Columns, d.Along = repeated(in), l.along(in)
			d.Positive, d.Negative = in.formula("positive", false), in.formula("negative", false)
			f.ok = f.ok && in.ok
		}
	}
	if r := n.get("rows"); r != nil {
		if in := l.fields(r, "`rows`"); in != nil {
			d.Rows = repeated(in)
			f.ok = f.ok && in.ok
		}
	}
	if parts := n.get("part"); parts == nil {
		f.fault(n.keyAt, "missing", "Add a table ["+"drawing."+n.key+".part.NAME].", "a drawing needs a `part`")
	} else if f.kind(parts, tableNode, "is a table of parts", "Write [drawing."+n.key+".part.NAME].") {
		for _, kid := range parts.kids {
			l.part(d, f, kid)
		}
	}
	if f.ok {
		l.model.Drawings = append(l.model.Drawings, d)
	}
}

// cautionsOf finds the cautions that are written below a drawing.
func (l *loader) cautionsOf(d *Drawing, f *fields) {
	var names []string
	for _, c := range l.model.Notices {
		names = append(names, c.Name)
	}
next:
	for _, n := range f.texts("cautions", false) {
		for _, c := range l.model.Notices {
			if c.Name == n.text {
				d.Cautions = append(d.Cautions, c)
				continue next
			}
		}
		if !l.unread {
			f.fault(n.at, "unknown-name", l.didYouMean(n.text, names), "there is no caution `%s`", shorten(n.text, 60))
		}
	}
}

// repeated reads how often something is drawn.
func repeated(f *fields) Repeat {
	return Repeat{Count: f.formula("count", false), Most: f.integer("most", 2, maxDrawn, usualDrawn), Name: f.text("name", false)}
}

// along is the axis of that name; nil where none is named.
func (l *loader) along(f *fields) *Axis {
	n := f.n.get("along")
	if n == nil || !f.kind(n, textNode, "is the name of an axis", "Put it between quotes.") {
		return nil
	}
	var names []string
	for _, a := range l.model.Axes {
		if a.Kind == nil {
			names = append(names, a.Name)
		}
	}
	if slices.Contains(names, n.text) {
		return l.axes[n.text]
	}
	if f.ok = false; !l.unread {
		f.fault(n.at, "unknown-name", l.didYouMean(n.text, names), "there is no axis `%s`", shorten(n.text, 60))
	}
	return nil
}

// part reads a part of a drawing.
func (l *loader) part(d *Drawing, of *fields, n *node) {
	f := l.fields(n, "a part")
	if f == nil || !l.nameOK(n.key, n.keyAt) {
		of.ok = false
		return
	}
	p := &Part{Key: n.key, Symbol: f.text("symbol", false), Marks: f.text("marks", false), Name: f.text("name", false), Is: f.text("is", false),
		When: f.formula("when", false), Label: sentences(f.texts("label", true)), Missing: f.text("missing", false), At: n.keyAt}
	if is := n.get("is"); is != nil {
		p.IsAt = is.at
		f.clash("`is`, since the part is named as the item", "name")
	}
	if word := f.text("at", true); word != "" {
		if p.Place = placeOf(word); p.Place < 0 {
			f.fault(n.get("at").at, "choice", l.didYouMean(word, places), "`%s` is no place in a drawing", shorten(word, 60))
		}
	}
	l.symbol(f, p)
	if of.ok = of.ok && f.ok; f.ok {
		d.Parts = append(d.Parts, p)
	}
}

// symbol checks that a part has a symbol that can be drawn.
func (l *loader) symbol(f *fields, p *Part) {
	switch n := f.n.get("symbol"); {
	case p.Place == Below && n != nil:
		f.clash("a row of values", "symbol")
	case n == nil && p.Place != Below:
		f.missing("symbol")
	case n != nil && l.src.Symbols != nil && f.ok && !slices.Contains(l.src.Symbols, p.Symbol):
		f.fault(n.at, "choice", l.didYouMean(p.Symbol, l.src.Symbols), "there is no symbol `%s`", shorten(p.Symbol, 60))
	}
}

// placeOf is the place of a word, or less than none.
func placeOf(word string) Place { return Place(slices.Index(places, word)) }

// sentences are the sentences of nodes.
func sentences(nodes []*node) []Told {
	var out []Told
	for _, n := range nodes {
		out = append(out, Told{n.text, n.at})
	}
	return out
}
