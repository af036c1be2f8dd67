package export

import (
	"fmt"
	"slices"
	"strings"
)

// checkFormulas tells which cells no longer hold their formula, or the value that was
// computed in the place of one; where says where a cell of the plan is now. Those of
// inputs that a scenario gives by a formula are read as inputs.
func (r *returned) checkFormulas(plan *Sheet, sheet *ReturnedSheet, where func(row, col int) (int, int)) {
	inputs := r.inputCells(plan)
	for i, row := range plan.rows {
		label, _ := plan.At(i+1, labelCol).Value.(string)
		if label != "" {
			label = " (" + brief(label, 60) + ")"
		}
		var formulas, values []int
		at := 0
		for j, c := range row {
			x, y := where(i+1, j+1)
			if x == 0 || y == 0 || inputs[[2]int{i + 1, j + 1}] {
				continue
			}
			switch now := sheet.At(x, y); {
			case c.Formula != "" && !now.Formula:
				formulas, at = append(formulas, y), x
			case i >= plan.FreezeRows && c.isFrozen() && !alike(c.Value, now.Value): // above stands the legend
				values, at = append(values, y), x
			}
		}
		r.overwritten(sheet, at, formulas, "formula", label, "What follows from %s is no longer live.")
		r.overwritten(sheet, at, values, "computed value", label, "What follows from %s is no longer as it was computed.")
	}
}

// overwritten tells of cells of a row that were typed over.
func (r *returned) overwritten(sheet *ReturnedSheet, row int, columns []int, what, label, mend string) {
	slices.Sort(columns)
	for _, run := range runs(columns) {
		first, last := cellName(row, run[0]), cellName(row, run[1])
		r.tellCells(sheet, row, run[0], run[1])
		if first == last {
			r.warn(sheet.Name+"!"+first, "overwritten", fmt.Sprintf(mend, "it"), "the %s was overwritten by %s%s", what, content(sheet.At(row, run[0])), label)
			continue
		}
		r.warn(sheet.Name+"!"+first+":"+last, "overwritten", fmt.Sprintf(mend, "them"), "%d %ss were overwritten%s", run[1]-run[0]+1, what, label)
	}
}

// inputCells are the cells that are read as inputs.
func (r *returned) inputCells(plan *Sheet) map[[2]int]bool {
	out := map[[2]int]bool{}
	if plan != r.pl.inputs.sheet {
		return out
	}
	r.eachInput(func(l *line, item int) {
		for row := range l.rows {
			out[[2]int{l.row + row, l.column(item)}] = true
		}
	})
	return out
}

// mostQuoted is how much of a text is quoted: names of files that a reader has to tell
// apart have room.
const mostQuoted = 120

// brief is a text of at most n characters, which says so where it is cut.
func brief(s string, n int) string {
	if c := cut(s, n); c != s {
		return cut(s, n-1) + "…"
	}
	return s
}

// content says what stands in a cell.
func content(c ReturnedCell) string {
	switch v := c.Value.(type) {
	case nil:
		return "nothing"
	case float64:
		if c.Percent {
			return number(round15(100*v)) + " %"
		}
		return number(round15(v))
	case string:
		return fmt.Sprintf("%q", brief(v, mostQuoted))
	}
	return strings.ToUpper(fmt.Sprint(c.Value))
}

// checkFigures tells of what was changed of the rules' tables: a scenario cannot say
// it.
func (r *returned) checkFigures(plan *Sheet, sheet *ReturnedSheet, where func(row, col int) (int, int)) {
	for i, row := range plan.rows {
		for j, c := range row {
			x, y := where(i+1, j+1)
			if !c.isPublished() || x == 0 || y == 0 {
				continue
			}
			if now := sheet.At(x, y); !alike(c.Value, now.Value) {
				r.fault(sheet.Name+"!"+cellName(x, y), "computed", "Set it back, and change it in the rules.",
					"%s stands where %s stood: it belongs to the rules, and a scenario cannot say it", content(now), content(ReturnedCell{Value: c.Value}))
			}
		}
	}
}

// alike reports whether two contents of cells are the same, but for the last digit of
// a number, the end of a text that is longer than a cell, and truths that a program
// stores as numbers.
func alike(a, b any) bool {
	a, b = stored(a), stored(b)
	x, ok := a.(float64)
	y, also := b.(float64)
	if ok && also {
		return close15(x, y)
	}
	if a == nil || a == "" {
		return b == nil || b == ""
	}
	return a == b
}

// stored is what programs keep of a content.
func stored(v any) any {
	switch v := v.(type) {
	case bool:
		return float64(btoi(v))
	case string:
		return cut(v, longestKey)
	}
	return v
}

// close15 reports whether two numbers have the same 14 digits: programs keep 15 to 17.
func close15(a, b float64) bool {
	d := a - b
	return a == b || max(d, -d) <= 1e-14*max(a, -a, b, -b)
}
