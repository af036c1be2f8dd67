package xlsx

import (
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"bankwright/export"
)

// rules sets what may be typed, what is marked by colour, and links.
func (w *writer) rules(s *export.Sheet) error {
	for _, v := range s.Validations {
		if err := w.validation(s.Name, v); err != nil {
			return err
		}
	}
	byRange := map[string][]excelize.ConditionalFormatOptions{}
	var ranges []string
	for _, m := range s.Marks {
		id, err := w.f.NewConditionalStyle(look(m.Style))
		if err != nil {
			return err
		}
		if byRange[m.Range] == nil {
			ranges = append(ranges, m.Range)
		}
		byRange[m.Range] = append(byRange[m.Range], excelize.ConditionalFormatOptions{
			Type: "cell", Criteria: "==", Format: &id, Value: `"` + m.Word + `"`,
		})
	}
	for _, r := range ranges {
		if err := w.f.SetConditionalFormat(s.Name, r, byRange[r]); err != nil {
			return err
		}
	}
	if err := w.typed(s); err != nil {
		return err
	}
	for r, row := range s.Rows() {
		for c, cell := range row {
			if cell.Link == "" {
				continue
			}
			name, err := excelize.CoordinatesToCellName(c+1, r+1)
			if err != nil {
				return err
			}
			if err := w.f.SetCellHyperLink(s.Name, name, cell.Link, "Location"); err != nil {
				return err
			}
		}
	}
	return nil
}

// protect keeps formulas from being typed over by mistake: on a sheet that has some
// only inputs can be changed. There is no password, so that whoever means it can take
// the protection off. Columns can be made wider all the same.
func (w *writer) protect(s *export.Sheet) error {
	for _, row := range s.Rows() {
		for _, c := range row {
			if c.Formula != "" {
				return w.f.ProtectSheet(s.Name, &excelize.SheetProtectionOptions{
					SelectLockedCells: true, SelectUnlockedCells: true, EditObjects: true, FormatColumns: true, FormatRows: true, AutoFilter: true, Sort: true,
				})
			}
		}
	}
	return nil
}

// typedFormats show four decimals at most of numbers from 1 on, eight of smaller ones,
// and the smallest by powers of ten; one format with conditions for all three would lose
// the sign of small numbers (LibreOffice 7.4).
var typedFormats = []struct{ format, size string }{
	{"#,##0.####", "ABS(%s)>=1,ABS(%[1]s-ROUND(%[1]s,%[2]d))>0.00005"},
	{"0.########", "ABS(%s)<1,ABS(%[1]s)>=0.0001,ROUND(%[1]s,%[2]d)<>%[1]s"},
	{"0.####E+00", "ABS(%s)<0.0001,ROUND(%[1]s,%[2]d)<>%[1]s"},
}

// typed gives typed numbers with more decimals than their format has a format
// of their own; where none is lost the usual one holds, in which decimal points
// stand below each other.
func (w *writer) typed(s *export.Sheet) error {
	if len(s.Typed) > 0 && w.asTyped == nil {
		for _, f := range typedFormats {
			id, err := w.f.NewConditionalStyle(&excelize.Style{CustomNumFmt: &f.format})
			if err != nil {
				return err
			}
			w.asTyped = append(w.asTyped, id)
		}
	}
	for _, t := range s.Typed {
		cell, _, _ := strings.Cut(t.Range, ":")
		var rules []excelize.ConditionalFormatOptions
		for i, f := range typedFormats {
			lost := "AND(" + fmt.Sprintf(f.size, cell, t.Decimals) + ")"
			rules = append(rules, excelize.ConditionalFormatOptions{Type: "formula", Criteria: lost, Format: &w.asTyped[i]})
		}
		if err := w.f.SetConditionalFormat(s.Name, t.Range, rules); err != nil {
			return err
		}
	}
	return nil
}

func (w *writer) validation(sheet string, v export.Validation) error {
	d := excelize.NewDataValidation(!v.Required)
	d.Sqref = v.Range
	if v.List != "" {
		d.SetSqrefDropList(v.List)
	} else if err := bounds(d, v); err != nil {
		return err
	}
	d.SetError(excelize.DataValidationErrorStyleStop, clean(v.Title), cut(clean(v.Error), 250))
	if v.Usual != "" {
		d.SetInput(clean(v.Title), cut(clean(v.Usual), 250))
	}
	return w.f.AddDataValidation(sheet, d)
}

// anyNumber is beyond what an input can be; the library takes no more.
const anyNumber = 1e30

func bounds(d *excelize.DataValidation, v export.Validation) error {
	kind, low, high := excelize.DataValidationTypeDecimal, -anyNumber, anyNumber
	if v.Whole {
		kind = excelize.DataValidationTypeWhole
	}
	switch {
	case v.Min == nil && v.Max == nil:
		return d.SetRange(low, high, kind, excelize.DataValidationOperatorBetween)
	case v.Min == nil:
		return d.SetRange(*v.Max, *v.Max, kind, excelize.DataValidationOperatorLessThanOrEqual)
	case v.Max == nil:
		return d.SetRange(*v.Min, *v.Min, kind, excelize.DataValidationOperatorGreaterThanOrEqual)
	}
	return d.SetRange(*v.Min, *v.Max, kind, excelize.DataValidationOperatorBetween)
}
