package export

import (
	"cmp"
	"fmt"
	"slices"

	"bankwright/engine/unit"
)

// What a workbook says in words is trusted as its figures are: words that are other than
// they were written are told, and so is what was typed where nothing stood.

// mostRemarks is how many cells of a sheet are told one by one.
const mostRemarks = 20

// tellCells notes that something is told of the cells of a row.
func (r *returned) tellCells(sheet *ReturnedSheet, row, from, to int) {
	for col := from; col <= to; col++ {
		r.told[sheet.Name+"!"+cellName(row, col)] = true
	}
}

// rowOf and columnOf are what a whole row and column are noted by.
func rowOf(sheet *ReturnedSheet, row int) string { return fmt.Sprint(sheet.Name, "!", row) }

func columnOf(sheet *ReturnedSheet, col int) string { return sheet.Name + "!" + columnName(col) }

// isTold reports whether something is told of a cell, of its row or of its column.
func (r *returned) isTold(sheet *ReturnedSheet, row, col int) bool {
	return r.told[rowOf(sheet, row)] || r.told[columnOf(sheet, col)] || r.told[sheet.Name+"!"+cellName(row, col)]
}

// remark is a cell that says something else than was written.
type remark struct {
	at   [2]int
	then any // nil: nothing stood there
}

// checkWords tells of cells of words that are other than written, and of cells in which
// nothing stood; where says where a cell of the plan is now.
func (r *returned) checkWords(plan *Sheet, sheet *ReturnedSheet, where func(row, col int) (int, int)) {
	inputs := r.inputCells(plan)
	known := map[[2]int]bool{}
	var list []remark
	for i, row := range plan.rows {
		for j, c := range row {
			x, y := where(i+1, j+1)
			if x == 0 || y == 0 || c.Formula == "" && (c.Value == nil || c.Value == "") && !inputs[[2]int{i + 1, j + 1}] {
				continue
			}
			known[[2]int{x, y}] = true
			worded := c.Formula == "" && !inputs[[2]int{i + 1, j + 1}] && (!c.isInput() && !c.isPublished() || i < plan.FreezeRows)
			if worded && !alike(c.Value, sheet.At(x, y).Value) {
				list = append(list, remark{[2]int{x, y}, c.Value})
			}
		}
	}
	for at, c := range sheet.cells {
		if !known[at] && !c.empty() {
			list = append(list, remark{at: at})
		}
	}
	list = slices.DeleteFunc(list, func(m remark) bool { return r.isTold(sheet, m.at[0], m.at[1]) })
	slices.SortFunc(list, func(a, b remark) int { return cmp.Or(cmp.Compare(a.at[0], b.at[0]), cmp.Compare(a.at[1], b.at[1])) })
	for _, m := range list[:min(len(list), mostRemarks)] {
		r.remark(sheet, m, plan == r.pl.inputs.sheet)
	}
	if more := list[min(len(list), mostRemarks):]; len(more) > 0 {
		r.warn(sheet.Name+"!"+cellName(more[0].at[0], more[0].at[1]), "overwritten", "", "%s something else than was written, from here on", unit.Counted(len(more), "more cell of this sheet says", "more cells of this sheet say"))
	}
}

// remark tells of one cell. On the sheet Inputs it is what a client remarks on an input.
func (r *returned) remark(sheet *ReturnedSheet, m remark, beside bool) {
	now := sheet.At(m.at[0], m.at[1])
	says := content(now) + " was typed here"
	switch {
	case now.Formula:
		says = "a formula was typed here"
		if now.Value != nil {
			says += ", which gives " + content(now)
		}
	case m.then != nil && content(now) == "nothing":
		says = fmt.Sprintf("%s was deleted", content(ReturnedCell{Value: m.then}))
	case m.then != nil:
		says = fmt.Sprintf("%s stands where %s stood", content(now), content(ReturnedCell{Value: m.then}))
	}
	switch {
	case beside && content(now) != "nothing":
		says += ": a remark of the client, which is not read"
	case m.then == nil:
		says += "; it is not read"
	}
	r.warn(sheet.Name+"!"+cellName(m.at[0], m.at[1]), "overwritten", "", "%s", says)
}
