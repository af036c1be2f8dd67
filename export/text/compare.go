package text

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/unit"
	"bankwright/export/told"
)

// row is a line of the side-by-side table, its cells in ranked order.
type row struct {
	label, unit string
	cells       []string
	code        string // colour of the whole row
}

// Compare writes the items of the compared kind side by side, best first, then
// who wins and by how much, then the checks that are not met. Where there are
// many, those that need not be shown in full stand in one table, unless the style asks
// for all. A style may ask for some sections only, by names that Section knows.
func Compare(w io.Writer, m *engine.Model, st Style) {
	every := m.Compare()
	c := every
	if !st.All {
		c = only(every, every.Full())
	}
	title(w, m, st)
	if s := m.Sentence(c.Kind.Summary, 0); s != "" {
		sentence(w, st, "%s", s)
	}
	if st.Only == nil {
		for _, s := range sections {
			writeSection(w, func(w io.Writer) { s.write(w, m, c, every, st) })
		}
		return
	}
	for _, name := range st.Only {
		if i := slices.IndexFunc(sections, func(s section) bool { return s.name == name }); i >= 0 {
			writeSection(w, func(w io.Writer) { sections[i].write(w, m, c, every, st) })
			continue
		}
		writeSection(w, func(w io.Writer) { writeQuantities(w, m, c, name, st) })
	}
}

// title writes the scenario's title, and the currency at the right edge.
func title(w io.Writer, m *engine.Model, st Style) {
	t, money := m.Model.Title, ""
	if m.Model.Currency != "" {
		money = "money in " + m.Model.Currency
	}
	gap := max(2, st.Width-width(t)-width(money))
	fmt.Fprintln(w, strings.TrimRight(st.paint(bold, t)+strings.Repeat(" ", gap)+money, " "))
}

// heads is the line of names above a table.
func heads(c *engine.Comparison) row {
	r := row{code: bold}
	for _, s := range c.Ranked {
		r.cells = append(r.cells, engine.ItemAlias(c.Kind.Items[s.Item]))
	}
	return r
}

// rows makes the lines of the table.
func rows(m *engine.Model, c *engine.Comparison) []row {
	out := []row{heads(c)}
	for _, name := range shown(c.Kind) {
		out = append(out, figures(m, c, c.Kind.Quantity(name)))
	}
	return append(out, places(c))
}

// shown is what the rules ask to be shown, the deciding quantity last.
func shown(k *check.Kind) []string {
	var out []string
	for _, name := range k.Compare.Show {
		if name != k.Compare.By {
			out = append(out, name)
		}
	}
	return append(out, k.Compare.By)
}

// figures is one quantity of all items, with decimals that they share.
func figures(m *engine.Model, c *engine.Comparison, q *check.Quantity) row {
	r := row{label: q.Label}
	if q.Type != decl.Number {
		for _, s := range c.Ranked {
			r.cells = append(r.cells, m.Text(q, m.Result.At(q, s.Item, 0)))
		}
		return r
	}
	r.unit = q.Unit.In(m.Model.Currency)
	var values []float64
	for _, s := range c.Ranked {
		if v := m.Result.At(q, s.Item, 0); v == v {
			values = append(values, q.Unit.FromBase(v))
		}
	}
	digits := q.Decimals
	if digits < 0 {
		digits = unit.DecimalsFor(values)
	}
	for _, s := range c.Ranked {
		v := m.Result.At(q, s.Item, 0)
		if v != v {
			r.cells = append(r.cells, "-")
			continue
		}
		r.cells = append(r.cells, unit.Format(q.Unit.FromBase(v), digits))
	}
	return r
}

// places says how far behind the best each item is, or why it cannot win.
func places(c *engine.Comparison) row {
	r := row{}
	for i, s := range c.Ranked {
		switch {
		case s.Stopped:
			r.cells = append(r.cells, "stop")
		case s.Unfit:
			r.cells = append(r.cells, "unfit")
		case !s.Eligible:
			r.cells = append(r.cells, "no figure")
		case i == 0:
			r.cells = append(r.cells, "best")
		default:
			r.cells = append(r.cells, behind(c, s))
		}
	}
	return r
}

// behind says how far from the best a figure is.
func behind(c *engine.Comparison, s engine.Standing) string {
	if c.Level(s) {
		return "level"
	}
	if lag := c.Lag(s); !math.IsInf(lag, 0) {
		return percent(lag)
	}
	return "behind" // the best is 0, of which there is no share
}

// percent writes a share with its sign: "+ 4 %".
func percent(share float64) string {
	sign := "+ "
	if share < 0 {
		sign, share = "- ", -share
	}
	return sign + told.Size(share)
}

// writeBlocks writes the table in blocks that fit the width.
func writeBlocks(w io.Writer, c *engine.Comparison, all []row, st Style) {
	var columns [][]string
	unitWidth, widestColumn := 0, 0
	for i := range c.Ranked {
		columns = append(columns, column(all, i))
		widestColumn = max(widestColumn, 2+widest(columns[i]))
	}
	label := 0
	for _, r := range all {
		label, unitWidth = max(label, width(r.label)), max(unitWidth, width(r.unit))
	}
	label = min(label, max(narrowLabel, st.Width-2-unitWidth-widestColumn))
	for from := 0; from < len(columns); {
		var cols [][]string
		used := label + 2 + unitWidth
		for _, col := range columns[from:] {
			n := 2 + widest(col)
			if len(cols) > 0 && used+n > st.Width {
				break
			}
			used += n
			for j := range col {
				col[j] = padLeft(col[j], n)
			}
			cols = append(cols, col)
		}
		writeBlock(w, all, cols, label, unitWidth, st)
		from += len(cols)
	}
}

// narrowLabel is how much room the labels of rows have at least; longer ones are broken.
const narrowLabel = 10

// column is the cells of one item, decimal points aligned across the row.
func column(all []row, i int) []string {
	out := make([]string, len(all))
	for j, r := range all {
		out[j] = alignPoints(r.cells)[i]
	}
	return out
}

func writeBlock(w io.Writer, all []row, cols [][]string, label, unitWidth int, st Style) {
	for j, r := range all {
		parts := []string{r.label}
		if width(r.label) > label {
			parts = strings.Split(strings.Join(wrap(r.label, label-2), "\n  "), "\n")
		}
		last := len(parts) - 1
		for _, part := range parts[:last] {
			fmt.Fprintln(w, st.paint(r.code, part))
		}
		line := padRight(parts[last], label) + "  " + padRight(r.unit, unitWidth)
		for _, col := range cols {
			line += col[j]
		}
		fmt.Fprintln(w, st.paint(r.code, strings.TrimRight(line, " ")))
	}
	fmt.Fprintln(w)
}

// Verdict says in one sentence which item is best and by how much.
func Verdict(m *engine.Model, c *engine.Comparison) string {
	if len(c.Ranked) == 0 {
		return fmt.Sprintf("The scenario names no %s to compare.", c.Kind.Plural)
	}
	best, ok := c.Best()
	if !ok && !anyFigure(c) {
		return fmt.Sprintf("None of the %s has a figure: %s cannot be calculated from these inputs.", c.Kind.Plural, c.By.Label)
	}
	if !ok {
		return fmt.Sprintf("None of the %s can be recommended: each fails a check that forbids it or would not serve.", c.Kind.Plural)
	}
	name := func(s engine.Standing) string { return engine.ItemAlias(c.Kind.Items[s.Item]) }
	extreme, side := "lowest", "above"
	if !c.Kind.Compare.Lowest {
		extreme, side = "highest", "below"
	}
	among := ""
	if c.Beaten() {
		among = told.Among
	}
	s := fmt.Sprintf("%s is best: it has the %s %s%s, %s", name(best), extreme, c.By.Label, among, m.Text(c.By, best.Figure))
	if len(c.Ranked) > 1 && c.Ranked[1].Eligible {
		second := c.Ranked[1]
		if c.Level(second) {
			return s + fmt.Sprintf(", level with %s.", name(second))
		}
		if lag := c.Lag(second); !math.IsInf(lag, 0) {
			return s + fmt.Sprintf("; %s lies %s %s.", name(second), told.Size(lag), side)
		}
		return s + fmt.Sprintf("; %s comes next.", name(second))
	}
	if len(c.Ranked) == 1 {
		return s + "; there is no other to compare it with."
	}
	return s + "; no other may be built and serves."
}

func anyFigure(c *engine.Comparison) bool {
	for _, s := range c.Ranked {
		if s.Figure == s.Figure {
			return true
		}
	}
	return false
}

// writeAnswers answers the questions about the best item, or about the first
// where none can be recommended.
func writeAnswers(w io.Writer, m *engine.Model, c *engine.Comparison, st Style) {
	if len(c.Ranked) == 0 || len(m.Questions) == 0 {
		return
	}
	first := c.Ranked[0].Item
	fmt.Fprintf(w, "\n%s\n", st.paint(bold, "Questions about "+engine.ItemAlias(c.Kind.Items[first])))
	for _, q := range m.Questions {
		if q.Kind == c.Kind {
			fmt.Fprint(w, hang("", q.Ask+" "+m.Sentence(q.Sentence, first), 2, st.Width))
		}
	}
}

// mostNotices is how many lines the sentences that every output carries may
// take; fewNotices is how many of them are shown where they would take more.
const (
	mostNotices = 12
	fewNotices  = 3
)

// writeNotices closes with the sentences that every output carries, or with the
// first of them and the command that shows the rest.
func writeNotices(w io.Writer, m *engine.Model, st Style) {
	var all []string
	lines := 0
	for _, n := range m.Model.Notices {
		text := hang("- ", n.Text, 2, st.Width)
		if len(m.Model.Notices) == 1 {
			text = hang("", n.Text, 0, st.Width)
		}
		all = append(all, text)
		lines += strings.Count(text, "\n")
	}
	if len(all) == 0 {
		return
	}
	more := 0
	if lines > mostNotices && len(all) > fewNotices {
		all, more = all[:fewNotices], len(all)-fewNotices
	}
	fmt.Fprint(w, "\n"+strings.Join(all, ""))
	word := "cautions"
	if more == 1 {
		word = "caution"
	}
	tell := fmt.Sprintf("%d more %s", more, word)
	switch {
	case more == 0:
	case st.Cautions == "":
		fmt.Fprintln(w, tell+".")
	case width(tell)+2+width(st.Cautions) <= st.Width:
		fmt.Fprintln(w, tell+": "+st.Cautions)
	default: // a command is copied, so it is not broken
		fmt.Fprintln(w, tell+":\n  "+st.Cautions)
	}
}
