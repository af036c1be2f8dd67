package export

import (
	"strings"
	"unicode/utf8"
)

// The words of the sheet Computed.
const (
	unchanged = "unchanged"
	changed   = "changed"
	notGiven  = "not given"
)

// Columns of the list of inputs on the sheet Computed. Behind them stands a
// column for each computed quantity, where there are several.
const (
	thenInputCol = 1 + iota
	thenOwnerCol
	thenUnitCol
	thenLiveCol
	thenValueCol
	thenStateCol
)

const (
	computedStateRow = 3 // the one cell that says whether anything changed
	computedHeadRow  = 5
)

// stand is an input as it stands now and as it stood when the workbook was
// written.
type stand struct {
	label, owner, unit string
	live               string // the formula of its value now
	then               any
	look               Style // of the value now
	format             string
	worked             bool   // it has a formula of its own: rounding may differ
	of                 []bool // which of the values that are looked at follow from it
	at                 Range
}

// drawComputed draws the sheet that says whether what is not live still fits
// the inputs, nil where all is live.
func (pl *plan) drawComputed() *Sheet {
	if len(pl.computed) == 0 {
		return nil
	}
	pg := &page{name: computedName, title: computedName, lead: "No spreadsheet formula can say these figures. They were computed when the workbook was written, from the inputs listed here; all else follows them."}
	s := pl.head(pg)
	var all []*influence
	var heads []string
	for _, c := range pl.computed {
		all = append(all, influenceOn(pl.res, c.cells()...))
		heads = append(heads, computedLabel(c))
	}
	pl.stands = pl.standing(all...)
	rows := len(pl.computed) + len(pl.sets)
	if len(pl.computed) > 1 {
		rows++
	}
	first := computedHeadRow + rows + 4
	last := first + len(pl.stands) - 1
	s.Widths = []float64{labelWidth, 26, 12, 16, 16, 14}
	if len(pl.computed) > 1 {
		s.FreezeCols = labelCol
		for range pl.computed {
			s.Widths = append(s.Widths, flagWidth)
		}
		over := max(0, min(24, s.printed()-readLandscape))
		s.Widths[0], s.Widths[1] = s.Widths[0]-over/2, s.Widths[1]-over/2
	}
	pl.drawSince(s, first, last)
	drawStands(s, first, pl.stands, heads)
	s.FreezeRows, s.Print.RepeatRows = computedStateRow, computedStateRow
	if rows <= 4 {
		s.FreezeRows, s.Print.RepeatRows = first-1, first-1
	}
	area := cellName(computedHeadRow, 1) + ":" + cellName(max(last, first), len(s.Widths))
	s.Marks = append(s.Marks, Mark{area, changed, Unfit}, Mark{area, unchanged, Passed})
	return s
}

// drawSince draws the state of all, and a row for each computed quantity.
func (pl *plan) drawSince(s *Sheet, first, last int) {
	for i, h := range []string{"computed, not live", "on the sheet", "", "inputs since", "the first that changed"} {
		if h != "" {
			s.text(computedHeadRow, i+1, h, HeadText)
		}
	}
	row := computedHeadRow + 1
	state := func(label, is string, col int) {
		cells := func(c int) string { return standCells(c, first, last) }
		s.text(row, thenInputCol, label, Label)
		s.Set(row, thenLiveCol, Cell{Formula: "IF(COUNTIF(" + cells(col) + "," + is + `)=0,"` + unchanged + `","` + changed + `")`, Style: ComputedText})
		s.Set(row, thenLiveCol+1, Cell{Formula: "IF(" + cellName(row, thenLiveCol) + `="` + unchanged + `","",` + firstChanged(is, col, first, last) + ")", Style: Sentence})
	}
	if len(pl.computed) > 1 {
		state("All of them", isChanged, thenStateCol)
		row++
	}
	for i, c := range pl.computed {
		if label := computedLabel(c); len(pl.computed) > 1 {
			state(number(float64(i+1))+": "+label, "1", thenStateCol+1+i)
		} else {
			state(label, isChanged, thenStateCol)
		}
		s.Set(row, thenOwnerCol, Cell{Value: c.line.page.name, Style: Link, Link: quoteSheet(c.line.page.name) + "!" + cellName(c.line.row, c.line.col)})
		row++
	}
	for n, set := range pl.sets {
		s.text(row, thenInputCol, "Any of a set of them, "+number(float64(n+1)), Label)
		s.Set(row, thenLiveCol, Cell{Formula: "IF(" + pl.countChanged(set) + `>0,"` + changed + `","` + unchanged + `")`, Style: ComputedText})
		row++
	}
	all := allComputed
	name := "$" + columnName(thenLiveCol+1) + "$" + number(computedHeadRow+1)
	s.Set(computedStateRow, 1, Cell{Formula: "IF(" + all + `="` + unchanged + `","` + unchanged + `","` + changed + `: "&` + name + ")", Style: Lead})
	pl.stale = "IF(" + computedName + "!" + all + `="` + unchanged + `","",` + quoteText(pl.staleWords()) + "&" +
		computedName + "!" + name + "&" + quoteText(staleEnd) + ")"
}

// staleEnd ends the line of the first sheet that says that computed figures are of other
// inputs.
const staleEnd = " changed (sheet " + computedName + ")."

// longest is the longest of the names of inputs that may have changed.
func longest(stands []stand) (name string) {
	for _, st := range stands {
		if s := st.label + " (" + st.owner + ")"; utf8.RuneCountInString(s) > utf8.RuneCountInString(name) {
			name = s
		}
	}
	return name
}

// countChanged counts the computed quantities of a set whose inputs have changed,
// neighbours together.
func (pl *plan) countChanged(set []int) string {
	var out []string
	for i := 0; i < len(set); {
		last := i
		for last+1 < len(set) && set[last+1] == set[last]+1 {
			last++
		}
		cells := pl.computedCell(set[i])
		if last > i {
			cells += ":" + pl.computedCell(set[last])
		}
		out = append(out, "COUNTIF("+cells+`,"`+changed+`")`)
		i = last + 1
	}
	return strings.Join(out, "+")
}

// standCells are rows of a column of the list of inputs.
func standCells(col, first, last int) string {
	n := "$" + columnName(col) + "$"
	return n + number(float64(first)) + ":" + n + number(float64(last))
}

// isChanged is what the state of an input is that has changed, as formulas write it; in
// the columns of what follows from it 1 stands for that.
const isChanged = `"` + changed + `"`

// firstChanged names the first input of which a column says that it has changed.
func firstChanged(is string, col, first, last int) string {
	at := ",MATCH(" + is + "," + standCells(col, first, last) + ",0))"
	return "INDEX(" + standCells(thenInputCol, first, last) + at + `&" ("&INDEX(` + standCells(thenOwnerCol, first, last) + at + `&")"`
}

// computedLabel names a computed quantity.
func computedLabel(c computed) string {
	label := labelOf(c.line.q)
	if c.item != own {
		label += " of " + itemLabel(c.line.kind.Items[c.item])
	}
	return label
}

// drawStands draws inputs, live and as they were, with a column for each of the
// values that follow from them, where there are several.
func drawStands(s *Sheet, first int, stands []stand, of []string) {
	s.text(first-2, thenInputCol, "Inputs that they follow from", Section)
	if len(of) == 1 {
		of = nil // it follows from all of them
	} else if len(of) > 1 {
		s.text(first-2, thenInputCol, "Inputs that they follow from; below its number, 1 where one has changed", Section)
	}
	standHeads(s, first-1, 0, of)
	for n, st := range stands {
		drawStand(s, first+n, 0, st, len(of))
	}
}

// standHeads draws the heads of a list of inputs, behind so many columns.
func standHeads(s *Sheet, row, left int, of []string) {
	for i, h := range []string{"input", "belongs to", "unit", "live value", "value then", "since then"} {
		look := HeadText
		if i >= thenLiveCol-1 {
			look = Head
		}
		s.text(row, left+i+1, h, look)
	}
	for i := range of {
		s.text(row, left+thenStateCol+1+i, number(float64(i+1)), Head)
	}
}

// drawStand draws one input, behind so many columns, with a column for each of so many
// that follow from it.
func drawStand(s *Sheet, row, left int, st stand, of int) {
	s.text(row, left+thenInputCol, st.label, Label)
	s.text(row, left+thenOwnerCol, st.owner, Label)
	if st.unit != "" {
		s.text(row, left+thenUnitCol, st.unit, Unit)
	}
	s.Set(row, left+thenLiveCol, Cell{Formula: st.live, Style: st.look, Format: st.format})
	then := FrozenText
	if st.look == Pulled {
		then = Frozen
	}
	s.Set(row, left+thenValueCol, Cell{Value: st.then, Style: then, Format: st.format})
	s.Set(row, left+thenStateCol, Cell{Formula: st.same(cellName(row, left+thenLiveCol), cellName(row, left+thenValueCol)), Style: ComputedText})
	for i := range of {
		if st.of[i] {
			s.Set(row, left+thenStateCol+1+i, Cell{Formula: "IF($" + cellName(row, left+thenStateCol) + "=" + isChanged + ",1,0)", Style: Pulled, Format: "0"})
		}
	}
}

// drawSinceThen draws inputs in this way from the row first on, and says above, in a
// column of the row for that, which is the first that has changed.
func drawSinceThen(s *Sheet, first int, stands []stand, col int) {
	last := max(first, first+len(stands)-1)
	drawStands(s, first, stands, nil)
	s.Marks = append(s.Marks, Mark{cellName(first, thenStateCol) + ":" + cellName(last, thenStateCol), changed, Unfit})
	s.Set(sinceRow, col, Cell{Style: ComputedText,
		Formula: `IFERROR("` + changed + `: "&` + firstChanged(isChanged, thenStateCol, first, last) + `,"` + unchanged + `")`})
}

// whenWritten says when values were computed that do not follow what is changed: the
// date of a scenario is typed, and not the day of computing.
func (pl *plan) whenWritten() string {
	if d := pl.prog.Model.Date; d != "" {
		return "for the scenario of " + d
	}
	return "when this workbook was written"
}

// same is the formula that says whether two cells are equal. What was typed is
// compared exactly; what is worked out may differ by rounding.
func (st stand) same(live, then string) string {
	equal := live + "=" + then
	switch {
	case st.look == PulledText:
		equal = "EXACT(" + live + "," + then + ")"
	case st.worked:
		equal = "AND(ISNUMBER(" + live + "),ISNUMBER(" + then + "))"
		equal = "IF(" + equal + ",ABS(" + live + "-" + then + ")<=tolerance*MAX(ABS(" + live + "),ABS(" + then + "))," + live + "=" + then + ")"
	}
	return "IFERROR(IF(" + equal + `,"` + unchanged + `","` + changed + `"),"` + changed + `")`
}
