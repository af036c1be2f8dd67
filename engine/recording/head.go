package recording

import (
	"bytes"
	"slices"
	"strings"
	"unicode"

	"bankwright/engine/diag"
)

// head finds out how a file is written.
type head struct {
	layout Layout
	source Source
	text   []byte // the first bytes, without byte-order mark
	whole  bool   // they are the whole file

	form   Form
	header []string // cells of the header
	rows   []record // of the head, for the delimiter found
	at     []int    // column of the file for each of the layout, counted from 0; -1 where it has none
	date   int      // column of the date, -1 where it has none
	time   int      // place of the time in the layout
	list   diag.List
}

// recognise finds everything that the source does not say. It stops at the first
// thing that cannot be found.
func (h *head) recognise() {
	steps := []func(){h.encoding, h.columns, h.firstRow, h.units, h.decimal, h.times}
	for _, step := range steps {
		if step(); h.list.HasErrors() {
			return
		}
	}
}

func (h *head) fail(line int, code, mend, format string, args ...any) {
	h.list.Errorf(diag.Pos{File: h.source.File, Line: line}, code, mend, format, args...)
}

// encoding refuses what is not plain text.
func (h *head) encoding() {
	h.text = bytes.TrimPrefix(h.text, []byte("\xef\xbb\xbf"))
	const save = "Save it as CSV in UTF-8."
	switch {
	case len(bytes.TrimSpace(h.text)) == 0 && h.whole:
		h.fail(0, "file", "Look whether the recording was saved, or name another file.", "the recording is empty")
	case bytes.HasPrefix(h.text, []byte("\xff\xfe")) || bytes.HasPrefix(h.text, []byte("\xfe\xff")):
		h.fail(0, "encoding", save, "the recording is in UTF-16, which is not read")
	case bytes.IndexByte(h.text, 0) >= 0:
		h.fail(0, "encoding", save, "the recording is not plain text")
	}
	switch i := bytes.LastIndexByte(h.text, '\n'); {
	case i >= 0 && !h.whole:
		h.text = h.text[:i+1]
	case i < 0 && bytes.IndexByte(h.text, '\r') >= 0:
		h.fail(1, "encoding", save, "the lines of the recording end in a carriage return alone, which is not read")
	case i < 0 && !h.whole:
		h.fail(1, "limit", "Look whether the file is a recording.", "its first line is longer than %d characters, which is too long for a recording", headBytes)
	}
}

// fieldOf is where the source says that a column of the layout stands.
func (h *head) fieldOf(i int) Field {
	c := h.layout.Columns[i]
	f := h.source.Fields[c.Name]
	if f.Header == "" && f.Number == 0 {
		f.Header = c.Name
	}
	return f
}

// fields are those of all columns, that of the date last where there is one.
func (h *head) fields() []Field {
	var list []Field
	for i := range h.layout.Columns {
		list = append(list, h.fieldOf(i))
	}
	if h.source.Date != nil {
		list = append(list, *h.source.Date)
	}
	return list
}

// columns finds the delimiter and the header: the row that names the most columns.
// Where several delimiters do equally well, it is that by which most rows have
// enough cells.
func (h *head) columns() {
	fields := h.fields()
	choice := delimiters
	if h.source.Delimiter != 0 {
		choice = []rune{h.source.Delimiter}
	}
	best, header := -1, -1
	for _, d := range choice {
		list := records(h.text, d)
		score, at := h.score(list, fields)
		if score > best {
			best, header, h.rows, h.form.Delimiter = score, at, list, d
		}
	}
	if header >= 0 {
		h.header, h.form.Header = h.rows[header].cells, h.rows[header].line
	}
	h.locate(fields)
}

// score is how well rows fit the fields, and which is the header: the first that names
// all that is needed, else the one that names the most.
func (h *head) score(list []record, fields []Field) (score, header int) {
	header = -1
	enough, needed := 2, 0
	need := func(i int) bool { return i == len(h.layout.Columns) || !h.layout.Columns[i].Optional }
	for i, f := range fields {
		if need(i) {
			enough = max(enough, f.Number)
			if f.Number == 0 {
				needed++
			}
		}
	}
	for i, r := range list {
		if h.source.FirstRow > 0 && r.line >= h.source.FirstRow {
			break
		}
		n, left := 0, needed
		for k, f := range fields {
			if f.Number == 0 && len(find(r.cells, f.Header)) > 0 {
				n++
				if need(k) {
					left--
				}
			}
		}
		if n > score {
			score, header = n, i
		}
		if needed > 0 && left == 0 {
			break
		}
	}
	score *= mostRecords + 1
	for _, r := range list {
		if len(r.cells) >= enough {
			score++
		}
	}
	return score, header
}

// locate finds each column in the header.
func (h *head) locate(fields []Field) {
	h.at, h.date = nil, -1
	for i, f := range fields {
		date := i == len(h.layout.Columns)
		name, optional := "date", false
		if !date {
			name, optional = h.layout.Columns[i].Name, h.layout.Columns[i].Optional
		}
		at := h.place(f, name, optional)
		if date {
			h.date = at
			break
		}
		h.at = append(h.at, at)
		if name == h.layout.Time {
			h.time = i
		}
	}
}

// place is the column of one field, -1 where the file has none.
func (h *head) place(f Field, name string, optional bool) int {
	if f.Number > 0 {
		return h.numbered(f.Number, name, optional)
	}
	at := find(h.header, f.Header)
	switch {
	case len(at) > 1:
		h.fail(h.form.Header, "duplicate", "Give the number of the column in place of its header.",
			"columns %d and %d are both headed %q", at[0]+1, at[1]+1, f.Header)
	case len(at) == 1:
		return at[0]
	case !optional && h.form.Header == 0:
		h.fail(0, "unknown-name", "Name the headers as they stand in the file, or give the numbers of the columns.",
			"the recording has no header that names \"%s\"", f.Header)
	case !optional:
		if name = " for " + name; name == " for "+f.Header {
			name = ""
		}
		h.fail(h.form.Header, "unknown-name", h.nearest(f.Header), "the recording has no column \"%s\"%s", f.Header, name)
	}
	return -1
}

// numbered is a column given by its number, if any row of the head has it.
func (h *head) numbered(n int, name string, optional bool) int {
	most := 0
	for _, r := range h.rows {
		most = max(most, len(r.cells))
	}
	if n <= most {
		return n - 1
	}
	if !optional {
		h.fail(0, "unknown-name", "Columns are counted from 1. Say what stands between the columns, if that was not recognised.",
			"the recording has no column %d for %s; its widest row has %d", n, name, most)
	}
	return -1
}

// nearest says which headers there are, the likeliest first.
func (h *head) nearest(name string) string {
	var names []string
	for _, c := range h.header {
		full := cell(c)
		bare, _ := split(full)
		if names = append(names, full); bare != full {
			names = append(names, bare)
		}
	}
	if like := diag.DidYouMean(name, names); like != "" {
		return like
	}
	var shown []string
	for _, c := range h.header[:min(len(h.header), 12)] {
		if c = cell(c); len(c) <= 60 {
			shown = append(shown, `"`+c+`"`)
		}
	}
	return "The headers are " + strings.Join(shown, ", ") + "."
}

// firstRow finds where the values begin: behind the header and a row of units, or
// at the first row whose wanted cells begin like values.
func (h *head) firstRow() {
	if h.form.First = h.source.FirstRow; h.form.First > 0 {
		h.behind()
		return
	}
	for _, r := range h.rows {
		if r.line > h.form.Header && h.valued(r) {
			h.form.First = r.line
			h.behind()
			return
		}
	}
	for _, r := range h.rows {
		at := h.at[h.time]
		if r.line > h.form.Header && at < len(r.cells) && trim(r.cells[at]) != "" && h.valuedBut(r) {
			h.noTimes(r.line, trim(r.cells[at]))
			return
		}
	}
	h.fail(0, "missing", "Look whether the recording was saved, and whether the columns are those that are meant.",
		"the recording has no row with values")
}

// behind drops the rows of the head before the values, and takes a row with as
// many cells right above them as header where none was sought, for its units.
func (h *head) behind() {
	i := slices.IndexFunc(h.rows, func(r record) bool { return r.line >= h.form.First })
	if i < 0 { // beyond the head, whose rows are taken to be written alike
		i = slices.IndexFunc(h.rows, func(r record) bool { return r.line > h.form.Header && h.valued(r) })
	}
	if i < 0 {
		i = len(h.rows)
	}
	above := i - 1
	if above >= 0 && h.form.Header == 0 && i < len(h.rows) && len(h.rows[above].cells) == len(h.rows[i].cells) {
		h.header, h.form.Header = h.rows[above].cells, h.rows[above].line
	}
	if above >= 0 && h.rows[above].line > h.form.Header && h.form.Header > 0 {
		h.unitRow(h.rows[above].cells)
	}
	h.rows = h.rows[i:]
}

// valued reports whether a cell begins as values do: with a digit behind a sign.
func valued(s string) bool {
	s = strings.TrimLeft(s, " +-.,")
	return s != "" && unicode.IsDigit(rune(s[0]))
}

// valued reports whether the time of a row begins as values do, and, where no header
// says that values follow, one more wanted cell.
func (h *head) valued(r record) bool {
	at := h.at[h.time]
	return at < len(r.cells) && (valued(r.cells[at]) || dated(r.cells[at])) &&
		(len(h.at) == 1 || h.form.Header > 0 || h.valuedBut(r))
}

// valuedBut reports whether a wanted cell but the time begins as values do.
func (h *head) valuedBut(r record) bool {
	for i, at := range h.at {
		if i != h.time && at >= 0 && at < len(r.cells) && valued(r.cells[at]) {
			return true
		}
	}
	return false
}
