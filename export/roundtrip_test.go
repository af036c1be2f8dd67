package export_test

import (
	"archive/zip"
	"fmt"
	"html"
	"io"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"bankwright/engine/oracle"
	"bankwright/export"
	"bankwright/export/xlsx"
)

// TestRoundTrip: what LibreOffice opens and saves again has the formulas and names that
// it had, to the character but for plainFormula, and on every sheet what kept lists.
func TestRoundTrip(t *testing.T) {
	t.Parallel()
	oracle.Slow(t)
	from, to := t.TempDir(), t.TempDir()
	var files []string
	for _, name := range readBooks(t) {
		path := filepath.Join(from, name+".xlsx")
		if err := xlsx.Write(path, export.Workbook(t, name)); err != nil {
			t.Fatal(err)
		}
		files = append(files, path)
	}
	recalculate(t, to, files)
	for _, name := range readBooks(t) {
		old, err := excelize.OpenFile(filepath.Join(from, name+".xlsx"))
		if err != nil {
			t.Fatal(err)
		}
		saved, err := excelize.OpenFile(filepath.Join(to, name+".xlsx"))
		if err != nil {
			t.Fatal(err)
		}
		sameNames(t, name, old, saved)
		sameFormulas(t, name, export.Workbook(t, name), saved)
		for _, s := range old.GetSheetList() {
			for what, of := range kept {
				sameList(t, name+": "+s+": "+what, of(t, old, s), of(t, saved, s))
			}
		}
		sameList(t, name+": charts", chartRanges(t, filepath.Join(from, name+".xlsx")), chartRanges(t, filepath.Join(to, name+".xlsx")))
		old.Close()
		saved.Close()
	}
}

// kept is what a sheet has besides cells, in lines of text. Frozen panes and hidden grid
// lines are not in it: where LibreOffice converts a file it has no window, and writes
// none; saved by hand they stay (LibreOffice 7.4).
var kept = map[string]func(t *testing.T, f *excelize.File, sheet string) []string{
	"limits": limitsOf, "links": linksOf, "marks": marksOf, "protection": protectionOf, "paper": paperOf, "joined cells": mergedOf, "pictures": picturesOf,
}

// sameList tells the first line that differs.
func sameList(t *testing.T, what string, a, b []string) {
	t.Helper()
	for i := range max(len(a), len(b)) {
		if i >= len(a) || i >= len(b) || a[i] != b[i] {
			t.Errorf("%s: there were %d and are %d; from number %d on they differ: %q, %q", what, len(a), len(b), i, a[min(i, len(a)):min(i+1, len(a))], b[min(i, len(b)):min(i+1, len(b))])
			return
		}
	}
}

func linksOf(t *testing.T, f *excelize.File, sheet string) (out []string) {
	cells, err := f.GetHyperLinkCells(sheet, "")
	if err != nil {
		t.Fatal(err)
	}
	for _, at := range cells {
		_, to, err := f.GetCellHyperLink(sheet, at)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, at+" to "+strings.TrimPrefix(to, "#"))
	}
	slices.Sort(out)
	return out
}

func marksOf(t *testing.T, f *excelize.File, sheet string) (out []string) {
	formats, err := f.GetConditionalFormats(sheet)
	if err != nil {
		t.Fatal(err)
	}
	for cells, list := range formats {
		if from, to, _ := strings.Cut(cells, ":"); from == to {
			cells = from
		}
		for _, c := range list {
			fill := ""
			if d := f.Styles.Dxfs.Dxfs[*c.Format]; d.Fill != nil && d.Fill.PatternFill != nil && d.Fill.PatternFill.BgColor != nil {
				fill = d.Fill.PatternFill.BgColor.RGB
			}
			out = append(out, fmt.Sprint(cells, " ", c.Type, " ", c.Criteria, " ", c.Value, " ", fill))
		}
	}
	slices.Sort(out)
	return out
}

// protection is what a sheet says of what may be changed; an attribute that is left out
// has its usual value (ECMA-376, part 1, 18.3.1.85).
var (
	protection     = regexp.MustCompile(`<sheetProtection([^>]*)>`)
	attribute      = regexp.MustCompile(`(\w+)="(\w+)"`)
	usuallyAllowed = []string{"objects", "scenarios", "selectLockedCells", "selectUnlockedCells", "sheet"}
)

func protectionOf(t *testing.T, f *excelize.File, sheet string) (out []string) {
	i, err := f.GetSheetIndex(sheet)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range protection.FindAllStringSubmatch(partOf(t, f.Path, fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1)), -1) {
		for _, a := range attribute.FindAllStringSubmatch(m[1], -1) {
			if locked := a[2] == "true" || a[2] == "1"; locked == slices.Contains(usuallyAllowed, a[1]) {
				out = append(out, a[1]+" "+a[2])
			}
		}
	}
	slices.Sort(out)
	return out
}

// partOf is the text of a part of a file.
func partOf(t *testing.T, path, name string) string {
	t.Helper()
	z, err := zip.OpenReader(path)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	r, err := z.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// needlessQuotes stand around the name of a sheet that is one word: excelize writes them
// where rows are repeated, LibreOffice does not.
var needlessQuotes = regexp.MustCompile(`(^|,)'(\w+)'!`)

func paperOf(t *testing.T, f *excelize.File, sheet string) (out []string) {
	layout, err := f.GetPageLayout(sheet)
	if err != nil {
		t.Fatal(err)
	}
	foot, err := f.GetHeaderFooter(sheet)
	if err != nil {
		t.Fatal(err)
	}
	props, err := f.GetSheetProps(sheet)
	if err != nil {
		t.Fatal(err)
	}
	size := ""
	if fitted := props.FitToPage != nil && *props.FitToPage; fitted {
		size = fmt.Sprint("fitted to ", *layout.FitToWidth, *layout.FitToHeight)
	} else if layout.AdjustTo != nil {
		size = fmt.Sprint(*layout.AdjustTo, " %")
	}
	out = append(out, fmt.Sprint(*layout.Orientation, *layout.Size, " ", size), strings.Replace(foot.OddFooter, "&L&C", "&C", 1)) // LibreOffice leaves an empty part out
	for _, n := range f.GetDefinedName() {
		if n.Name == "_xlnm.Print_Titles" && n.Scope == sheet {
			out = append(out, needlessQuotes.ReplaceAllString(n.RefersTo, "$1$2!"))
		}
	}
	return out
}

func mergedOf(t *testing.T, f *excelize.File, sheet string) (out []string) {
	cells, err := f.GetMergeCells(sheet)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range cells {
		out = append(out, m.GetStartAxis()+":"+m.GetEndAxis())
	}
	slices.Sort(out)
	return out
}

func picturesOf(t *testing.T, f *excelize.File, sheet string) (out []string) {
	cells, err := f.GetPictureCells(sheet)
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(cells)
	return cells
}

// chartRange is where a chart in a file says which cells it draws.
var chartRange = regexp.MustCompile(`<(?:c:)?f>([^<]*)</(?:c:)?f>`)

// chartRanges are the cells that the charts of a file draw, chart by chart.
func chartRanges(t *testing.T, path string) (out []string) {
	t.Helper()
	z, err := zip.OpenReader(path)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	for _, part := range z.File {
		if !strings.HasPrefix(part.Name, "xl/charts/chart") {
			continue
		}
		var refs []string
		for _, m := range chartRange.FindAllStringSubmatch(partOf(t, path, part.Name), -1) {
			refs = append(refs, html.UnescapeString(m[1]))
		}
		slices.Sort(refs)
		out = append(out, strings.Join(slices.Compact(refs), " "))
	}
	slices.Sort(out)
	return out
}

func sameNames(t *testing.T, name string, old, saved *excelize.File) {
	t.Helper()
	at := map[string]string{}
	for _, n := range saved.GetDefinedName() {
		at[n.Name] = n.RefersTo
	}
	for _, n := range old.GetDefinedName() {
		if n.Scope == "Workbook" && at[n.Name] != n.RefersTo {
			t.Errorf("%s: the name %s was %s and is %s", name, n.Name, n.RefersTo, at[n.Name])
		}
	}
}

func sameFormulas(t *testing.T, name string, b *export.Book, saved *excelize.File) {
	t.Helper()
	wrong := 0
	for _, s := range b.Sheets {
		for r, row := range s.Rows() {
			for c, cell := range row {
				if cell.Formula == "" {
					continue
				}
				at, _ := excelize.CoordinatesToCellName(c+1, r+1)
				f, err := saved.GetCellFormula(s.Name, at)
				if err != nil || plainFormula(f) != plainFormula(cell.Formula) {
					if wrong++; wrong < 6 {
						t.Errorf("%s: %s!%s was %s and is %s (%v)", name, s.Name, at, cell.Formula, f, err)
					}
				}
			}
		}
	}
}

// plainFormula is a formula without the parentheses that LibreOffice writes behind TRUE and
// FALSE, which are functions to it. All else has to be as it was, to the character.
func plainFormula(f string) string {
	return strings.NewReplacer("TRUE()", "TRUE", "FALSE()", "FALSE").Replace(strings.TrimPrefix(f, "="))
}

// limitsOf are the limits of a sheet, cell by cell in one order.
func limitsOf(t *testing.T, f *excelize.File, sheet string) []string {
	t.Helper()
	list, err := f.GetDataValidations(sheet)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, v := range list {
		for _, cells := range strings.Fields(v.Sqref) {
			eachCell(cells, func(at string) {
				if operator(v.Operator) != "between" || v.Type == "list" {
					v.Formula2 = "" // of a limit on one side, or of a list, it says nothing
				}
				out = append(out, fmt.Sprint(at, " ", v.Type, " ", operator(v.Operator), " ", number(v.Formula1), " ", number(v.Formula2), " ", v.AllowBlank, " ", deref(v.Error)))
			})
		}
	}
	slices.Sort(out)
	return out
}

// operator is what holds where a limit names none.
func operator(s string) string {
	if s == "" {
		return "between"
	}
	return s
}

// number writes a limit in one way.
func number(s string) string {
	var x float64
	if _, err := fmt.Sscan(s, &x); err == nil && !strings.ContainsAny(s, "!$") {
		return fmt.Sprint(x)
	}
	return s
}

func deref(s *string) string {
	if s == nil {
		return ""
	}
	return *s
}

func eachCell(cells string, f func(at string)) {
	from, to, ok := strings.Cut(cells, ":")
	if !ok {
		to = from
	}
	c1, r1, _ := excelize.CellNameToCoordinates(from)
	c2, r2, _ := excelize.CellNameToCoordinates(to)
	for r := r1; r <= r2; r++ {
		for c := c1; c <= c2; c++ {
			at, _ := excelize.CoordinatesToCellName(c, r)
			f(at)
		}
	}
}
