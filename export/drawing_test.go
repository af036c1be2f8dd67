package export

import (
	"bytes"
	"fmt"
	"image/png"
	"io/fs"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/oracle"
	"bankwright/export/calc"
	"bankwright/export/picture"
)

// racks are shelves of crates, drawn: what is drawn follows from counts, conditions
// and references of each.
const racks = `
title          = "Racks"
currency       = "EUR"
standard_rules = false

[rules.kind.crate]
many = "crates"
doc  = "A crate."
[rules.kind.lamp]
many = "lamps"
doc  = "A lamp."
[rules.kind.rack]
many = "racks"
doc  = "A rack of crates."
[rules.axis.bay]
steps  = 4
active = "bays"
doc    = "Bays of a rack."
[rules.caution.heavy]
text = "Racks are heavy."

[rules.crate.mass]
unit     = "kg"
optional = true
doc      = "Its mass."
[rules.lamp.power]
unit = "W"
doc  = "Its power."
[rules.rack.crate]
refers = "crate"
doc    = "What stands on it."
[rules.rack.spare]
refers   = "crate"
optional = true
doc      = "What else."
[rules.rack.lamps]
refers  = "lamp"
set     = true
default = []
doc     = "Its lamps."
[rules.rack.bays]
default = 1
doc     = "Bays."
[rules.rack.boards]
default = 1
doc     = "Boards of each."
[rules.rack.load]
unit    = "kg"
over    = "bay"
formula = "crate.mass * bay"
doc     = "Load of a bay."

[rules.drawing.sketch]
title    = "Sketch"
of       = "rack"
note     = ["{bays} by {boards}.", "{crate.mass} each."]
cautions = ["heavy"]
columns  = { count = "bays", most = 3, name = "bay", along = "bay", negative = "bays > 2 ? 2 : 1" }
rows     = { count = "boards", most = 5 }
[rules.drawing.sketch.part.crate]
symbol  = "cells"
at      = "cell"
is      = "crate"
label   = ["of wood", "{mass}"]
missing = "mass not known"
[rules.drawing.sketch.part.spare]
symbol = "fuse"
at     = "column"
is     = "spare"
[rules.drawing.sketch.part.joint]
symbol  = "bar"
at      = "join"
name    = "joint"
when    = "bays > 1"
label   = ["{crate.mass}", "{bays} of them"]
missing = "not known"
[rules.drawing.sketch.part.lamp]
symbol = "load"
at     = "across"
is     = "lamps"
when   = "power > 5 * watt"
label  = "{power}"
[rules.drawing.sketch.part.load]
at    = "below"
name  = "bears"
when  = "bay != 2"
label = "{load}"
[rules.constant.watt]
value = "1 W"
doc   = "A watt."

[crate.oak]
mass = "3 kg"
[crate.ash]
label = "ash of unknown mass"
[lamp.small]
power = "4 W"
[lamp.large]
power = "8 W"
[lamp.huge]
power = "9 W"
[rack.one]
crate = "oak"
[rack.wide]
crate  = "oak"
bays   = 3
boards = 2
spare  = "ash"
lamps  = ["small", "huge", "large"]
[rack.odd]
label = "an odd one"
crate = "ash"
bays  = 4
`

func rackFiles() fs.FS { return fstest.MapFS{"racks.toml": {Data: []byte(racks)}} }

// told is a circuit in words.
func saidBy(k picture.Circuit) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s / %s / %dx%d of %d, + %d, - %d / %s\n", k.Title, k.Note, k.Columns.Count, k.Rows.Count, k.Columns.Most, k.Positive, k.Negative, strings.Join(k.Foot, ";"))
	for _, p := range k.Parts {
		fmt.Fprintf(&b, "%s %s: %s: %s%s\n", p.Place, p.Symbol, p.Name, strings.Join(p.Label, "; "), strings.Join(p.Values, "|"))
	}
	return b.String()
}

// TestCircuit: what is drawn of each item, worked by hand from its declaration.
func TestCircuit(t *testing.T) {
	m := load(t, rackFiles(), "racks.toml", nil)
	for item, want := range []string{
		`Sketch: one / 1 by 1. 3 kg each. / 1x1 of 3, + 1, - 1 / Racks are heavy.
cell cells: oak: of wood; 3 kg
below : bears: 3 kg
`,
		`Sketch: wide / 3 by 2. 3 kg each. / 3x2 of 3, + 1, - 2 / Racks are heavy.
cell cells: oak: of wood; 3 kg
column fuse: ash of unknown mass: 
join bar: joint: 3 kg; 3 of them
across load: large: 8 W
across load: huge: 9 W
below : bears: 3 kg||9 kg
`,
		`Sketch: an odd one / 4 by 1. / 4x1 of 3, + 1, - 2 / Racks are heavy.
cell cells: ash of unknown mass: of wood; mass not known
join bar: joint: not known; 4 of them
below : bears: |||
`,
	} {
		if got := saidBy(Circuit(m, m.Drawings[0], item)); got != want {
			t.Errorf("got\n%swant\n%s", got, want)
		}
	}
}

// TestScenarioCircuits: of every alternative of the scenarios all batteries are drawn, in
// the layout that it has, with the lines where its take-off puts them.
func TestScenarioCircuits(t *testing.T) {
	at := func(k *check.Kind, name string) *check.Quantity { return k.Quantity(name) }
	for name, m := range eachModel(t) {
		for _, d := range m.Drawings {
			for item := range d.Kind.Items {
				k := Circuit(m, d, item)
				series, parallel := m.Result.At(at(d.Kind, "series"), item, 0), m.Result.At(at(d.Kind, "parallel"), item, 0)
				if float64(k.Rows.Count) != series || float64(k.Columns.Count) != parallel {
					t.Errorf("%s: %s is drawn %d by %d", name, k.Title, k.Rows.Count, k.Columns.Count)
				}
				takeOff := m.Text(at(d.Kind, "take_off"), m.Result.At(at(d.Kind, "take_off"), item, 0))
				negative := map[string]int{"diagonal": k.Columns.Count}[takeOff]
				if k.Positive != 1 || k.Negative != max(negative, 1) {
					t.Errorf("%s: %s with take-off %s: lines at %d and %d", name, k.Title, takeOff, k.Positive, k.Negative)
				}
				symbol := map[string]string{"same_end": "link", "diagonal": "link"}[takeOff]
				for _, p := range k.Parts {
					if p.Place == picture.Joining && symbol != "" && p.Symbol != symbol || p.Place == picture.Joining && symbol == "" && p.Symbol != "bar" {
						t.Errorf("%s: %s with take-off %s is joined by %s", name, k.Title, takeOff, p.Symbol)
					}
				}
				current := m.Text(at(d.Kind, "run_current"), m.Result.At(at(d.Kind, "run_current"), item, 0))
				if !slices.ContainsFunc(k.Parts, func(p picture.Part) bool {
					return p.Name == "main cables" && slices.Contains(p.Label, "carry "+current)
				}) {
					t.Errorf("%s: %s does not say that the main cables carry %s", name, k.Title, current)
				}
				if !slices.ContainsFunc(k.Foot, func(s string) bool { return strings.HasPrefix(s, "Planning drawing.") }) {
					t.Errorf("%s: %s has no caution", name, k.Title)
				}
			}
		}
	}
}

// TestPictured: the workbook shows a picture of each item, with words for who cannot
// see it, and says which input has been changed since it was drawn.
func TestPictured(t *testing.T) {
	m := load(t, rackFiles(), "racks.toml", nil)
	b, err := NewBook(m, nil)
	if err != nil {
		t.Fatal(err)
	}
	s := b.Find("Sketch")
	if s == nil || len(s.Pictures) != 3 || len(s.Breaks) == 0 {
		t.Fatalf("the sheet of drawings: %+v", s)
	}
	below := func(p Picture) int { // the first row below it
		size, err := png.DecodeConfig(bytes.NewReader(p.PNG))
		if err != nil {
			t.Fatal(err)
		}
		return p.Row + int(math.Ceil(float64(size.Height*p.Width)/float64(size.Width)/rowHeight))
	}
	for i, p := range s.Pictures {
		if _, err := png.Decode(bytes.NewReader(p.PNG)); err != nil {
			t.Error(err)
		}
		if k := Circuit(m, m.Drawings[0], i); p.Text != k.Title+". "+k.Note {
			t.Errorf("picture %d: %q", i, p.Text)
		}
		for _, row := range s.Breaks {
			if row > p.Row && row < below(p) {
				t.Errorf("picture %d from row %d is parted by a page that begins at row %d", i, p.Row, row)
			}
		}
		if i > 0 && p.Row < below(s.Pictures[i-1]) {
			t.Errorf("picture %d covers the one before", i)
		}
		if p.Row > len(s.Heights) || s.Heights[p.Row-1] != rowHeight*0.75 {
			t.Errorf("row %d has no height", p.Row)
		}
	}
	pl := plotBook(m, nil)
	since := func(changed map[[3]int]any) string {
		run := calc.New(live{Book: b, changed: changed})
		return run.Cell(b.Sheet("Sketch"), sinceRow, thenOwnerCol).S
	}
	if got := since(nil); got != "unchanged" {
		t.Errorf("nothing is changed, but the sheet says %q", got)
	}
	for _, c := range []struct {
		kind, quantity string
		item           int
		to             any
		want           string
	}{
		{"lamp", "power", 1, 9.5, "changed: Power (large)"},
		{"crate", "mass", 0, 5.0, "changed: Mass (oak)"},
		{"crate", "mass", 1, 5.0, "changed: Mass (ash of unknown mass)"},
		{"rack", "crate", 0, "ash", "changed: Crate (one)"},
		{"rack", "boards", 1, 3.0, "changed: Boards (wide)"},
	} {
		l := pl.places[m.Kind(c.kind).Quantity(c.quantity)]
		got := since(map[[3]int]any{{b.Sheet("Inputs"), l.row, l.column(c.item)}: c.to})
		if got != c.want {
			t.Errorf("%s.%s: the sheet says %q, want %q", c.kind, c.quantity, got, c.want)
		}
	}
}

// TestForbidden: above the picture of what must not be built, or would not serve, stands
// which checks say so, now and after a change; above others nothing.
func TestForbidden(t *testing.T) {
	oracle.OneCore(t)
	m := models(t)["cabin"]
	pl := plotBook(m, nil)
	s, n := pl.book.Find("Wiring"), pl.book.Sheet("Wiring")
	k := m.Drawings[0].Kind
	told := 0
	r := rand.New(rand.NewPCG(3, 5))
	for round := range 6 {
		list := changes(pl, m, r, 4*min(round, 1))
		run := Trial{Book: pl.book, list: list}.changed()
		checks := pl.book.Sheet("Checks")
		for i, p := range s.Pictures {
			want := ""
			for _, sev := range []decl.Severity{decl.Unfit, decl.Stop} {
				found := 0
				first := ""
				for r := checkRow; r <= len(pl.checks.sheet.Rows()); r++ {
					if pl.checks.sheet.At(r, checkSeverityCol).Value != sev.String() || r < pl.checks.sheet.Print.RepeatRows {
						continue
					}
					if run.Cell(checks, r, checkItemCol+i).S == sev.String() {
						if found++; found == 1 {
							first = run.Cell(checks, r, labelCol).S
						}
					}
				}
				if found > 0 {
					want = map[decl.Severity]string{decl.Unfit: "Would not serve: ", decl.Stop: "Must not be built so: "}[sev] + first
				}
				if found > 1 {
					want += fmt.Sprintf(", and %d more", found-1)
				}
			}
			if got := run.Cell(n, p.Row-1, labelCol).S; got != want {
				t.Errorf("round %d, %s: %q, want %q", round, k.Items[i].Name, got, want)
			}
			told += btoi(want != "")
		}
	}
	if told == 0 {
		t.Error("nothing is forbidden")
	}
}

// TestPicturedScenarios: nothing has changed where nothing was changed.
func TestPicturedScenarios(t *testing.T) {
	oracle.OneCore(t)
	for _, name := range []string{"cabin", "wired boat", "strings"} {
		b, err := NewBook(models(t)[name], nil)
		if err != nil {
			t.Fatal(err)
		}
		if s := b.Find("Wiring"); s == nil || s.At(sinceRow, thenOwnerCol).Value != "unchanged" {
			t.Errorf("%s: the sheet says %v", name, s.At(sinceRow, thenOwnerCol).Value)
		}
	}
}

// TestChoicesInWords: what a drawing says of a choice is words, without underscores.
func TestChoicesInWords(t *testing.T) {
	oracle.OneCore(t)
	m, said := models(t)["quarry"], 0
	for _, d := range m.Drawings {
		for i := range d.Kind.Items {
			for _, p := range Circuit(m, d, i).Parts {
				text := strings.Join(p.Label, " ")
				said += btoi(strings.Contains(text, "blade contact"))
				if strings.Contains(text, "blade_contact") {
					t.Errorf("%s: %q", itemLabel(d.Kind.Items[i]), text)
				}
			}
		}
	}
	if said == 0 {
		t.Error("no drawing says which fuse it has")
	}
}
