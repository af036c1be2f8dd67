package export

import (
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
	Cell    string `json:"cell"`    // kind.item.quantity, with [step] or .column[row] behind it
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
	called  map[string]string     // what the sheets of the plan are called now; not in it: it is gone
	moved   map[int]int           // where rows of inputs stand now that are out of their order
	rows    []int                 // of the sheet Inputs, by those of the plan; 0: it is gone
	columns map[*check.Kind][]int // the same of columns, by kind
	left    int                   // how many columns stand before that of the labels
	blank   map[inputKey]string   // the address of inputs that are left out
	added   map[int]bool          // empty columns of the sheet Inputs that were put in between
	told    map[string]bool       // addresses of which something is told
}

// ReadBack reads the inputs of a workbook that was written for m and sent back. The
// list tells what is not possible as an error, and as a warning what was changed
// besides inputs. Found is what studies of m find where the workbook was written with
// them (HasStudies), else nil; name is the workbook's file.
func ReadBack(m *engine.Model, found *engine.Studies, book Returned, name string) (*Readback, diag.List) {
	return readBack(plotBook(m, found), book, name)
}

// HasStudies reports whether a workbook was written with what studies found: it has a sheet
// of them, or its first sheet leads to one.
func HasStudies(book Returned) bool {
	sheets := book.Sheets()
	if slices.Contains(sheets, sweepsName) || slices.Contains(sheets, reachedName) {
		return true
	}
	s, err := book.Read(firstName, 0)
	if err != nil {
		return false
	}
	for at := range s.cells {
		if strings.HasSuffix(s.text(at[0], at[1]), "sheet "+sweepsName) && at[1] == unitCol {
			return true
		}
	}
	return false
}

func readBack(pl *plan, book Returned, name string) (*Readback, diag.List) {
	list := &diag.List{}
	r := &returned{pl: pl, book: book, name: name, list: list, out: &Readback{pl: pl}, reader: decl.NewReader(pl.prog.Model, list),
		columns: map[*check.Kind][]int{}, blank: map[inputKey]string{}, added: map[int]bool{}, told: map[string]bool{},
		moved: map[int]int{}, called: map[string]string{}}
	if pl.fault != nil {
		r.fault("", "workbook", "", "the workbook of this scenario cannot be made: %s", pl.fault)
		return r.out, *list
	}
	sheets := book.Sheets()
	r.callSheets(sheets)
	r.sheetOrder(sheets)
	if r.sheetInputs() {
		r.readInputs()
		r.readFigures()
		r.eitherGiven()
		r.checkWords(r.pl.inputs.sheet, r.inputs, r.onInputs)
	}
	for _, s := range pl.book.Sheets {
		if s != pl.inputs.sheet && r.called[s.Name] != "" {
			r.compare(s)
		}
	}
	return r.out, *list
}

// sheetOrder tells where sheets stand in another order than they were written.
func (r *returned) sheetOrder(now []string) {
	var written, stand []string
	for _, s := range r.pl.book.Sheets {
		if slices.Contains(now, s.Name) {
			written = append(written, s.Name)
		}
	}
	for _, name := range now {
		if r.pl.book.Sheet(name) >= 0 {
			stand = append(stand, name)
		}
	}
	for i, name := range written {
		if stand[i] != name {
			r.warn("", "layout", "", "the sheets stand in another order: %s where %s stood; no value depends on it", stand[i], name)
			return
		}
	}
}

// fault tells of what is not possible; at is an address, "" for the workbook.
func (r *returned) fault(at, code, mend, format string, args ...any) {
	r.told[at] = true
	r.list.Errorf(r.pos(at), code, mend, format, args...)
}

func (r *returned) warn(at, code, mend, format string, args ...any) {
	r.told[at] = true
	r.list.Warnf(r.pos(at), code, mend, format, args...)
}

func (r *returned) pos(at string) diag.Pos {
	if at == "" {
		return diag.Pos{File: r.name}
	}
	return diag.Pos{File: r.name + ":" + at}
}

func (c Cell) isInput() bool { return c.Formula == "" && (c.Style == Input || c.Style == InputText) }

// isPublished reports whether a cell holds what a table of the rules says.
func (c Cell) isPublished() bool { return c.Style == Published }

// isFrozen reports whether a cell holds a value that was computed in the place of a
// formula.
func (c Cell) isFrozen() bool {
	return c.Formula == "" && (c.Style == Frozen || c.Style == FrozenText || c.Style == FrozenWords)
}

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
	if r.called[plan.Name] == "" {
		r.fault("", "workbook", "Ask for the workbook with this sheet.", "without the sheet %s there is nothing to read", plan.Name)
		return false
	}
	sheet, err := r.book.Read(r.called[plan.Name], plan.count())
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
	r.checkFormulas(plan, sheet, r.onInputs)
	return true
}

// onInputs is where a cell of the sheet Inputs is now, 0 where it is gone.
func (r *returned) onInputs(row, col int) (int, int) { return r.rows[row], r.columnAt(row, col) }

// columnAt is where a column of the sheet Inputs is, for a row of the plan: what stands
// above all items goes with the first of them.
func (r *returned) columnAt(row, col int) int {
	var in, first *check.Kind
	for _, k := range r.pl.prog.Kinds {
		n := r.pl.names[k]
		if n.row == 0 || r.columns[k] == nil {
			continue
		}
		if n.row <= row && (in == nil || n.row > r.pl.names[in].row) {
			in = k
		}
		if first == nil || n.row < r.pl.names[first].row {
			first = k
		}
	}
	if in == nil {
		in = first
	}
	columns := r.columns[in]
	switch last := len(columns) - 1; {
	case col <= last:
		return columns[col]
	case last > 0 && columns[last] > 0:
		return col + columns[last] - last
	}
	return col + r.left
}
