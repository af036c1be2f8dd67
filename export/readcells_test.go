package export

import (
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine"
	"bankwright/engine/diag"
	"bankwright/engine/oracle"
	"bankwright/rules"
	"bankwright/scenarios"
)

// placed is where the cell of an input stands in a book: a step of a series, or a row
// of a table's column, being counted from 0.
func placed(t *testing.T, pl *plan, name string, row int) [3]int {
	t.Helper()
	c, err := pl.prog.ParseCell(name)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range pl.inputs.lines {
		if l.q == c.Quantity {
			return [3]int{pl.book.Sheet("Inputs"), l.row + row, l.column(c.Item)}
		}
	}
	t.Fatalf("%s has no place", name)
	return [3]int{}
}

// typed is what somebody types into the cell of an input.
type typedIn struct {
	cell string
	row  int
	data any
}

// TestReturnedCells: what is typed, what is told of it, and what stands in the
// scenario then.
func TestReturnedCells(t *testing.T) {
	oracle.OneCore(t)
	type one = []typedIn
	m := models(t)["cabin"]
	pl := plotBook(m, nil)
	for _, c := range []struct {
		what   string
		typed  one
		change string // Cell: Old -> New
		fault  string // of what cannot be used
		text   string // in the new scenario
	}{
		{"a number", one{{"battery.oak.price", 0, 1100.5}}, "battery.oak.price: 1,050 USD -> 1,100.5 USD", "", `price                 = "1100.5 USD"`},
		{"a percentage as it is shown", one{{"site.depth_of_discharge", 0, 70.0}}, "site.depth_of_discharge: 80 % -> 70 %", "", `depth_of_discharge          = "70 %"`},
		{"a percentage with its sign", one{{"site.depth_of_discharge", 0, ReturnedCell{Value: 0.7, Percent: true}}}, "site.depth_of_discharge: 80 % -> 70 %", "", `= "70 %"`},
		{"a percentage with its sign, which is not told", one{{"site.discount_rate", 0, 0.06}}, "site.discount_rate: 5 % -> 0.06 %", "", `= "0.06 %"`},
		{"a percentage of what is none", one{{"battery.oak.mass", 0, ReturnedCell{Value: 0.7, Percent: true}}}, "", "`mass` is a percentage here, and not a number in kg", ""},
		{"a default", one{{"inverter.at_12v.idle_power", 0, 12.0}, {"battery.ash.tests", 0, 3.0}}, "battery.ash.tests: 1 -> 3", "", "\ntests                 = 3\n"},
		{"a unit that the file writes otherwise", one{{"battery.oak.length", 0, 0.5}}, "battery.oak.length: 0.485 m -> 0.5 m", "", `length                = "0.5 m"`},
		{"a choice", one{{"alternative.six_ash.battery", 0, "oak"}}, "alternative.six_ash.battery: ash -> oak", "", `battery           = "oak"`},
		{"another item", one{{"alternative.six_ash.battery", 0, "oka"}}, "", "there is no battery `oka`", ""},
		{"a choice of texts", one{{"site.wire_tables", 0, "metric"}}, "", "`wire_tables` cannot be \"metric\"", ""},
		{"a truth", one{{"load.pump.essential", 0, false}}, "load.pump.essential: yes -> no", "", "essential     = false"},
		{"a truth as a number", one{{"load.pump.essential", 0, 0.0}}, "load.pump.essential: yes -> no", "", "essential     = false"},
		{"no truth", one{{"load.pump.essential", 0, "perhaps"}}, "", "`essential` is true or false, not \"perhaps\"", ""},
		{"a member that leaves", one{{"alternative.two_ash.sources", 0, false}}, "alternative.two_ash.sources[roof]: yes -> no", "", "sources           = []"},
		{"a step", one{{"alternative.three_ash.link_ratio", 1, 1.25}}, "alternative.three_ash.link_ratio[2]: 1 -> 1.25", "", "link_ratio        = [1, 1.25, 1, 1,"},
		{"a point", one{{"battery.oak.cycle_life", 1, 75.0}}, "battery.oak.cycle_life.depth[2]: 80 % -> 75 %", "", `depth = ["50 %", "75 %", "100 %"]`},
		{"half a point", one{{"battery.oak.cycle_life", 3, 90.0}}, "", "a row of `cycle_life` is not complete", ""},
		{"a point twice", one{{"battery.oak.cycle_life", 1, 50.0}}, "", "`cycle_life` has the value 50 twice", ""},
		{"over a formula", one{{"alternative.one_oak.wiring_price", 0, 333.0}}, "alternative.one_oak.wiring_price: = parts -> 333 USD", "", `wiring_price      = "333 USD"`},
		{"nothing, where it may be", one{{"battery.ash.warranty", 0, nil}}, "battery.ash.warranty: 10 years -> -", "", `# warranty              = "10 year"`},
		{"nothing, where it may not", one{{"battery.ash.price", 0, nil}}, "", "`price` must not be empty", ""},
		{"too little", one{{"battery.ash.price", 0, -3.0}}, "", "`price` is -3 USD, less than the least allowed, 0 USD", ""},
		{"not whole", one{{"alternative.one_oak.series", 0, 1.5}}, "", "`series` must be a whole number, not 1.5", ""},
		{"a number as text", one{{"battery.oak.price", 0, "1,050"}}, "", "`price` is a number, but this is the text \"1,050\"", ""},
		{"a number with its unit", one{{"battery.oak.price", 0, "1100 USD"}}, "", "`price` is a number, but this is the text \"1100 USD\"", ""},
		{"a date", one{{"battery.oak.mass", 0, ReturnedCell{Value: 46085.0, Date: true}}}, "", "`mass` is a date or a time here", ""},
		{"an error value", one{{"battery.oak.mass", 0, ReturnedCell{Value: ErrorValue("#DIV/0!"), Formula: true}}}, "", "a formula gives #DIV/0!", ""},
		{"a formula with its value", one{{"battery.oak.mass", 0, ReturnedCell{Value: 29.0, Formula: true}}}, "battery.oak.mass: 28 kg -> 29 kg", "", `mass                  = "29 kg"`},
		{"a formula without its value", one{{"battery.oak.mass", 0, ReturnedCell{Formula: true}}}, "", "`mass` is a formula here, without a stored value", ""},
		{"a choice by a formula without its value", one{{"alternative.six_ash.battery", 0, ReturnedCell{Formula: true}}}, "", "`battery` is a formula here, without a stored value", ""},
		{"a truth by a formula without its value", one{{"load.pump.essential", 0, ReturnedCell{Formula: true}}}, "", "`essential` is a formula here, without a stored value", ""},
		{"a member by a formula without its value", one{{"alternative.two_ash.sources", 0, ReturnedCell{Formula: true}}}, "", "`sources` is a formula here, without a stored value", ""},
		{"a warranty by a formula without its value", one{{"battery.ash.warranty", 0, ReturnedCell{Formula: true}}}, "", "`warranty` is a formula here, without a stored value", ""},
		{"a formula of a scenario as text", one{{"alternative.six_ash.battery", 0, "=1+1"}}, "", "`battery` cannot be \"=1+1\"", ""},
		{"control characters", one{{"alternative.six_ash.battery", 0, "oak\x1b[2J"}}, "", "`battery` cannot be", ""},
	} {
		t.Run(c.what, func(t *testing.T) {
			book := sentBack{pl.book, map[[3]int]any{}}
			for _, in := range c.typed {
				book.changed[placed(t, pl, in.cell, in.row)] = in.data
			}
			read, faults := readBack(pl, book, "book.xlsx")
			if c.fault != "" {
				if len(faults) != 1 || !strings.Contains(faults[0].Summary, c.fault) || faults[0].Mend == "" || len(read.Changes) > 0 {
					t.Errorf("%v %v, want %s", faults, read.Changes, c.fault)
				}
				return
			}
			var got []string
			for _, ch := range read.Changes {
				got = append(got, ch.Cell+": "+ch.Old+" -> "+ch.New)
			}
			if faults.HasErrors() || !strings.Contains(strings.Join(got, "; "), c.change) || len(got) != len(c.typed) {
				t.Errorf("%v %v, want %s", faults, got, c.change)
			}
			list := diag.List{}
			text := string(m.Model.Revise(read.Revisions, nil, &list))
			if !strings.Contains(text, c.text) {
				t.Errorf("the scenario has no %s: %v", c.text, list)
			}
			if reload(t, m, sourcesOf("cabin"), read) == nil {
				t.Error("the new scenario cannot be read")
			}
		})
	}
}

// TestReturnedFigures: figures of a scenario's own formula are put into it.
func TestReturnedFigures(t *testing.T) {
	oracle.OneCore(t)
	m := models(t)["quarry"]
	pl := plotBook(m, nil)
	book := sentBack{pl.book, map[[3]int]any{}}
	n := 0
	for _, l := range pl.extra[pl.prog.Kind("battery")] {
		if l.figure != nil && l.figureOf.Name == "price" {
			n++
			book.changed[[3]int{pl.book.Sheet("Inputs"), l.row, l.col + l.only}] = l.figure.Num + 2
		}
	}
	read, faults := readBack(pl, book, "book.xlsx")
	if len(faults) > 0 || n != 2 || len(read.Changes) != 2 {
		t.Fatalf("%d figures: %v %v", n, faults, read.Changes)
	}
	if a, b := read.Changes[0], read.Changes[1]; a.Old != "3" || b.Old != "4" { // as the formula has them
		t.Errorf("changes come as %v", read.Changes)
	}
	list := diag.List{}
	if text := string(m.Model.Revise(read.Revisions, nil, &list)); !strings.Contains(text, `"= (batteries.slate.price + 5 * site.used_slate) / 6"`) {
		t.Error(text)
	}
	if reload(t, m, sourcesOf("quarry"), read) == nil {
		t.Error("the new scenario cannot be read")
	}
}

// TestCombinations: of a table that stands for several, one alone is changed, or all;
// and a condition on them has another answer.
func TestCombinations(t *testing.T) {
	oracle.OneCore(t)
	m := models(t)["boat"]
	alternatives := m.Kind("alternative").Items
	group := ""
	count := 0
	for _, it := range alternatives {
		if group == "" {
			group = it.Group
		}
		if it.Group == group {
			count++
		}
	}
	for _, c := range []struct {
		what   string
		items  []string
		tables bool // written out one by one
	}{{"one", []string{alternatives[0].Name}, true}, {"all", namesOfItems(m.Kind("alternative"))[:count], false}} {
		pl := plotBook(m, nil)
		book := sentBack{pl.book, map[[3]int]any{}}
		for _, name := range c.items {
			book.changed[placed(t, pl, "alternative."+name+".wiring_resistance", 0)] = 7.5
		}
		read, faults := readBack(pl, book, "book.xlsx")
		if faults.HasErrors() || len(read.Changes) != len(c.items) {
			t.Fatalf("%s: %v %v", c.what, faults, read.Changes)
		}
		list := diag.List{}
		text := string(m.Model.Revise(read.Revisions, nil, &list))
		if strings.Contains(text, "[alternative."+alternatives[0].Name+"]") != c.tables {
			t.Errorf("%s: %s", c.what, text)
		}
		if reload(t, m, sourcesOf("boat"), read) == nil {
			t.Errorf("%s: the new scenario cannot be read", c.what)
		}
	}
}

// TestListTakenIn: what stands in an included list is taken into the scenario where
// it changes, and no other file is needed then.
func TestListTakenIn(t *testing.T) {
	oracle.OneCore(t)
	m := models(t)["boat"]
	pl := plotBook(m, nil)
	book := sentBack{pl.book, map[[3]int]any{placed(t, pl, "battery.willow.price", 0): 999.0}}
	read, faults := readBack(pl, book, "book.xlsx")
	list := diag.List{}
	text := m.Model.Revise(read.Revisions, nil, &list)
	if faults.HasErrors() || !strings.Contains(string(text), "# include  = [") || !strings.Contains(string(text), `"999 GBP"`) {
		t.Fatalf("%v %v\n%s", faults, list, text)
	}
	alone := engine.Sources{Files: fstest.MapFS{"x.toml": &fstest.MapFile{Data: text}}, Scenario: "x.toml", Standard: rules.Files}
	now, problems, _ := engine.Load(alone)
	if now == nil {
		t.Fatal(problems)
	}
	if cells, kinds := read.Differs(m, now); len(cells)+len(kinds) > 0 {
		t.Error(cells, kinds)
	}
}

// TestBesideInputs: what is changed besides inputs is told with its place.
func TestBesideInputs(t *testing.T) {
	oracle.OneCore(t)
	m := models(t)["cabin"]
	pl := plotBook(m, nil)
	inputs, bank := pl.book.Sheet("Inputs"), pl.book.Sheet("Alternatives")
	usable := pl.places[pl.prog.Kind("alternative").Quantity("usable_energy")]
	price := placed(t, pl, "battery.oak.price", 0)
	tables := pl.book.Sheet("Tables")
	var figure [3]int
	for r, row := range pl.book.Find("Tables").rows {
		for c, cell := range row {
			if _, ok := cell.Value.(float64); ok && cell.isPublished() && figure[1] == 0 {
				figure = [3]int{tables, r + 1, c + 1}
			}
		}
	}
	for _, c := range []struct {
		at   [3]int
		data any
		want string
	}{
		{[3]int{bank, usable.row, usable.col}, 5.0, "book.xlsx:Alternatives!" + cellName(usable.row, usable.col) + ": warning: the formula was overwritten by 5 (Usable energy)"},
		{[3]int{inputs, price[1], labelCol}, "Offer", "warning: this says \"Offer\", where \"Price\" stood"},
		{[3]int{inputs, price[1], unitCol}, "EUR", "error: \"EUR\" stands where the unit USD stood"},
		{[3]int{inputs, placed(t, pl, "battery.oak.max_series", 0)[1], unitCol}, "kg", "error: \"kg\" stands where the unit number stood: values are read in plain numbers"},
		{[3]int{inputs, placed(t, pl, "alternative.one_oak.link_ratio", 2)[1], unitCol}, "%", "error: \"%\" stands where the unit number stood"},
		{[3]int{inputs, pl.names[pl.prog.Kind("battery")].row, itemCol}, "elm", "warning: this says \"elm\", where \"oak\" stood"},
		{[3]int{inputs, pl.toleranceRow + 1, itemCol}, 1e-3, "error: the tolerance of comparisons is no input"},
		{figure, 1.0, "it belongs to the rules, and a scenario cannot say it"},
		{leadOf(t, pl.book), "Buy the ash.", "warning: the formula was overwritten by \"Buy the ash.\""},
	} {
		_, faults := readBack(pl, sentBack{pl.book, map[[3]int]any{c.at: c.data}}, "book.xlsx")
		if len(faults) != 1 || !strings.Contains(faults[0].Error(), c.want) {
			t.Errorf("%v, want %s", faults, c.want)
		}
	}
}

// TestOrigin: a workbook says where it comes from, and a stranger's does not.
func TestOrigin(t *testing.T) {
	m := models(t)["cabin"]
	o, err := OriginOf(sentBack{plotBook(m, nil).book, nil})
	if err != nil || o != OriginFor(m.Model) || o.File != scenarios.Default || len(o.Digest) != 12 || len(o.Rules) != 12 {
		t.Errorf("%v %v", o, err)
	}
	twice := &Sheet{Name: "Answer"}
	for row, says := range []string{"other.toml", "one more.toml", o.File, ""} {
		twice.text(row+1, 1, originFile, Plain)
		twice.text(row+1, 2, says, Plain)
		twice.text(row+1, 3, originDigest, Plain)
		twice.text(row+1, 4, says, Plain)
	}
	for range 20 { // a map is gone through in another order each time
		if now, err := OriginOf(sentBack{&Book{Sheets: []*Sheet{twice}}, nil}); err != nil || now.File != o.File || now.Digest != o.File {
			t.Fatalf("where its label stands several times, the scenario is %v, %v", now, err)
		}
	}
	if _, err := OriginOf(sentBack{&Book{Sheets: []*Sheet{{Name: "Answer"}}}, nil}); err == nil {
		t.Error("a workbook without origin has one")
	}
}

// TestTablesAreLocked: what the tables of the rules say is not for typing, and both the
// sheet and the contents say where it is changed.
func TestTablesAreLocked(t *testing.T) {
	pl := plotBook(models(t)["cabin"], nil)
	const said = "They belong to the rules: change them in a rules file."
	tables, published := pl.book.Find("Tables"), 0
	for r, row := range tables.Rows() {
		for c, cell := range row {
			published += btoi(cell.isPublished() && r >= tables.FreezeRows)
			if cell.isInput() {
				t.Errorf("Tables!%s is for typing", cellName(r+1, c+1))
			}
		}
	}
	if words, _ := tables.At(2, 1).Value.(string); published < 100 || !strings.Contains(words, said) {
		t.Errorf("%d cells are published; the sheet says %q", published, words)
	}
	contents := pl.book.Find(contentsName)
	for r := range contents.Rows() {
		if words, _ := contents.At(r+1, 2).Value.(string); contents.At(r+1, 1).Value == "Tables" && !strings.Contains(words, said) {
			t.Errorf("the contents say %q", words)
		}
	}
}
