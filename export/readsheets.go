package export

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"bankwright/engine/check"
)

// Where the rows and columns of a workbook are that was sent back, and what was changed
// in it besides inputs.

// labelShift is how many columns stand before that of the labels.
func labelShift(plan *Sheet, sheet *ReturnedSheet) int {
	known := map[string]bool{}
	for row := range plan.rows {
		if t, ok := plan.At(row+1, labelCol).Value.(string); ok && t != "" {
			known[t] = true
		}
	}
	best, most := 0, 0
	for shift := range 5 {
		n := 0
		for row := 1; row <= sheet.last(plan); row++ {
			if known[sheet.text(row, labelCol+shift)] {
				n++
			}
		}
		if n > most {
			best, most = shift, n
		}
	}
	return best
}

// longestKey is how much of a text counts: a cell holds less than a scenario may say.
const longestKey = 1000

// rowKey is what a row is known by: what stands in front of its values.
func rowKey(col, width int, at func(col int) (value any, formula bool)) string {
	var parts []string
	for c := col; c < col+width; c++ {
		v, formula := at(c)
		switch {
		case formula:
			v = "="
		case v == nil:
			v = ""
		}
		v = stored(v)
		if x, ok := v.(float64); ok {
			v = number(round15(x))
		}
		parts = append(parts, cut(fmt.Sprint(v), longestKey))
	}
	return strings.TrimRight(strings.Join(parts, "\t"), "\t")
}

// keyWidth is how many columns a row of a sheet is known by: on pages of series those
// of the steps, else that of the labels.
func (s *Sheet) keyWidth() int {
	if s.FreezeCols > 0 && s.FreezeCols != unitCol {
		return s.FreezeCols
	}
	return 1
}

// pairRows finds the rows of a sheet of the plan, and tells which were added,
// removed or have another label.
func (r *returned) pairRows(plan *Sheet, sheet *ReturnedSheet, shift int) []int {
	width := plan.keyWidth()
	a, b := make([]string, len(plan.rows)), make([]string, sheet.last(plan))
	for i := range a {
		a[i] = rowKey(1, width, func(c int) (any, bool) { x := plan.At(i+1, c); return x.Value, x.Formula != "" })
	}
	for i := range b {
		b[i] = rowKey(1+shift, width, func(c int) (any, bool) { x := sheet.At(i+1, c); return x.Value, x.Formula && !x.Truth })
	}
	p := align(a, trimmed(b, len(a)))
	out, elsewhere := make([]int, len(a)+1), p.elsewhere(a, b)
	for i, j := range p.to {
		at := cellName(max(j, 0)+1, 1+shift)
		now, movedRow := elsewhere[i]
		switch out[i+1] = j + 1; {
		case movedRow && plan == r.pl.inputs.sheet && plan.At(i+1, itemCol).isInput():
			r.moved[i+1] = now + 1 // told where it is read
		case j < 0 && plan.At(i+1, 1).isPublished():
			r.fault(sheet.Name, "computed", "Put it back where it was.", "row %d, which began with %s, is gone: it belongs to the rules, and a scenario cannot say it", i+1, keyWords(a[i]))
		case movedRow:
			r.warn(sheet.Name+"!"+cellName(now+1, 1+shift), "layout", "", "the row of %q was row %d and stands here now: rows were sorted or moved", keyWords(a[i]), i+1)
		case j < 0 && a[i] != "":
			r.warn(sheet.Name, "layout", "", "the row of %q was removed; it was row %d", keyWords(a[i]), i+1)
		case j >= 0 && a[i] != b[j] && !plan.overwritable(i+1, 1):
			r.warn(sheet.Name+"!"+at, "layout", "", "%s", relabelled(a[i], b[j]))
			r.tellCells(sheet, j+1, 1+shift, width+shift)
		}
	}
	filled := sheet.filled()
	for _, j := range p.added {
		r.told[rowOf(sheet, j+1)] = true
	}
	movedHere := slices.Collect(maps.Values(elsewhere))
	beyond := func(j int) bool { return j >= len(a) && !filled[j+1] || slices.Contains(movedHere, j) }
	for _, run := range runs(slices.DeleteFunc(p.added, beyond)) {
		rows := fmt.Sprintf("rows %d to %d were added; they are", run[0]+1, run[1]+1)
		if run[0] == run[1] {
			rows = fmt.Sprintf("row %d was added; it is", run[0]+1)
		}
		r.warn(sheet.Name, "layout", "", "%s not read", rows)
	}
	return out
}

// overwritable reports whether another text in a cell is told as typed over: it holds
// a formula, a computed value, or a figure of the rules.
func (s *Sheet) overwritable(row, col int) bool {
	c := s.At(row, col)
	return c.isInput() || c.isPublished() || c.Formula != "" || row > s.FreezeRows && c.isFrozen()
}

// trimmed is a list without empty entries at its end beyond n.
func trimmed(list []string, n int) []string {
	for len(list) > n && list[len(list)-1] == "" {
		list = list[:len(list)-1]
	}
	return list
}

func relabelled(old, now string) string {
	if now == "" {
		return fmt.Sprintf("the label %q is gone", keyWords(old))
	}
	return fmt.Sprintf("this says %q, where %q stood", keyWords(now), keyWords(old))
}

// keyWords are what a row or column is known by, as people read it.
func keyWords(key string) string { return brief(strings.ReplaceAll(key, "\t", " "), 60) }

// runs puts neighbouring numbers together.
func runs(list []int) (out [][2]int) {
	for _, n := range list {
		if last := len(out) - 1; last >= 0 && out[last][1] == n-1 {
			out[last][1] = n
			continue
		}
		out = append(out, [2]int{n, n})
	}
	return out
}

// pairColumns finds the columns of the items of a kind by their names.
func (r *returned) pairColumns(plan *Sheet, sheet *ReturnedSheet, k *check.Kind, row int) []int {
	at := r.rows[row]
	if at == 0 {
		r.fault(sheet.Name, "layout", "Put it back: a row with "+strings.Join(namesOfItems(k), ", ")+".", "the row with the names of %s is gone", titleOf(k))
		return nil
	}
	width := len(plan.rows[row-1])
	a, b := make([]string, width), make([]string, min(sheet.Cols, width+mostAdded))
	for i := range a {
		a[i], _ = plan.At(row, i+1).Value.(string)
	}
	for i := range b {
		b[i] = sheet.text(at, i+1)
	}
	out := make([]int, width+1)
	if names := trimmed(a, 0); r.permuted(sheet, k, at, names, b) {
		for i := 1; i < len(out); i++ {
			if out[i] = i + r.left; i <= len(names) && names[i-1] != b[out[i]-1] {
				r.told[columnOf(sheet, out[i])] = true
				out[i] = 0 // whose values these are is not known
			}
		}
		return out
	}
	p := align(trimmed(a, 0), trimmed(b, 0))
	for i, j := range p.to {
		switch out[i+1] = j + 1; {
		case a[i] == "" || j >= 0 && a[i] == b[j]:
		case j < 0:
			r.fault(sheet.Name, "layout", "Put it back, or leave the item out of the scenario.", "the column of %q is gone from the row of names of %s", a[i], titleOf(k))
		default:
			r.warn(sheet.Name+"!"+cellName(at, j+1), "layout", "Set it back, or give the item a label or another name in the scenario.", "%s; names stay as the scenario has them", relabelled(a[i], b[j]))
		}
	}
	shift := r.left
	for i := 1; i < len(out); i++ {
		if i <= len(p.to) && out[i] > 0 {
			shift = out[i] - i
		} else if i > len(p.to) {
			out[i] = i + shift
		}
	}
	for _, j := range p.added {
		switch {
		case b[j] == "" && !r.added[j]:
			r.added[j] = true
			r.warn(sheet.Name, "layout", "", "the column %s was added; it is not read", columnName(j+1))
			r.told[columnOf(sheet, j+1)] = true
		case b[j] != "":
			r.warn(sheet.Name+"!"+cellName(at, j+1), "layout", "Add ["+k.Name+".NAME] to the scenario for a further one.", "the column of %q was added; it is not read", brief(b[j], 60))
			r.told[columnOf(sheet, j+1)] = true
		}
	}
	return out
}

// permuted tells where the names of items are those that were written, in another order;
// false where they are not. Whether what stands below went along, nobody knows.
func (r *returned) permuted(sheet *ReturnedSheet, k *check.Kind, row int, names, now []string) bool {
	if len(now) < len(names)+r.left {
		return false
	}
	now = now[r.left:][:len(names)]
	if slices.Equal(names, now) || !slices.Equal(slices.Sorted(slices.Values(names)), slices.Sorted(slices.Values(now))) {
		return false
	}
	mend := "Set the names back as they were; what else they are called is said in the scenario, and its values are typed below them."
	for i, name := range names {
		j := slices.Index(names, now[i])
		at := func(i int) string { return cellName(row, i+1+r.left) }
		switch {
		case now[i] == name || now[j] == name && j < i:
		case now[j] == name:
			r.fault(sheet.Name+"!"+at(i), "layout", mend, "the names of %q and %q have changed places, here and in %s: whose values stand below is not known", name, now[i], at(j))
			r.tellCells(sheet, row, j+1+r.left, j+1+r.left)
		default:
			r.fault(sheet.Name+"!"+at(i), "layout", mend, "this says %q, which stood in %s, where %q stood: whose values stand below is not known", now[i], at(j), name)
		}
	}
	return true
}

// How many columns and rows are looked at beyond those that were written.
const (
	mostAdded     = 200
	mostAddedRows = 5000
)

// last is the last row that is looked at.
func (s *ReturnedSheet) last(plan *Sheet) int { return min(s.Rows, len(plan.rows)+mostAddedRows) }

func namesOfItems(k *check.Kind) (out []string) {
	for _, it := range k.Items {
		out = append(out, it.Name)
	}
	return out
}

// compare looks for what was changed on a sheet that is not for typing.
func (r *returned) compare(plan *Sheet) {
	sheet, err := r.book.Read(r.called[plan.Name], plan.count())
	if err != nil {
		r.fault("", "workbook", "", "the workbook %s", err)
		return
	}
	shift := labelShift(plan, sheet)
	rows := r.pairRows(plan, sheet, shift)
	columns := r.pairHeads(plan, sheet, rows)
	where := func(row, col int) (int, int) { return rows[row], columns(col) }
	r.checkFormulas(plan, sheet, where)
	r.checkFigures(plan, sheet, where)
	r.checkWords(plan, sheet, where)
}

// pairHeads finds the columns of a sheet by what stands in its head, and by the rows
// that have formulas.
func (r *returned) pairHeads(plan *Sheet, sheet *ReturnedSheet, rows []int) func(col int) int {
	width := 0
	for _, row := range plan.rows {
		width = max(width, len(row))
	}
	a, b := make([]strings.Builder, width), make([]strings.Builder, min(sheet.Cols, width+mostAdded))
	for row := range plan.rows {
		whole := row < plan.FreezeRows // else formulas count alone
		for i := range a {
			c := plan.At(row+1, i+1)
			a[i].WriteString(headKey(c.Value, c.Formula != "", whole))
		}
		for i := range b {
			c := sheet.At(rows[row+1], i+1)
			b[i].WriteString(headKey(c.Value, c.Formula, whole))
		}
	}
	heads, now := keys(a), keys(b)
	p := align(heads, trimmed(now, len(heads)))
	for i, j := range p.to {
		if j < 0 && heads[i] != "" {
			r.warn(sheet.Name, "layout", "", "the column %s was removed", columnName(i+1))
		}
	}
	for _, j := range p.added {
		if j >= width && !sheet.headed(plan.FreezeRows, j+1) {
			continue // its cells are told one by one
		}
		r.warn(sheet.Name, "layout", "", "the column %s was added; it is not read", columnName(j+1))
		r.told[columnOf(sheet, j+1)] = true
	}
	return func(col int) int { return p.to[col-1] + 1 }
}

func headKey(v any, formula, whole bool) string {
	switch {
	case formula:
		return "="
	case whole:
		return rowKey(1, 1, func(int) (any, bool) { return v, false }) + "\t"
	}
	return "\t"
}

// keys are what was built, without blanks at the end.
func keys(list []strings.Builder) []string {
	out := make([]string, len(list))
	for i := range list {
		out[i] = strings.TrimRight(list[i].String(), "\t")
	}
	return out
}

// callSheets finds the sheets of the plan among those that there are, by their names and,
// where they have others now, by their titles; of what it does not find it tells, and of
// what is not in the plan.
func (r *returned) callSheets(sheets []string) {
	var added []string
	for _, name := range sheets {
		if r.pl.book.Sheet(name) >= 0 {
			r.called[name] = name
		} else {
			added = append(added, name)
		}
	}
	for _, s := range r.pl.book.Sheets {
		if r.called[s.Name] != "" {
			continue
		}
		i := slices.IndexFunc(added[:min(len(added), mostAddedSheets)], func(name string) bool { return r.isTitled(name, s) })
		if i < 0 {
			r.warn("", "layout", "", "the sheet %s was removed", s.Name)
			continue
		}
		r.called[s.Name] = added[i]
		r.warn("", "layout", "", "the sheet %s is called %s now", s.Name, brief(added[i], 60))
		added = slices.Delete(added, i, i+1)
	}
	for _, name := range added {
		r.warn("", "layout", "", "the sheet %s was added; it is not read", brief(name, 60))
	}
}

// mostAddedSheets is how many sheets of other names are looked at for those that were
// written.
const mostAddedSheets = 50

// isTitled reports whether a sheet has the title and the first line of one of the plan.
func (r *returned) isTitled(name string, plan *Sheet) bool {
	sheet, err := r.book.Read(name, plan.count())
	if err != nil {
		return false
	}
	for row := 1; row <= 2; row++ {
		if c := plan.At(row, 1); c.Formula == "" && (c.Value != nil || row == 1) && c.Value != sheet.At(row, 1).Value {
			return false
		}
	}
	return true
}
