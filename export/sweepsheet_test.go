package export

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine"
	"bankwright/engine/sweep"
	"bankwright/export/calc"
)

// studied are what the studies of the models found that the tests run on.
var studied = map[*engine.Model]*engine.Studies{}

// study runs all studies of a model, once.
func study(t *testing.T, m *engine.Model) *engine.Studies {
	t.Helper()
	if studied[m] == nil {
		s, err := m.Study(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		studied[m] = s
	}
	return studied[m]
}

// trays is a small scenario with a study of each sort: grids over one axis, over two, of
// which one is long, over three and over names, a doubt of independent inputs, and two
// break-evens.
const trays = `
title          = "Trays"
currency       = "EUR"
standard_rules = false

[wood.beech]
label = "red beech from afar"
price = "3 EUR"
[wood.larch]
price = "2 EUR"

[tray.deep]
wood  = "beech"
depth = 4
[tray.flat]
label = "the flat one with handles"
wood  = "larch"
depth = 1
work  = "5 EUR"
[tray.round]
wood  = "larch"
depth = 9

[hall]
rent = "1 EUR"
wear = 2

[sweep.along]
title = "Price of beech"
show  = ["tray.cost", "tray.room"]
vary  = [{ input = "wood.beech.price", from = "0 EUR", to = "9 EUR", points = 19 }]

[sweep.wide]
vary = [{ input = "hall.wear", from = 1, to = 3, points = 30 }, { input = "wood.beech.price", from = "0 EUR", to = "9 EUR", points = 200 }]

[sweep.woods]
title = "Which wood"
show  = ["tray.deep.room"]
vary  = [{ input = "tray.deep.wood", values = ["beech", "larch"] }, { input = "hall.wear", values = [1, 2, 3] }, { input = "hall.rent", values = ["1 EUR", "2 EUR"] }]

[doubt.market]
title  = "Prices"
samples = 512
inputs = [{ input = "wood.beech.price", uniform = ["0 EUR", "4 EUR"] }, { input = "hall.wear", normal = [2, 0.1] }]

[break_even.beech]
title   = "Beech"
between = ["deep", "flat"]
input   = "wood.beech.price"
from    = "0 EUR"
to      = "9 EUR"

[break_even.never]
title   = "Never"
between = ["deep", "flat"]
input   = "wood.beech.price"
from    = "5 EUR"
to      = "9 EUR"

[break_even.wear]
title   = "Beech by wear"
between = ["deep", "flat"]
input   = "wood.beech.price"
from    = "0 EUR"
to      = "4 EUR"
over    = { input = "hall.wear", from = 1, to = 4, points = 7 }

[rules.kind.wood]
many = "woods"
[rules.kind.hall]
[rules.kind.tray]
many    = "trays"
compare = { by = "cost", best = "lowest", show = ["cost"] }
[rules.wood.price]
unit = "money"
[rules.hall.rent]
unit = "money"
[rules.hall.wear]
[rules.hall.idle]
default = 7
[rules.tray.wood]
refers = "wood"
[rules.tray.depth]
[rules.tray.work]
unit    = "money"
default = "0 EUR"
[rules.tray.room]
formula = "depth * 2"
[rules.tray.cost]
unit    = "money"
formula = "depth * wood.price + hall.wear * hall.rent * 2 / depth + work"
[rules.check.shallow]
of        = "tray"
severity  = "unfit"
require   = "depth < 8"
otherwise = "It is {depth} deep."
`

var traysKnown *engine.Model

func trayModel(t *testing.T) *engine.Model {
	t.Helper()
	if traysKnown == nil {
		m, list, _ := engine.Load(engine.Sources{Files: fstest.MapFS{"trays.toml": {Data: []byte(trays)}}, Scenario: "trays.toml"})
		if m == nil {
			t.Fatal(list)
		}
		traysKnown = m
	}
	return traysKnown
}

// sheetText is a sheet with its cells separated by bars.
func sheetText(s *Sheet) string {
	var b strings.Builder
	for r, row := range s.Rows() {
		for _, c := range row {
			if c.Formula != "" {
				b.WriteString("=")
			}
			if c.Value != nil {
				fmt.Fprint(&b, c.Value)
			}
			b.WriteString("|")
		}
		fmt.Fprintln(&b, " ", r+1)
	}
	return b.String()
}

func TestDumpTrays(t *testing.T) {
	m := trayModel(t)
	b, err := NewBook(m, study(t, m))
	if err != nil {
		t.Fatal(err)
	}
	t.Log(sheetText(b.Find(sweepsName)))
	_ = calc.New
	_ = math.Abs
	_ = slices.Index[[]int]
	_ = sweep.None
}
