package export

import (
	"io/fs"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine"
	"bankwright/engine/decl"
	"bankwright/engine/diag"
	"bankwright/engine/oracle"
	"bankwright/rules"
	"bankwright/scenarios"
)

// sentBack is a book as a spreadsheet program would send it back, cells being
// changed; values beside formulas are left out.
type sentBack struct {
	*Book
	changed map[[3]int]any
}

func (b sentBack) Sheets() (names []string) {
	for _, s := range b.Book.Sheets {
		names = append(names, s.Name)
	}
	return names
}

func (b sentBack) Read(sheet string, _ int) (*ReturnedSheet, error) {
	n := b.Sheet(sheet)
	out := &ReturnedSheet{Name: sheet}
	for r, row := range b.Book.Sheets[n].rows {
		for c, cell := range row {
			now := ReturnedCell{Formula: cell.Formula != ""}
			if !now.Formula && cell.Value != "" {
				now.Value = cell.Value
			}
			if v, ok := b.changed[[3]int{n, r + 1, c + 1}]; ok {
				now = ReturnedCell{Value: v}
				if typed, ok := v.(ReturnedCell); ok {
					now = typed
				}
			}
			if now != (ReturnedCell{}) {
				out.Set(r+1, c+1, now)
			}
		}
	}
	for at, v := range b.changed { // where nothing was written
		if rows := b.Book.Sheets[n].rows; at[0] == n && v != nil && (at[1] > len(rows) || at[2] > len(rows[at[1]-1])) {
			typed, ok := v.(ReturnedCell)
			if !ok {
				typed = ReturnedCell{Value: v}
			}
			out.Set(at[1], at[2], typed)
		}
	}
	return out, nil
}

// sourcesOf is where the models of the tests are read from.
func sourcesOf(name string) engine.Sources {
	good, shared := os.DirFS("../engine/testdata/good"), os.DirFS("../testdata")
	return map[string]engine.Sources{
		"loaves":     {Files: os.DirFS("testdata"), Scenario: "loaves.toml"},
		"greenhouse": {Files: os.DirFS("testdata"), Scenario: "greenhouse.toml"},
		"garden":     {Files: good, Scenario: "market_garden.toml"},
		"cabin":      {Files: scenarios.Files, Scenario: scenarios.Default, Standard: rules.Files},
		"thresholds": {Files: shared, Scenario: "thresholds.toml", Standard: rules.Files},
		"charging":   {Files: shared, Scenario: "charging.toml", Standard: rules.Files},
		"boat":       {Files: scenarios.Files, Scenario: "narrowboat.toml", Standard: rules.Files},
		"days":       {Files: shared, Scenario: "typical_day.toml", Standard: rules.Files},
		"strings":    {Files: os.DirFS("../testdata/outside"), Scenario: "sharing.toml", Standard: rules.Files},
		"bench":      {Files: scenarios.Files, Scenario: "bench.toml", Standard: rules.Files},
		"wired boat": {Files: shared, Scenario: "wiring_boat.toml", Standard: rules.Files},
		"wired land": {Files: shared, Scenario: "wiring_land.toml", Standard: rules.Files},
		"quarry":     {Files: scenarios.Files, Scenario: "quarry_house.toml", Standard: rules.Files},
	}[name]
}

// TestReadBack changes inputs of every workbook at random, reads it back, writes the
// scenario and reads that: it has just the changed inputs.
func TestReadBack(t *testing.T) {
	oracle.OneCore(t)
	for name, m := range eachModel(t) {
		t.Run(name, func(t *testing.T) {
			pl := plotBook(m, nil)
			r := rand.New(rand.NewPCG(17, 4))
			rounds := 25
			if !small[name] {
				rounds = 3
			}
			whole := 0
			for range rounds {
				if readBackOnce(t, pl, m, sourcesOf(name), changes(pl, m, r, 6)) {
					whole++
				}
			}
			if whole < rounds/2 {
				t.Errorf("only %d of %d rounds went the whole way", whole, rounds)
			}
		})
	}
}

func readBackOnce(t *testing.T, pl *plan, m *engine.Model, src engine.Sources, list []change) bool {
	t.Helper()
	book := sentBack{pl.book, map[[3]int]any{}}
	for _, c := range list {
		book.changed[[3]int{pl.book.Sheet(c.sheet), c.row, c.col}] = c.data
	}
	return comesBack(t, pl, m, src, list, book)
}

// comesBack reads a workbook back in which inputs were changed, and reports whether
// the scenario that has these changes was read; where not, the changes are such that
// no scenario can have them.
func comesBack(t *testing.T, pl *plan, m *engine.Model, src engine.Sources, list []change, book Returned) bool {
	t.Helper()
	want := map[string]bool{}
	for _, c := range list {
		if !alike(pl.book.Find(c.sheet).At(c.row, c.col).Value, c.data) || pl.book.Find(c.sheet).At(c.row, c.col).Formula != "" {
			want[c.sheet+"!"+cellName(c.row, c.col)] = true
		}
	}
	read, faults := readBack(pl, book, "book.xlsx")
	if faults.HasErrors() {
		if refusable(faults) {
			return false // one step of a series, or of a set, alone
		}
		t.Fatalf("%v", faults)
	}
	for _, d := range faults {
		if _, at, _ := strings.Cut(d.At.File, ":"); d.Code != "unusual" || !want[at] { // what is typed at random may be unusual
			t.Errorf("told of what nobody did: %v", d)
		}
	}
	got := map[string]bool{}
	for _, c := range read.Changes {
		got[c.Address] = true
		if c.Old == c.New {
			t.Errorf("%s: %s -> %s", c.Cell, c.Old, c.New)
		}
	}
	for at := range want {
		if !got[at] {
			t.Errorf("the change of %s is not found", at)
		}
	}
	if len(got) != len(want) {
		t.Errorf("%d changes are found, %d were made: %v %v", len(got), len(want), read.Changes, want)
	}
	now := reload(t, m, src, read)
	if now == nil {
		return false
	}
	for _, c := range list {
		q := now.Kind(c.engine.Quantity.Kind.Name).Quantity(c.engine.Quantity.Name)
		item := q.Kind.Item(c.engine.Quantity.Kind.Items[c.engine.Item].Name)
		v := now.Result.At(q, item, c.engine.Row)
		if q.Type == decl.Number && !near(v, c.engine.Value) || m.Text(c.engine.Quantity, c.engine.Value) != now.Text(q, v) {
			t.Errorf("%s is %v, not %v", c.what, v, c.engine.Value)
		}
	}
	return true
}

// refusable reports whether all that is refused is what a scenario cannot say.
func refusable(list diag.List) bool {
	return !slices.ContainsFunc(list, func(d diag.Diagnostic) bool {
		return d.Severity == diag.Error && d.Code != "missing" && d.Code != "overwritten"
	})
}

// reload writes the scenario of a readback and reads it anew. Where the changes make
// a faulty scenario, which the workbook is not asked for, nothing is compared.
func reload(t *testing.T, m *engine.Model, src engine.Sources, read *Readback) *engine.Model {
	t.Helper()
	apart := map[string]bool{}
	for range 3 {
		list := diag.List{}
		text := m.Model.Revise(read.Revisions, apart, &list)
		if text == nil {
			t.Fatalf("%v", list)
		}
		with := src
		with.Files = beside{src.Files, fstest.MapFS{src.Scenario: &fstest.MapFile{Data: text}}}
		now, faults, _ := engine.Load(with)
		if now == nil {
			for _, d := range faults {
				if d.Severity == diag.Error && d.Code != "bounds" && d.Code != "not-a-number" && d.Code != "series" && d.Code != "cycle" && d.Code != "missing" {
					t.Fatalf("%v\n%s", d, text)
				}
			}
			return nil
		}
		cells, kinds := read.Differs(m, now)
		fresh := false
		for k := range kinds {
			fresh = fresh || !apart[k]
			apart[k] = true
		}
		if fresh {
			continue
		}
		if len(cells) > 0 || len(kinds) > 0 {
			t.Fatalf("%v %v come out otherwise after %v\n%s", cells, kinds, read.Changes, text)
		}
		return now
	}
	return nil
}

// beside are files of which some have another text.
type beside struct {
	fs.FS
	first fstest.MapFS
}

func (b beside) Open(name string) (fs.File, error) {
	if f, err := b.first.Open(name); err == nil {
		return f, nil
	}
	return b.FS.Open(name)
}

// Return is a workbook with some inputs changed, to be saved by other programs.
type Return struct {
	Name string
	Trial
	before *engine.Model
	src    engine.Sources
}

// Returns are workbooks of small scenarios, each with some inputs changed.
func Returns(t *testing.T) (out []Return) {
	for _, name := range []string{"garden", "greenhouse", "cabin", "loaves"} {
		m := models(t)[name]
		pl := plotBook(m, nil)
		if err := pl.book.fill(); err != nil {
			t.Fatal(name, err)
		}
		r := rand.New(rand.NewPCG(23, 9))
		list := changes(pl, m, r, 5)
		for !readBackOnce(t, pl, m, sourcesOf(name), list) {
			list = changes(pl, m, r, 5)
		}
		out = append(out, Return{name, Trial{Name: name, Book: pl.book, plan: pl, list: list}, m, sourcesOf(name)})
	}
	return out
}

// Check holds a workbook that another program saved against what was changed.
func (r Return) Check(t *testing.T, book Returned) {
	t.Helper()
	if !comesBack(t, r.plan, r.before, r.src, r.list, book) {
		t.Errorf("%s does not come back", r.Name)
	}
}

// Each calls f for every change: the cell and what is typed, nil to blank it.
func (r Return) Each(f func(sheet, cell string, data any)) {
	for _, c := range r.list {
		f(c.sheet, cellName(c.row, c.col), c.data)
	}
}

// TestUnchanged: a workbook that nobody changed has no changes, and its scenario stays
// as it is, to the last byte.
func TestUnchanged(t *testing.T) {
	oracle.OneCore(t)
	for name, m := range eachModel(t) {
		pl := plotBook(m, nil)
		read, faults := readBack(pl, sentBack{pl.book, nil}, "book.xlsx")
		if len(faults) > 0 || len(read.Changes) > 0 {
			t.Errorf("%s: %v %v", name, faults, read.Changes)
		}
		list := diag.List{}
		if got := string(m.Model.Revise(nil, nil, &list)); got != string(m.Model.Files[0].Text) {
			t.Errorf("%s: the scenario does not stay as it is", name)
		}
	}
}

// FuzzReadBack: whatever is typed into the cells of a workbook, it is read, and what is
// refused has a place; what is not refused is a scenario.
func FuzzReadBack(f *testing.F) {
	for _, seed := range []string{"", "\x10\x03\x01", "\x08\x02\x04\x09\x02\x05", "\x20\x03\x07\x21\x04\x08", "\xff\xff\xff"} {
		f.Add([]byte(seed))
	}
	m, list, _ := engine.Load(sourcesOf("garden"))
	if m == nil {
		f.Fatal(list)
	}
	pl := plotBook(m, nil)
	typed := []any{nil, 0.0, -1e300, 0.8, "", " ", "1,050", "=1+1", true, ErrorValue("#N/A"), "north", ReturnedCell{Formula: true}, ReturnedCell{Value: 2.0, Date: true}, ReturnedCell{Value: 0.5, Percent: true}, 3.0}
	f.Fuzz(func(t *testing.T, data []byte) {
		defer oracle.Within(t, oracle.Fuzzed)()
		book := sentBack{pl.book, map[[3]int]any{}}
		for ; len(data) >= 3; data = data[3:] {
			sheet := pl.book.Sheet("Inputs")
			if data[0] == 0xff {
				sheet = int(data[2]) % len(pl.book.Sheets)
			}
			book.changed[[3]int{sheet, 1 + int(data[0]), 1 + int(data[1])%12}] = typed[int(data[2])%len(typed)]
		}
		read, faults := readBack(pl, book, "book.xlsx")
		for _, d := range faults {
			if d.At.File == "" || d.Summary == "" || d.Severity == diag.Error && d.Mend == "" {
				t.Errorf("%+v", d)
			}
		}
		if !faults.HasErrors() {
			list := diag.List{}
			if m.Model.Revise(read.Revisions, nil, &list) == nil {
				t.Errorf("%v cannot be written: %v", read.Changes, list)
			}
		}
	})
}

func TestAlign(t *testing.T) {
	for _, c := range []struct{ a, b, to, added string }{
		{"abc", "abc", "012", ""},
		{"abc", "axbc", "023", "1"},
		{"abc", "ac", "0-1", ""},
		{"abc", "axc", "012", ""},
		{"abc", "axyc", "0-3", "12"},
		{"abbc", "abxbc", "0134", "2"},
		{"", "ab", "", "01"},
		{"ab", "", "--", ""},
		{"abcde", "xabcdey", "12345", "06"},
		{"pxyq", "qxyp", "-12-", "03"}, // moved, not renamed
		{"pxq", "qxq", "012", ""},      // q is still where it was
		{"axyb", "cxyd", "0123", ""},
	} {
		p := align(strings.Split(c.a, "")[:len(c.a)], strings.Split(c.b, "")[:len(c.b)])
		to, added := "", ""
		for _, i := range p.to {
			to += map[bool]string{true: "-", false: number(float64(i))}[i < 0]
		}
		for _, i := range p.added {
			added += number(float64(i))
		}
		if to != c.to || added != c.added {
			t.Errorf("%s in %s: %s, added %s; want %s, %s", c.a, c.b, to, added, c.to, c.added)
		}
	}
}
