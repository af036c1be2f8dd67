package export_test

import (
	"cmp"
	"encoding/xml"
	"fmt"
	"io/fs"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"bankwright/engine/oracle"
	"bankwright/export"
	"bankwright/export/xlsx"
	"bankwright/scenarios"
)

// printed is what poppler's pdftotext -bbox says of a file.
type printed struct {
	Pages []page `xml:"body>doc>page"`
}

type page struct {
	Width  float64 `xml:"width,attr"`
	Height float64 `xml:"height,attr"`
	Words  []word  `xml:"word"`
}

// word is a word on a page, in points from its upper left corner.
type word struct {
	Left   float64 `xml:"xMin,attr"`
	Top    float64 `xml:"yMin,attr"`
	Right  float64 `xml:"xMax,attr"`
	Bottom float64 `xml:"yMax,attr"`
	Text   string  `xml:",chardata"`
}

// mostPages is how many pages the workbook of each scenario may take.
var mostPages = map[string]int{"cabin": 205, "bench": 225, "market_stall.toml": 235, "boat": 300, "quarry": 325, "starter.toml": 170}

// TestPrinted prints the workbook of every scenario by LibreOffice as it is set up, and
// that of the default one with every sheet turned: every sheet has its pages, none of
// them nearly empty, no number is too wide for its column, nothing is off the paper, and
// no text runs into another one, as a text does that is cut where the next cell begins:
// in the file it stands in full. As they are set up, letters can be read on every page.
func TestPrinted(t *testing.T) {
	oracle.Slow(t)
	oracle.Program(t, "soffice")
	oracle.Program(t, "pdftotext")
	files, err := fs.Glob(scenarios.Files, "*.toml")
	if err != nil || len(files) > len(mostPages) {
		t.Fatalf("%d scenarios, %v", len(files), err)
	}
	for name := range mostPages {
		t.Run(name, func(t *testing.T) { printsWell(t, name, false) })
	}
	t.Run("turned", func(t *testing.T) { printsWell(t, "cabin", true) })
}

func printsWell(t *testing.T, name string, turned bool) {
	b := export.Workbook(t, name)
	if turned {
		for _, s := range b.Sheets {
			s.Print.Landscape, s.Print.Scale = !s.Print.Landscape, 0
		}
	}
	t.Parallel()
	p := print(t, b)
	pages := map[string]int{}
	for i, pg := range p.Pages {
		sheet := sheetOf(t, b, pg)
		pages[sheet]++
		pg.check(t, fmt.Sprintf("page %d, %s", i+1, sheet))
		if size := pg.points(); size < export.ReadPoints*95/100 && !turned {
			t.Errorf("page %d, %s: letters of %.1f points", i+1, sheet, size)
		}
	}
	for _, s := range b.Sheets {
		if pages[s.Name] == 0 {
			t.Errorf("the sheet %s is not printed", s.Name)
		}
		if s.Print.Wide > 1 {
			t.Errorf("the sheet %s takes %d pages side by side", s.Name, s.Print.Wide)
		}
	}
	t.Logf("%d pages: %v", len(p.Pages), pages)
	if len(p.Pages) > mostPages[name] && !turned {
		t.Errorf("%d pages, more than %d: %v", len(p.Pages), mostPages[name], pages)
	}
}

// points is the size of most letters above the foot of a page: a word is 1.3 times as
// high (measured: poppler 22.12).
func (pg page) points() float64 {
	var sizes []float64
	for _, w := range pg.Words {
		if w.Bottom < pg.Height-45 {
			sizes = append(sizes, (w.Bottom-w.Top)/1.3008)
		}
	}
	slices.Sort(sizes)
	return sizes[len(sizes)/2]
}

// print has LibreOffice print a workbook, and reads where the words are.
func print(t *testing.T, b *export.Book) *printed {
	t.Helper()
	folder := t.TempDir()
	book := filepath.Join(folder, "book.xlsx")
	if err := xlsx.Write(book, b); err != nil {
		t.Fatal(err)
	}
	office(t, "--convert-to", "pdf", "--outdir", folder, book)
	text, err := exec.Command(oracle.Program(t, "pdftotext"), "-bbox", filepath.Join(folder, "book.pdf"), "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	p := &printed{}
	d := xml.NewDecoder(strings.NewReader(string(text)))
	d.Strict, d.Entity = false, xml.HTMLEntity
	if err := d.Decode(p); err != nil || len(p.Pages) == 0 {
		t.Fatalf("%d pages, %v", len(p.Pages), err)
	}
	return p
}

// sheetOf is the sheet that a page is of, by its foot.
func sheetOf(t *testing.T, b *export.Book, pg page) string {
	t.Helper()
	foot := 0.0
	for _, w := range pg.Words {
		foot = max(foot, w.Bottom)
	}
	words := slices.Clone(pg.Words)
	slices.SortFunc(words, func(a, b word) int { return cmp.Compare(a.Left, b.Left) })
	var said []string
	for _, w := range words {
		if w.Bottom > foot-4 {
			said = append(said, w.Text)
		}
	}
	found := ""
	for _, s := range b.Sheets {
		if strings.Contains(" "+strings.Join(said, " ")+" ", " "+s.Name+" ") && len(s.Name) > len(found) {
			found = s.Name
		}
	}
	if found == "" {
		t.Fatalf("a page has the foot %q", said)
	}
	return found
}

// wrongWords are what a page must not show.
var wrongWords = []string{"###", "Err:", "#NAME?", "#N/A", "#REF!", "#VALUE!", "#DIV/0!", "#NUM!"}

// fewestWords are on every page, but for those of pictures.
const fewestWords = 25

func (pg page) check(t *testing.T, name string) {
	t.Helper()
	for _, w := range pg.Words {
		for _, wrong := range wrongWords {
			if strings.Contains(w.Text, wrong) {
				t.Errorf("%s: %s", name, w.Text)
			}
		}
		if w.Left < 0 || w.Top < 0 || w.Right > pg.Width || w.Bottom > pg.Height {
			t.Errorf("%s: %q is off the paper", name, w.Text)
		}
	}
	if len(pg.Words) < fewestWords {
		t.Errorf("%s: there are only %d words", name, len(pg.Words))
	}
	if a, b, n := pg.overlaps(); n > 0 {
		t.Errorf("%s: %d words run into others: %q into %q at %.0f, %.0f", name, n, a.Text, b.Text, b.Left, b.Top)
	}
}

// overlaps are two words that share paper, and how many such there are. Letters may
// touch: a fifth of their height is allowed.
func (pg page) overlaps() (a, b word, n int) {
	words := slices.Clone(pg.Words)
	slices.SortFunc(words, func(a, b word) int { return cmp.Compare(a.Top, b.Top) })
	for i, x := range words {
		for _, y := range words[i+1:] {
			if y.Top > x.Bottom {
				break
			}
			high := min(x.Bottom, y.Bottom) - y.Top
			wide := min(x.Right, y.Right) - max(x.Left, y.Left)
			if size := min(x.Bottom-x.Top, y.Bottom-y.Top); high > size/2 && wide > size/5 {
				if n == 0 {
					a, b = x, y
				}
				n++
			}
		}
	}
	return a, b, n
}

// TestTypedShown: a typed number with more decimals than its format has is shown with
// its sign and as many decimals as tell it, in a column that is not wide.
func TestTypedShown(t *testing.T) {
	oracle.OneCore(t)
	oracle.Program(t, "soffice")
	oracle.Program(t, "pdftotext")
	s := &export.Sheet{Name: "Numbers", Widths: []float64{12}}
	want := []string{"0.00277778", "-0.00312345", "-0.5", "12.3457", "-1,234.5679", "2.5E-07", "3.0", "40.0"}
	for i, v := range []float64{1.0 / 360, -0.00312345, -0.5, 12.34567, -1234.56789, 2.5e-7, 3, 40} {
		s.Set(i+1, 1, export.Cell{Value: v, Style: export.Input, Format: "#,##0.0"})
	}
	s.Set(3, 1, export.Cell{Value: -0.5, Style: export.Input, Format: "#,##0"})
	s.Typed = []export.Typed{{Range: "A1:A2", Decimals: 1}, {Range: "A3:A3", Decimals: 0}, {Range: "A4:A8", Decimals: 1}}
	var got []string
	for _, w := range print(t, &export.Book{Title: "Numbers", Sheets: []*export.Sheet{s}}).Pages[0].Words[:len(want)] {
		got = append(got, w.Text)
	}
	if !slices.Equal(got, want) {
		t.Errorf("shown are %q, want %q", got, want)
	}
}

func TestOverlaps(t *testing.T) {
	line := func(left, right, top float64) word { return word{Left: left, Right: right, Top: top, Bottom: top + 10} }
	for _, c := range []struct {
		words []word
		n     int
	}{
		{[]word{line(0, 20, 0), line(22, 40, 0), line(0, 20, 10)}, 0},
		{[]word{line(0, 20, 0), line(19, 40, 1)}, 0},
		{[]word{line(0, 20, 0), line(15, 40, 1)}, 1},
		{[]word{line(0, 20, 0), line(0, 20, 3)}, 1},
	} {
		if _, _, n := (page{Words: c.words}).overlaps(); n != c.n {
			t.Errorf("%v: %d overlaps, want %d", c.words, n, c.n)
		}
	}
}
