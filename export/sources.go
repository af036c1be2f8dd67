package export

import (
	"slices"
	"strings"
	"unicode/utf8"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/unit"
)

const sourcesName = "Sources and cautions"

// sourceHead is the row of heads of the sheet of sources.
const sourceHead = 3

// Columns of the sheet of sources.
const (
	sourceNameCol = 2
	sourceTextCol = 5
	sourceNumCol  = 6
)

// sourceSheet is the sheet of sources in the making.
type sourceSheet struct {
	s       *Sheet
	row     int
	sources []string         // in the order in which they are named
	behind  map[string][]int // the rows that each stands behind
}

// drawSources draws what every figure rests on: the formulas as the rules say
// them, what they mean and where they come from. Each source stands once, below; it
// leads to the first of its rows, as these do to it, and a name to where it is worked out,
// whose label leads back. None leads out of the workbook.
func (pl *plan) drawSources(checks *checkPage) *Sheet {
	d := &sourceSheet{row: sourceHead + 1, behind: map[string][]int{}}
	d.s = pl.head(&page{name: sourcesName, title: sourcesName, lead: "Every rule as it is written in the rules files; the sources that the numbers stand for are listed below them."})
	s := d.s
	s.FreezeRows, s.Print.RepeatRows = sourceHead, sourceHead
	s.Widths = []float64{11, 30, 9, 62, 76, 7}
	for i, h := range []string{"belongs to", "name", "unit", "formula", "meaning", "source"} {
		s.text(sourceHead, i+1, h, HeadText)
	}
	for _, n := range pl.prog.Model.Notices {
		d.add(n.Source, "", "caution", n.Name, "", "", n.Text)
	}
	for _, k := range pl.prog.Kinds {
		for _, q := range k.Quantities {
			if q.IsRule() || q.Inverse != nil { // what inputs mean stands beside them
				d.back(pl.spotOf(q))
				d.add(q.Source, pl.leads(q), k.Name, q.Name, pl.unitName(q.Unit), asWritten(q), q.Doc)
			}
		}
	}
	for _, c := range pl.prog.Checks {
		to := ""
		if row := checks.rowOf(c); row > 0 {
			to = checks.name + "!" + cellName(row, labelCol)
			d.back(checks.sheet, row, labelCol)
		}
		d.add(c.Source, to, c.Of.Name, c.Name, c.Severity.String(), c.Require.Text, strings.TrimSpace(c.Doc+" "+c.Otherwise))
	}
	for _, t := range pl.prog.Model.Tables {
		d.add(t.Source, "", "table", t.Name, "", columnList(t), t.Doc)
	}
	d.list()
	pl.leadOn()
	return s
}

// leadOn has the labels of what is brought from another sheet lead there.
func (pl *plan) leadOn() {
	for _, pg := range pl.rulePages() {
		for _, l := range pg.pulled {
			if l.of == nil || pg.sheet == nil {
				continue
			}
			if s, row, col := pl.spotOf(l.of); s != nil {
				pg.sheet.lead(l.row, labelCol, quoteSheet(s.Name)+"!"+cellName(row, col))
			}
		}
	}
}

// add draws a row; its name leads somewhere, or nowhere.
func (d *sourceSheet) add(source, to string, texts ...string) {
	for i, t := range texts {
		if t != "" {
			d.s.text(d.row, i+1, t, Remark)
		}
	}
	if to != "" {
		d.s.Set(d.row, sourceNameCol, Cell{Value: texts[sourceNameCol-1], Style: Link, Link: to})
	}
	if source != "" {
		if d.behind[source] == nil {
			d.sources = append(d.sources, source)
		}
		d.behind[source] = append(d.behind[source], d.row)
	}
	d.row++
}

// list draws the sources, and has rows and sources lead to each other.
func (d *sourceSheet) list() {
	here := quoteSheet(sourcesName) + "!"
	d.row++
	d.s.text(d.row, 1, "Sources", Heading)
	d.row++
	for i, source := range d.sources {
		rows, n := d.behind[source], float64(i+1)
		for _, row := range rows {
			d.s.Set(row, sourceNumCol, Cell{Value: n, Style: Link, Link: here + cellName(d.row, sourceTextCol)})
		}
		said := "behind 1 row"
		if len(rows) > 1 {
			said = "behind " + unit.Format(float64(len(rows)), 0) + " rows: the first"
		}
		d.s.text(d.row, 1, "source", Remark)
		d.s.Set(d.row, sourceNameCol, Cell{Value: said, Style: Link, Link: here + cellName(rows[0], sourceNameCol)})
		d.s.text(d.row, sourceTextCol, source, Remark)
		d.s.Set(d.row, sourceNumCol, Cell{Value: n, Style: Remark})
		d.row++
	}
}

// leads is the place where a quantity is worked out, "" where it has none.
func (pl *plan) leads(q *check.Quantity) string {
	s, row, _ := pl.spotOf(q)
	if s == nil {
		return ""
	}
	return quoteSheet(s.Name) + "!" + cellName(row, pl.places[q].col)
}

// spotOf is where the label of a quantity stands; no sheet where it has none.
func (pl *plan) spotOf(q *check.Quantity) (s *Sheet, row, col int) {
	l := pl.places[q]
	if l == nil || l.row == 0 || l.page.sheet == nil {
		return nil, 0, 0
	}
	if len(l.page.axes) > 0 {
		return l.page.sheet, l.row - bandRows, l.col
	}
	return l.page.sheet, l.row, labelCol
}

// back has a label lead to the row that is to be drawn next. It keeps its look: where all
// labels lead somewhere, lines below them would tell nothing.
func (d *sourceSheet) back(s *Sheet, row, col int) {
	if s != nil {
		s.lead(row, col, quoteSheet(sourcesName)+"!"+cellName(d.row, sourceNameCol))
	}
}

// lead has a label lead somewhere. One that takes more than a line lets what stands beside it
// lead: some programs do not break the lines of a cell that leads somewhere, and cut it.
func (s *Sheet) lead(row, col int, to string) {
	if said, ok := s.At(row, col).Value.(string); ok && col == labelCol && utf8.RuneCountInString(said) > int(s.Widths[col-1]) {
		if beside := s.At(row, col+1); beside != (Cell{}) {
			col++
		}
	}
	if c := s.At(row, col); c.Link == "" && c != (Cell{}) {
		c.Link = to
		s.Set(row, col, c)
	}
}

// rowOf is the row of a check on the sheet of checks, 0 where it has none.
func (pg *checkPage) rowOf(c *check.Check) int {
	if pg.firstOf[c.Result.Kind] == 0 {
		return 0
	}
	return pg.firstOf[c.Result.Kind] + slices.Index(pg.drawn[c.Result.Kind], c)
}

// asWritten is the formula of a quantity as the rules have it.
func asWritten(q *check.Quantity) string {
	switch {
	case q.Inverse != nil:
		return "inverse of " + q.To.Name + "." + q.Inverse.Name
	case q.Quantity.Start != nil:
		return q.Formula.Text + "; before the first step: " + q.Quantity.Start.Text
	}
	return q.Formula.Text
}

func columnList(t *decl.Table) string {
	var names []string
	for _, c := range t.Columns {
		names = append(names, c.Name)
	}
	return strings.Join(names, ", ")
}
