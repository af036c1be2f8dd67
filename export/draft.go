package export

import (
	"strings"
	"unicode/utf8"

	"bankwright/engine/check"
)

// draft is a sheet in the making, row by row.
type draft struct {
	pl   *plan
	page *page
	s    *Sheet
	k    *check.Kind     // compared, or nil
	by   *check.Quantity // what decides
	row  int             // the next free one

	links map[int]string // of labels, by row
}

// link has the label of a row lead to where it is explained.
func (d *draft) link(row int, to string) {
	if d.links == nil {
		d.links = map[int]string{}
	}
	d.links[row] = to
}

// label writes what a row says, with the link it has.
func (d *draft) label(row int, text string) {
	d.s.text(row, labelCol, text, Label)
	if to := d.links[row]; to != "" {
		d.s.Set(row, labelCol, Cell{Value: text, Style: Link, Link: to})
	}
}

// across fills a row with a formula for each item.
func (d *draft) across(label string, look Style, format string, form func(i int, col string) string) int {
	row := d.row
	d.row++
	d.label(row, label)
	switch {
	case format == TruthFormat:
		d.s.text(row, unitCol, truthWord, Unit)
	case format == "":
		d.s.text(row, unitCol, "words", Unit)
	default:
		d.s.text(row, unitCol, numberWord, Unit)
	}
	for i := range d.k.Items {
		d.s.Set(row, itemCol+i, Cell{Formula: form(i, columnName(itemCol+i)), Style: look, Format: format})
	}
	return row
}

// single draws a row with one figure, or with words where it has no format.
func (d *draft) single(label, form, format string) int {
	look, unit := Computed, numberWord
	if format == "" {
		look, unit = Note, "words"
	}
	d.label(d.row, label)
	d.s.text(d.row, unitCol, unit, Unit)
	d.s.Set(d.row, itemCol, Cell{Formula: form, Style: look, Format: format})
	d.row++
	return d.row - 1
}

// given writes a row with a whole number, which is no formula.
func (d *draft) given(label string, n int) int {
	d.label(d.row, label)
	d.s.text(d.row, unitCol, numberWord, Unit)
	d.s.Set(d.row, itemCol, Cell{Value: float64(n), Style: Plain, Format: "0"})
	d.row++
	return d.row - 1
}

// unitOf writes the unit of a line beside a row.
func (d *draft) unitOf(row int, l *line) { d.s.text(row, unitCol, unitWord(l), Unit) }

// span is a row of the items side by side.
func (d *draft) span(row int) string {
	n := number(float64(row))
	return "$" + columnName(itemCol) + n + ":$" + columnName(itemCol+len(d.k.Items)-1) + n
}

// figureAt is the first cell of figures in a row.
func (d *draft) figureAt(row int) string {
	return "$" + columnName(itemCol) + "$" + number(float64(row))
}

// total adds up the checks of all kinds that are not met; there is no sum where a
// condition says that they are not known.
func (d *draft) total(checks *checkPage, unknown string) {
	var sums []string
	for _, k := range d.pl.prog.Kinds {
		if row, ok := checks.sum[k]; ok {
			sums = append(sums, "Checks!"+cellName(row, checkItemCol))
		}
	}
	if len(sums) > 0 {
		d.link(d.row, "Checks!A1")
		sum := strings.Join(sums, "+")
		if unknown != "" {
			sum = "IF(" + unknown + "," + noValue + "," + sum + ")"
		}
		d.single(notMetInAll, sum, "0")
	}
}

// wrap breaks a text into lines of at most n characters, between words.
func wrap(s string, n int) []string {
	var out []string
	line := ""
	for _, w := range strings.Fields(s) {
		if line != "" && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(w) > n {
			out = append(out, line)
			line = ""
		}
		if line != "" {
			line += " "
		}
		line += w
	}
	return append(out, line)
}
