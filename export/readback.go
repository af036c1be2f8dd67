package export

import (
	"fmt"
	"slices"
	"strings"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/diag"
)

// A workbook that a client sends back is read by the plan by which it was written:
// the plan says which input stands in which cell. Rows and columns are found by what
// is written beside and above them, so that some may have been put in between.

// InputChange is an input that a workbook has otherwise than its scenario. Old and New
// are as people read them, with the unit that the sheet shows; "-" is no value.
type InputChange struct {
	Cell    string `json:"cell"`    // battery.oak.price, with [step] or .column[row] behind it
	Address string `json:"address"` // Inputs!C12
	Old     string `json:"old"`
	New     string `json:"new"`
}

// Readback is what a workbook that was sent back says.
type Readback struct {
	Changes   []InputChange
	Revisions []decl.Revision // of the scenario; to be used only where nothing is at fault

	pl *plan
}

// inputKey is a quantity of an item.
type inputKey struct {
	q    *check.Quantity
	item int
}

// returned is a workbook in the course of being read.
type returned struct {
	pl     *plan
	book   Returned
	name   string // of the workbook's file
	list   *diag.List
	reader *decl.Reader
	out    *Readback

	inputs  *ReturnedSheet
	rows    []int                 // of the sheet Inputs, by those of the plan; 0: it is gone
	columns map[*check.Kind][]int // the same of columns, by kind
	left    int                   // how many columns stand before that of the labels
	blank   map[inputKey]string   // the address of inputs that are left out
	added   map[int]bool          // empty columns of the sheet Inputs that were put in between
}

// ReadBack reads the inputs of a workbook that was written for m and sent back. The
// list tells what is not possible as an error, and as a warning what was changed
// besides inputs. name is the workbook's file.
func ReadBack(m *engine.Model, book Returned, name string) (*Readback, diag.List) {
	list := &diag.List{}
	pl := plotBook(m)
	r := &returned{pl: pl, book: book, name: name, list: list, out: &Readback{pl: pl}, reader: decl.NewReader(pl.prog.Model, list),
		columns: map[*check.Kind][]int{}, blank: map[inputKey]string{}, added: map[int]bool{}}
	if pl.fault != nil {
		r.fault("", "workbook", "", "the workbook of this scenario cannot be made: %s", pl.fault)
		return r.out, *list
	}
	for _, s := range pl.book.Sheets {
		if !hasSheet(book, s.Name) {
			r.warn("", "layout", "", "the sheet %s was removed or has another name now", s.Name)
		}
	}
	for _, name := range book.Sheets() {
		if pl.book.Sheet(name) < 0 {
			r.warn("", "layout", "", "the sheet %s was added; it is not read", cut(name, 60))
		}
	}
	if r.sheetInputs() {
		r.readInputs()
		r.readFigures()
		r.eitherGiven()
	}
	for _, s := range pl.book.Sheets {
		if s != pl.inputs.sheet && hasSheet(book, s.Name) && s.calculates() {
			r.compare(s)
		}
	}
	return r.out, *list
}

// fault tells of what is not possible; at is an address, "" for the workbook.
func (r *returned) fault(at, code, mend, format string, args ...any) {
	r.list.Errorf(r.pos(at), code, mend, format, args...)
}

func (r *returned) warn(at, code, mend, format string, args ...any) {
	r.list.Warnf(r.pos(at), code, mend, format, args...)
}

func (r *returned) pos(at string) diag.Pos {
	if at == "" {
		return diag.Pos{File: r.name}
	}
	return diag.Pos{File: r.name + ":" + at}
}

// calculates reports whether a sheet has formulas, or figures that can be changed.
func (s *Sheet) calculates() bool {
	for _, row := range s.rows {
		for _, c := range row {
			if c.Formula != "" || c.isInput() {
				return true
			}
		}
	}
	return false
}

func (c Cell) isInput() bool { return c.Formula == "" && (c.Style == Input || c.Style == InputText) }

// count is how many cells a sheet has.
func (s *Sheet) count() (n int) {
	for _, row := range s.rows {
		n += len(row)
	}
	return n
}

// sheetInputs reads the sheet Inputs and finds its rows and columns.
func (r *returned) sheetInputs() bool {
	plan := r.pl.inputs.sheet
	if !hasSheet(r.book, plan.Name) {
		r.fault("", "workbook", "Ask for the workbook with this sheet.", "without the sheet %s there is nothing to read", plan.Name)
		return false
	}
	sheet, err := r.book.Read(plan.Name, plan.count())
	if err != nil {
		r.fault("", "workbook", "", "the workbook %s", err)
		return false
	}
	r.inputs, r.left = sheet, labelShift(plan, sheet)
	r.rows = r.pairRows(plan, sheet, r.left)
	for _, k := range r.pl.prog.Kinds {
		if names := r.pl.names[k]; names.row > 0 {
			r.columns[k] = r.pairColumns(plan, sheet, k, names.row)
		}
	}
	r.checkFormulas(plan, sheet, func(row, col int) (int, int) {
		return r.rows[row], r.columnAt(row, col)
	})
	return true
}

// columnAt is where a column of the sheet Inputs is, for a row of the plan.
func (r *returned) columnAt(row, col int) int {
	var in *check.Kind
	for _, k := range r.pl.prog.Kinds {
		if n := r.pl.names[k]; n.row > 0 && n.row <= row && (in == nil || n.row > r.pl.names[in].row) {
			in = k
		}
	}
	if columns := r.columns[in]; col < len(columns) {
		return columns[col]
	}
	return col + r.left
}

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
		for row := 1; row <= sheet.Rows; row++ {
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
		if x, ok := v.(float64); ok {
			v = number(round15(x))
		}
		parts = append(parts, fmt.Sprint(v))
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
	a, b := make([]string, len(plan.rows)), make([]string, sheet.Rows)
	for i := range a {
		a[i] = rowKey(1, width, func(c int) (any, bool) { x := plan.At(i+1, c); return x.Value, x.Formula != "" })
	}
	for i := range b {
		b[i] = rowKey(1+shift, width, func(c int) (any, bool) { x := sheet.At(i+1, c); return x.Value, x.Formula })
	}
	p := align(a, trimmed(b, len(a)))
	out := make([]int, len(a)+1)
	for i, j := range p.to {
		at := cellName(max(j, 0)+1, 1+shift)
		switch out[i+1] = j + 1; {
		case j < 0 && a[i] != "":
			r.warn(sheet.Name, "layout", "", "the row of %q was removed; it was row %d", told(a[i]), i+1)
		case j >= 0 && a[i] != b[j] && !plan.At(i+1, 1).isInput():
			r.warn(sheet.Name+"!"+at, "layout", "", "%s", relabelled(a[i], b[j]))
		}
	}
	for _, run := range runs(p.added) {
		rows := fmt.Sprintf("rows %d to %d were added; they are", run[0]+1, run[1]+1)
		if run[0] == run[1] {
			rows = fmt.Sprintf("row %d was added; it is", run[0]+1)
		}
		r.warn(sheet.Name, "layout", "", "%s not read", rows)
	}
	return out
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
		return fmt.Sprintf("the label %q is gone", told(old))
	}
	return fmt.Sprintf("this says %q, where %q stood", told(now), told(old))
}

func told(key string) string { return cut(strings.ReplaceAll(key, "\t", " "), 60) }

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
		r.fault(sheet.Name, "layout", "Put it back: a row with "+strings.Join(itemNames(k), ", ")+".", "the row with the names of %s is gone", titleOf(k))
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
	p := align(trimmed(a, 0), trimmed(b, 0))
	out := make([]int, width+1)
	for i, j := range p.to {
		switch out[i+1] = j + 1; {
		case a[i] == "" || j >= 0 && a[i] == b[j]:
		case j < 0:
			r.fault(sheet.Name, "layout", "Put it back, or leave the item out of the scenario.", "the column of %q is gone from the row of names of %s", a[i], titleOf(k))
		default:
			r.warn(sheet.Name+"!"+cellName(at, j+1), "layout", "", "%s; names stay as the scenario has them", relabelled(a[i], b[j]))
		}
	}
	for _, j := range p.added {
		switch {
		case b[j] == "" && !r.added[j]:
			r.added[j] = true
			r.warn(sheet.Name, "layout", "", "the column %s was added; it is not read", columnName(j+1))
		case b[j] != "":
			r.warn(sheet.Name+"!"+cellName(at, j+1), "layout", "Add ["+k.Name+".NAME] to the scenario for a further one.", "the column of %q was added; it is not read", cut(b[j], 60))
		}
	}
	return out
}

// mostAdded is how many columns are looked at beyond those that were written.
const mostAdded = 200

func itemNames(k *check.Kind) (out []string) {
	for _, it := range k.Items {
		out = append(out, it.Name)
	}
	return out
}

// compare looks for what was changed on a sheet that is not for typing.
func (r *returned) compare(plan *Sheet) {
	sheet, err := r.book.Read(plan.Name, plan.count())
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
		r.warn(sheet.Name, "layout", "", "the column %s was added; it is not read", columnName(j+1))
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

// checkFormulas tells which cells no longer hold their formula; where says where a
// cell of the plan is now. Those of inputs that a scenario gives by a formula are
// read as inputs.
func (r *returned) checkFormulas(plan *Sheet, sheet *ReturnedSheet, where func(row, col int) (int, int)) {
	given := r.givenByFormula(plan)
	for i, row := range plan.rows {
		var lost []int
		at := 0
		for j, c := range row {
			if c.Formula == "" || given[[2]int{i + 1, j + 1}] {
				continue
			}
			x, y := where(i+1, j+1)
			if x > 0 && y > 0 && !sheet.At(x, y).Formula {
				lost, at = append(lost, y), x
			}
		}
		slices.Sort(lost)
		for _, run := range runs(lost) {
			label, _ := plan.At(i+1, labelCol).Value.(string)
			if label != "" {
				label = " (" + cut(label, 60) + ")"
			}
			if run[0] == run[1] {
				r.warn(sheet.Name+"!"+cellName(at, run[0]), "overwritten", "What follows from it is no longer live.", "the formula was overwritten by %s%s", content(sheet.At(at, run[0])), label)
				continue
			}
			r.warn(sheet.Name+"!"+cellName(at, run[0])+":"+cellName(at, run[1]), "overwritten", "What follows from them is no longer live.", "%d formulas were overwritten%s", run[1]-run[0]+1, label)
		}
	}
}

// givenByFormula are the cells of inputs that the scenario gives by a formula.
func (r *returned) givenByFormula(plan *Sheet) map[[2]int]bool {
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

// content says what stands in a cell.
func content(c ReturnedCell) string {
	switch v := c.Value.(type) {
	case nil:
		return "nothing"
	case float64:
		return number(round15(v))
	case string:
		return fmt.Sprintf("%q", cut(v, 40))
	}
	return strings.ToUpper(fmt.Sprint(c.Value))
}

// checkFigures tells of figures of the rules that were changed: a scenario cannot
// say them.
func (r *returned) checkFigures(plan *Sheet, sheet *ReturnedSheet, where func(row, col int) (int, int)) {
	for i, row := range plan.rows {
		for j, c := range row {
			x, y := where(i+1, j+1)
			if !c.isInput() || x == 0 || y == 0 {
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
// a number.
func alike(a, b any) bool {
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

// close15 reports whether two numbers have the same 14 digits: programs keep 15 to 17.
func close15(a, b float64) bool {
	d := a - b
	return a == b || max(d, -d) <= 1e-14*max(a, -a, b, -b)
}
