package xlsx

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"bankwright/engine"
	"bankwright/engine/oracle"
	"bankwright/export"
	"bankwright/rules"
	"bankwright/scenarios"
)

// models are all example scenarios, and a fixture with other rules.
func models(t *testing.T) map[string]*engine.Model {
	t.Helper()
	out := map[string]*engine.Model{}
	add := func(name string, s engine.Sources) {
		m, list, _ := engine.Load(s)
		if m == nil {
			t.Fatalf("%s: %v", name, list)
		}
		out[name] = m
	}
	files, err := fs.Glob(scenarios.Files, "*.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		add(f, engine.Sources{Files: scenarios.Files, Scenario: f, Standard: rules.Files})
	}
	add("loaves", engine.Sources{Files: os.DirFS("../testdata"), Scenario: "loaves.toml"})
	return out
}

// onFile is a workbook as it was written: what a library reads of it, and its parts.
type onFile struct {
	book  *export.Book
	file  *excelize.File
	parts map[string]string
}

// practiceRules are what is looked at in a file; package export looks at the
// book that it was made from. Each gives what breaks it.
var practiceRules = []struct {
	name string
	look func(w *onFile) []string
}{
	{"no hidden sheets, rows or columns (ICAEW 11)", (*onFile).hidden},
	{"no external links, macros or queries (FAST 1.03)", (*onFile).outside},
	{"frozen heads as planned (FAST 2.03)", (*onFile).frozen},
	{"print titles, fit to width, page numbers (FAST 2.03)", (*onFile).printed},
	{"names lead to their cells (FAST 4.03)", (*onFile).names},
	{"formulas are protected without a password, inputs are open (ICAEW 20)", (*onFile).guarded},
	{"inputs are held to what the rules allow (ICAEW 19, FAST 4.04)", (*onFile).limited},
	{"links lead to cells that are there", (*onFile).linked},
}

// TestPractice looks at every example workbook as it was written.
func TestPractice(t *testing.T) {
	oracle.OneCore(t)
	for name, m := range models(t) {
		found, err := m.Study(context.Background())
		if err != nil {
			t.Fatal(name, err)
		}
		b, err := export.NewBook(m, found)
		if err != nil {
			t.Fatal(name, err)
		}
		w := onFileOf(t, b)
		for _, r := range practiceRules {
			for _, what := range r.look(w) {
				t.Errorf("%s breaks %s: %s", name, r.name, what)
			}
		}
	}
}

func onFileOf(t *testing.T, b *export.Book) *onFile {
	t.Helper()
	data, err := Bytes(b)
	if err != nil {
		t.Fatal(err)
	}
	return &onFile{book: b, file: open(t, data), parts: partsOf(t, data)}
}

// partOfSheet is the part that holds a sheet.
func partOfSheet(i int) string { return fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1) }

func (w *onFile) hidden() (out []string) {
	for i, s := range w.book.Sheets {
		if ok, err := w.file.GetSheetVisible(s.Name); err != nil || !ok {
			out = append(out, "the sheet "+s.Name)
		}
		if part := w.parts[partOfSheet(i)]; strings.Contains(part, ` hidden="`) || strings.Contains(part, ` collapsed="`) {
			out = append(out, "rows or columns of "+s.Name)
		}
	}
	return out
}

func (w *onFile) outside() (out []string) {
	for part, text := range w.parts {
		for _, word := range []string{"externalLink", "vbaProject", "connections", "queryTable", "activeX", "embeddings", "macrosheet"} {
			if strings.Contains(part, word) {
				out = append(out, part)
			}
		}
		if strings.HasSuffix(part, ".rels") && strings.Contains(text, `TargetMode="External"`) {
			out = append(out, part+" leads out of the file")
		}
	}
	return out
}

func (w *onFile) frozen() (out []string) {
	for _, s := range w.book.Sheets {
		p, err := w.file.GetPanes(s.Name)
		if err != nil || p.YSplit != s.FreezeRows || p.XSplit != s.FreezeCols || p.Freeze != (s.FreezeRows+s.FreezeCols > 0) {
			out = append(out, fmt.Sprintf("%s: %d rows and %d columns, %d and %d planned", s.Name, p.YSplit, p.XSplit, s.FreezeRows, s.FreezeCols))
		}
	}
	return out
}

func (w *onFile) printed() (out []string) {
	titles := map[string]string{}
	for _, n := range w.file.GetDefinedName() {
		if n.Name == "_xlnm.Print_Titles" {
			titles[n.Scope] = n.RefersTo
		}
	}
	for _, s := range w.book.Sheets {
		if titles[s.Name] == "" {
			out = append(out, s.Name+" repeats no head")
		}
		props, err := w.file.GetSheetProps(s.Name)
		layout, e := w.file.GetPageLayout(s.Name)
		if err != nil || e != nil || !fits(s, props, layout) {
			out = append(out, s.Name+" is not fitted to the width of its pages")
		}
		foot, err := w.file.GetHeaderFooter(s.Name)
		if err != nil || foot == nil || !strings.Contains(foot.OddFooter, "&P of &N") {
			out = append(out, s.Name+" has no page numbers")
		}
	}
	return out
}

func (w *onFile) names() (out []string) {
	at := map[string]string{}
	for _, n := range w.file.GetDefinedName() {
		at[n.Name] = n.RefersTo
	}
	for _, n := range w.book.Names {
		sheet, cells, _ := strings.Cut(n.RefersTo, "!")
		cell, _, _ := strings.Cut(strings.ReplaceAll(cells, "$", ""), ":")
		v, err := w.file.GetCellValue(strings.Trim(sheet, "'"), cell)
		s := w.book.Find(strings.Trim(sheet, "'"))
		if at[n.Name] != n.RefersTo || err != nil || s == nil {
			out = append(out, n.Name+" is "+at[n.Name]+", not "+n.RefersTo+" "+v)
		}
	}
	return out
}

func (w *onFile) guarded() (out []string) {
	for i, s := range w.book.Sheets {
		formulas := slices.ContainsFunc(s.Rows(), func(row []export.Cell) bool {
			return slices.ContainsFunc(row, func(c export.Cell) bool { return c.Formula != "" })
		})
		part := w.parts[partOfSheet(i)]
		if formulas != strings.Contains(part, "<sheetProtection") || strings.Contains(part, "password=") || strings.Contains(part, "hashValue=") {
			out = append(out, s.Name)
		}
	}
	return out
}

// limited: every cell of an input on the sheet Inputs lies in a range that is
// validated, or takes any text.
func (w *onFile) limited() (out []string) {
	rules, err := w.file.GetDataValidations("Inputs")
	if err != nil {
		return []string{err.Error()}
	}
	covered := map[string]bool{}
	for _, v := range rules {
		if v.Error == nil || *v.Error == "" || v.ErrorTitle == nil || *v.ErrorTitle == "" {
			out = append(out, v.Sqref+" says nothing when it refuses")
		}
		for _, cells := range strings.Fields(v.Sqref) {
			each(cells, func(name string) { covered[name] = true })
		}
	}
	s := w.book.Find("Inputs")
	for r, row := range s.Rows() {
		for c, cell := range row {
			name, _ := excelize.CoordinatesToCellName(c+1, r+1)
			if cell.Style == export.Input && r > 4 && !covered[name] && s.At(r+1, 1).Value != "Tolerance of comparisons" && !strings.HasPrefix(fmt.Sprint(s.At(r+1, 1).Value), "Figure in the formula") {
				out = append(out, "Inputs!"+name)
			}
		}
	}
	return out
}

// each calls f for every cell of a block.
func each(cells string, f func(name string)) {
	from, to, ok := strings.Cut(cells, ":")
	if !ok {
		to = from
	}
	c1, r1, err := excelize.CellNameToCoordinates(from)
	c2, r2, e := excelize.CellNameToCoordinates(to)
	if err != nil || e != nil {
		return
	}
	for r := r1; r <= r2; r++ {
		for c := c1; c <= c2; c++ {
			name, _ := excelize.CoordinatesToCellName(c, r)
			f(name)
		}
	}
}

func (w *onFile) linked() (out []string) {
	for _, s := range w.book.Sheets {
		for _, row := range s.Rows() {
			for _, c := range row {
				sheet, cell, ok := strings.Cut(c.Link, "!")
				if c.Link == "" {
					continue
				}
				to := w.book.Find(strings.ReplaceAll(strings.Trim(sheet, "'"), "''", "'"))
				col, r, err := excelize.CellNameToCoordinates(cell)
				if !ok || to == nil || err != nil || to.At(r, col) == (export.Cell{}) {
					out = append(out, s.Name+": "+c.Link)
				}
			}
		}
	}
	return out
}

// TestPracticeCatches: a file that breaks a rule is found to.
func TestPracticeCatches(t *testing.T) {
	oracle.OneCore(t)
	m := models(t)["loaves"]
	fresh := func() *export.Book {
		b, err := export.NewBook(m, nil)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	for _, r := range practiceRules {
		if list := r.look(onFileOf(t, fresh())); len(list) > 0 {
			t.Errorf("%s: %s", r.name, list[0])
		}
	}
	for _, c := range []struct {
		rule  string
		spoil func(w *onFile)
	}{
		{"no hidden", func(w *onFile) { w.must(t, w.file.SetSheetVisible("Lists", false)) }},
		{"no hidden", func(w *onFile) {
			w.parts[partOfSheet(1)] = strings.Replace(w.parts[partOfSheet(1)], "<row ", `<row hidden="1" `, 1)
		}},
		{"no external", func(w *onFile) { w.parts["xl/externalLinks/externalLink1.xml"] = "" }},
		{"no external", func(w *onFile) { w.parts["xl/a.rels"] = `<Relationship TargetMode="External"/>` }},
		{"frozen heads", func(w *onFile) { w.must(t, w.file.SetPanes("Inputs", &excelize.Panes{})) }},
		{"print titles", func(w *onFile) {
			w.must(t, w.file.DeleteDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", Scope: "Inputs"}))
		}},
		{"print titles", func(w *onFile) {
			no := false
			w.must(t, w.file.SetSheetProps("Inputs", &excelize.SheetPropsOptions{FitToPage: &no}))
		}},
		{"print titles", func(w *onFile) { w.must(t, w.file.SetHeaderFooter("Inputs", &excelize.HeaderFooterOptions{})) }},
		{"names lead", func(w *onFile) { w.must(t, w.file.DeleteDefinedName(&excelize.DefinedName{Name: "tolerance"})) }},
		{"formulas are protected", func(w *onFile) {
			w.parts[partOfSheet(2)] = strings.Replace(w.parts[partOfSheet(2)], "<sheetProtection", "<other", 1)
		}},
		{"formulas are protected", func(w *onFile) {
			w.parts[partOfSheet(2)] = strings.Replace(w.parts[partOfSheet(2)], "<sheetProtection", `<sheetProtection hashValue="x"`, 1)
		}},
		{"inputs are held", func(w *onFile) { w.must(t, w.file.DeleteDataValidation("Inputs")) }},
		{"links lead", func(w *onFile) {
			w.book.Sheets[0].Set(1, 30, export.Cell{Value: "go", Style: export.Link, Link: "Inputs!ZZ99"})
		}},
	} {
		w := onFileOf(t, fresh())
		c.spoil(w)
		for _, r := range practiceRules {
			if strings.HasPrefix(r.name, c.rule) && len(r.look(w)) == 0 {
				t.Errorf("%q is not found", r.name)
			}
		}
	}
}

func (w *onFile) must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// fits reports whether a sheet is as wide as its pages: fitted, or made so small that what
// is printed of it has room (2 mm a character, and 19 and 27.7 cm between the margins).
func fits(s *export.Sheet, props excelize.SheetPropsOptions, layout excelize.PageLayoutOptions) bool {
	if s.Print.Scale == 0 {
		return props.FitToPage != nil && *props.FitToPage && *layout.FitToWidth == max(1, s.Print.Wide) && *layout.FitToHeight == s.Print.High
	}
	total := 0.0
	for _, w := range s.Widths[:s.Print.ToCol] {
		total += w
	}
	room := 190.0
	if s.Print.Landscape {
		room = 277
	}
	return layout.AdjustTo != nil && *layout.AdjustTo == uint(s.Print.Scale) && total*2*float64(s.Print.Scale)/100 <= room
}
