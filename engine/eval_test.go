package engine_test

import (
	"math"
	"os"
	"testing"

	"bankwright/engine"
)

func load(t *testing.T, dir, file string) *engine.Model {
	t.Helper()
	m, list, _ := engine.Load(engine.Sources{Files: os.DirFS(dir), Scenario: file})
	for _, d := range list {
		t.Log(d.Error())
	}
	if m == nil {
		t.Fatal("the scenario has faults")
	}
	return m
}

var gardenCells = []struct{ cell, want string }{
	{"crop.rhubarb.price", "5 EUR/kg"},
	{"crop.leek.reserve", "11 K"}, // -4 °C against 5 °F = -15 °C
	{"crop.rhubarb.reserve", "-"},
	{"bed.north.crop_area", "24 m²"},
	{"bed.north.harvest", "91.2 kg"},  // 24 · 4 · 0.95
	{"bed.south.harvest", "66 kg"},    // 2.2 · 10 · 3
	{"bed.south.width", "2.20 m"},     // 1.2 + 1
	{"bed.north.net_width", "1.50 m"}, // next above 1.2
	{"bed.north.net_cost", "14 EUR"},
	{"bed.south.net_name", "wide"},
	{"bed.north.half_size", "70 %"}, // half way from 40 to 100
	{"bed.north.points", "3"},
	{"bed.south.points", "-"},
	{"garden.discount[2]", "0.943"}, // 1.03^-2
	{"garden.discount[5]", "-"},     // beyond the four years
	{"bed.north.water[1,0]", "105 mm"},
	{"bed.north.water[1,1]", "233 mm"}, // 52.5 + 180
	{"bed.north.water[1,2]", "236 mm"}, // 116.25 + 120
	{"bed.north.water[1,4]", "250 mm"}, // held
	{"bed.south.wettest", "250 mm"},
	{"bed.north.yearly_water[2]", "250 mm"},
	{"bed.north.good_years", "3"},
	{"bed.north.first_good", "no"},
	{"bed.north.neighbour_price", "5 EUR/kg"},
	{"bed.south.neighbour_price", "0 EUR/kg"},
	{"bed.north.dearer", "1"},
	{"bed.north.dearest", "5 EUR/kg"},
	{"bed.north.all_hardy", "yes"},
	{"bed.south.all_hardy", "yes"},         // of none at all
	{"bed.north.beside[rhubarb]", "0.500"}, // its own crop, leek, against rhubarb,
	{"bed.north.beside[leek]", "0"},
	{"bed.north.light", "0.750"}, // two rows: 1/2 + 1/4
	{"bed.leek_2.light", "0.750"},
	{"bed.north.mulch[2]", "3 cm"}, // the list ends before
	{"bed.north.deepest_mulch", "5 cm"},
	{"crop.chive.all_rows", "0"}, // it grows on none
	{"crop.chive.mean_width", "-"},
	{"crop.chive.row_spread", "-"},
	{"crop.leek.grown_on[leek_2]", "yes"},
	{"crop.rhubarb.grown_on[leek_2]", "no"},
	{"crop.leek.all_rows", "4"}, // north 2, leek_2 2
	{"crop.rhubarb.all_rows", "1"},
	{"crop.leek.long_beds", "2"},
	{"crop.leek.mean_width", "1.20 m"},
	{"crop.rhubarb.mean_width", "2.20 m"},
	{"crop.leek.row_spread", "0"},
	{"crop.rhubarb.row_spread", "-"}, // of one bed
	{"crop.rhubarb.spread_or_none", "0"},
	{"crop.leek.loss_spread", "-"},       // one loss is not given
	{"bed.north.rain_spread", "54.8 mm"}, // of 180, 120, 90, 210: root of (30² + 30² + 60² + 60²) / 3
	{"bed.north.crop_rows", "5"},
	{"bed.south.crop_rows", "1"},
	{"bed.north.paired_rows", "2"},
	{"bed.south.paired_rows", "-"},
	{"bed.north.pairs", "3"},
	{"bed.south.pairs", "-"},
	{"bed.south.rows_or_none", "0"},
	{"crop.leek.on_bed[north]", "yes"},
	{"crop.leek.on_bed[south]", "no"},
	{"garden.spread_of_beds", "57.7 cm"}, // of 1.2, 2.2, 1.2 m
}

// TestGarden evaluates a scenario that uses every construct of the rules
// language; the values are worked by hand.
func TestGarden(t *testing.T) {
	m := load(t, "testdata/good", "market_garden.toml")
	for _, c := range gardenCells {
		cell, err := m.ParseCell(c.cell)
		if err != nil {
			t.Error(err)
			continue
		}
		if got := m.CellText(cell); got != c.want {
			t.Errorf("%s = %s, want %s", c.cell, got, c.want)
		}
	}
	// 24 m² · 4 kg/m² · 0.95 · 2.5 - 14 = 214, times the annuity of four years at 3 %.
	profit, _ := m.ParseCell("bed.north.profit")
	if got, want := m.Result.At(profit.Quantity, profit.Item, 0), 214*(1-math.Pow(1.03, -4))/0.03; got < want*(1-1e-12) || got > want*(1+1e-12) {
		t.Errorf("profit = %v, want %v", got, want)
	}
}

// TestVerify: every cell of the scenario is equal to the last bit on expr's
// virtual machine.
func TestVerify(t *testing.T) {
	m := load(t, "testdata/good", "market_garden.toml")
	bad, cells := m.Result.Verify()
	for _, b := range bad {
		t.Errorf("%s: columns %v, reference %v", m.CellName(b.Cell), b.Columns, b.Reference)
	}
	if cells < 150 {
		t.Errorf("only %d cells were compared", cells)
	}
}
