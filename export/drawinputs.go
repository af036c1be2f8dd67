package export

import (
	"slices"

	"bankwright/engine/check"
)

// drawInputs draws the page of inputs.
func (pl *plan) drawInputs() {
	pg := pl.inputs
	s := pl.head(pg)
	pl.drawLimits()
	pl.legend(s, 2)
	widest := 0
	for _, k := range pl.prog.Kinds {
		widest = max(widest, len(k.Items))
	}
	s.Widths = spread(min(widest, notedItems), itemWidth) // what is to be mended stands in the gap
	if widest > notedItems {
		for len(s.Widths) < itemCol+widest {
			s.Widths = append(s.Widths, itemWidth)
		}
		s.Widths = append(s.Widths, noteWidth)
	}
	s.FreezeCols, s.FreezeRows, s.Print.RepeatRows = unitCol, jumpRow, TitleRows
	pl.drawJumps(s)
	for _, k := range pl.prog.Kinds {
		if names := pl.names[k]; names.row > 0 {
			pl.drawBlock(s, k, itemCol+max(len(k.Items), min(widest, notedItems))+1)
		}
	}
	pl.drawTolerance(s, itemCol+min(widest, notedItems)+1)
	pl.drawMend()
	pl.drawUnusual()
}

// notedItems is how many items a kind may have for its notes to stand in one column with
// those of others.
const notedItems = 12

func (pl *plan) drawBlock(s *Sheet, k *check.Kind, note int) {
	names := pl.names[k]
	s.text(names.row-1, labelCol, titleOf(k), Heading)
	if k.Doc != "" {
		s.text(names.row-1, unitCol, k.Doc, Note)
	}
	s.text(names.row, labelCol, "Name", HeadText)
	s.text(names.row, unitCol, "unit", HeadText)
	s.text(names.row, note, "note", HeadText)
	for i, it := range k.Items {
		name := it.Name
		if !k.Many {
			name = "value"
		}
		s.text(names.row, itemCol+i, name, Head)
	}
	if labelled(k) {
		s.text(names.row+1, labelCol, "Label", Label)
		for i, it := range k.Items {
			s.text(names.row+1, itemCol+i, itemLabel(it), Head)
		}
	}
	for _, l := range pl.inputsOf(k) {
		l.rowsOf(pl)
		l.noted(note)
		pl.limit(s, l)
		if l.head != "" {
			pl.sectionHead(s, l)
		}
	}
	for i, l := range pl.extra[k] {
		if i == 0 {
			s.text(l.row-1, labelCol, "Figures in formulas, and workings", Section)
		}
		l.rowsOf(pl)
	}
	pl.drawStates(s, k, note-1)
	pl.foldBlock(s, k)
}

// foldBlock puts the rows of a block of inputs below its heading in the outline.
func (pl *plan) foldBlock(s *Sheet, k *check.Kind) {
	last := pl.names[k].row
	for _, l := range slices.Concat(pl.inputsOf(k), pl.extra[k], []*line{pl.missing[k]}) {
		if l != nil && l.row > 0 {
			last = max(last, l.row+l.rows-1)
		}
	}
	s.fold(pl.names[k].row, last)
}

// sectionHead begins a part of a block; it names the items again, so that no
// page is without their names when it is printed.
func (pl *plan) sectionHead(s *Sheet, l *line) {
	names := pl.names[l.kind]
	s.text(l.row-1, labelCol, l.head, Section)
	for i, it := range l.kind.Items {
		if l.kind.Many && l.row-1 > names.row+2 {
			c := &ref{to: names, item: own}
			s.Set(l.row-1, itemCol+i, Cell{Formula: cell(c).at(spot{page: pl.inputs, item: i}), Value: it.Name, Style: Head})
		}
	}
}

// legendWord stands, in the look of inputs, where the looks are explained.
const legendWord = "input"

// legend explains the looks of cells, in one row.
func (pl *plan) legend(s *Sheet, row int) {
	s.text(row, labelCol, "Change the cells that look like this:", Note)
	s.text(row, unitCol, legendWord, InputText)
	s.text(row, itemCol, "calculated", ComputedText)
	s.text(row, itemCol+1, "brought here", PulledText)
	if len(pl.computed) > 0 {
		s.text(row, itemCol+2, "computed", FrozenText)
		s.text(row, itemCol+3, "not live: see the sheet "+computedName, Note)
	}
}

const toleranceNote = "Numbers that differ by less than this, relatively, count as equal wherever a formula decides something."

// drawTolerance draws the cell of the tolerance of comparisons.
func (pl *plan) drawTolerance(s *Sheet, note int) {
	row := pl.toleranceRow
	s.text(row, labelCol, "Calculation", Heading)
	s.text(row+1, labelCol, "Tolerance of comparisons", Label)
	s.text(row+1, unitCol, numberWord, Unit)
	s.Set(row+1, itemCol, Cell{Value: tolerance, Style: Published, Format: "0E+00"})
	s.text(row+1, note, toleranceNote, Remark)
	pl.book.Names = append(pl.book.Names, Name{"tolerance", "Inputs!$" + columnName(itemCol) + "$" + number(float64(row+1))})
}
