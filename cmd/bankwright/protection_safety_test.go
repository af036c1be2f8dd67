package main

import (
	"math"
	"strconv"
	"strings"
	"testing"
)

// TestChargingSizesTheFuse: a charger that gives more than the loads draw decides
// on the main fuse and the conductor: 1.25 times its current (NFPA 70 (NEC)
// 215.3), the next rating, and a conductor that this fuse protects.
func TestChargingSizesTheFuse(t *testing.T) {
	m := solvedText(t, wires+"[source.shore]\nruns = \"timed\"\npower = \"2560 W\"\nhours_available = \"4 h/day\"\n"+
		"[alternative.charged]\nbattery = \"block\"\nrun_length = \"1 m\"\nfuse_distance = \"0.1 m\"\nsources = [\"shore\"]\n")
	agree(t, "charging current", held(t, m, "alternative.charged.charge_current", "A"), 2560/12.8, 1e-12)
	agree(t, "rating needed", held(t, m, "alternative.charged.needed_rating", "A"), 1.25*200, 1e-12)
	agree(t, "main fuse", held(t, m, "alternative.charged.main_fuse", "A"), 250, 0)
	if limit := held(t, m, "alternative.charged.main_fuse_limit", "A"); limit < 250 {
		t.Errorf("the conductor's fuse may have %v A, the fuse has 250", limit)
	}
	agree(t, "without the charger", held(t, m, "alternative.one.main_fuse", "A"), 100, 0)
}

// TestLeastResistanceFeedsTheFault: of what is known of a battery's resistance
// the least counts for a short circuit: common practice, on the safe side.
func TestLeastResistanceFeedsTheFault(t *testing.T) {
	for _, c := range []struct {
		told, internal string
		want           float64 // mohm
	}{
		{"2 mohm", "0.6 mohm", 0.6},
		{"0.5 mohm", "0.6 mohm", 0.5},
	} {
		m := wired(t, `battery.block: short_circuit_resistance = "`+c.told+`"`, `battery.block: internal_resistance = "`+c.internal+`"`)
		agree(t, c.told+" and "+c.internal, held(t, m, "battery.block.fault_resistance", "mohm"), c.want, 1e-12)
	}
	guessed := strings.Replace(wires, "short_circuit_resistance = \"2 mohm\"\n", "", 1) // 0.3 ohm·Ah over 100 Ah
	agree(t, "guess below what is told", held(t, solvedText(t, guessed), "battery.block.fault_resistance", "mohm"), 3, 1e-12)
	lower := strings.Replace(guessed, "4 mohm", "0.6 mohm", 1)
	agree(t, "told below the guess", held(t, solvedText(t, lower), "battery.block.fault_resistance", "mohm"), 0.6, 1e-12)
}

// TestTerminalsInWarmAir: a conductor by square millimetres stays below what its
// terminals stand in the air of the site: by heat balance, as in IEC 60364-5-52
// (from memory), 70 mm² of BS 7671 Table 4E1A, 293 A, carries 293·√(20/60) A with
// terminals of 70 °C in 50 °C.
func TestTerminalsInWarmAir(t *testing.T) {
	m := wired(t, `site: wire_tables = "iec"`, `site: cable_ambient = "50 °C"`)
	for row := 1; row <= 18; row++ {
		if area := held(t, m, "site.conductor_area["+strconv.Itoa(row)+"]", "mm²"); area == 70 {
			agree(t, "ampacity of 70 mm²", held(t, m, "site.conductor_ampacity["+strconv.Itoa(row)+"]", "A"), 293*math.Sqrt(20.0/60), 1e-9)
			return
		}
	}
	t.Error("the table has no 70 mm²")
}

// TestUnevenStringsSizeTheirFuse: the string fuse carries what the worst string
// gives, and its cable follows. Four strings of 4 mΩ, links of 1 mΩ in each line,
// both leads at one end: by Kirchhoff the first string gives 5.375 parts of 10.625;
// the spread between like batteries (90 %) stands beside that, as it does in the
// current of the bank.
func TestUnevenStringsSizeTheirFuse(t *testing.T) {
	m := wired(t, "alternative.one: parallel = 4", `alternative.one: take_off = "same_end"`, `alternative.one: link_resistance = "1 mohm"`)
	share := 5.375 / 10.625 / 0.9
	agree(t, "share", held(t, m, "alternative.one.string_share", ""), 100*share, 1e-9)
	agree(t, "string fuse", held(t, m, "alternative.one.string_fuse", "A"), 60, 0) // above 56.2 A
	agree(t, "string cable", held(t, m, "alternative.one.string_area", "mm²"), 13.3, 1e-12)
	if f := findingOf(t, m, "one", "string_fuse_carries"); !f.Applicable || !f.Passed {
		t.Errorf("applies: %v, passed: %v %s", f.Applicable, f.Passed, f.Text)
	}
}

// TestMainRunStandsAFault: a main run is thick enough for what its fuse lets
// through, though nothing is known of its length or of the battery's resistance.
// A fuse of 60 A: (300 A)²·5 s asks 670.8 A·s½ of copper; on a boat 10 AWG
// carries 60 A, but stands 87.6·5.261 = 461 only, 8 AWG 87.6·8.366 = 733.
func TestMainRunStandsAFault(t *testing.T) {
	bare := strings.Replace(wires, "run_length = \"1 m\"\n", "", 1)
	m := solvedText(t, edited(bare, `site: wire_tables = "boat"`, "site: engine_space = false", `load.heater: power = "480 W"`))
	agree(t, "main fuse", held(t, m, "alternative.one.main_fuse", "A"), 60, 0)
	agree(t, "main run", held(t, m, "alternative.one.main_area", "mm²"), 8.366, 1e-12)
}

// TestColdRoomGivesNoMore: below 10 °C, where NEC Table 310.15(B)(1) and IEC
// 60364-5-52 Table B.52.14 (from memory) begin, no conductor carries more: 70 mm²
// of BS 7671 Table 4E1A, 293 A, at terminals of 70 °C carries 293·√(60/60) A.
func TestColdRoomGivesNoMore(t *testing.T) {
	for _, ambient := range []string{"10 °C", "-20 °C"} {
		at := `site: cable_ambient = "` + ambient + `"`
		agree(t, "iec at "+ambient, held(t, wired(t, `site: wire_tables = "iec"`, at), "site.conductor_ampacity[10]", "A"), 293, 1e-9)
		agree(t, "factor on land at "+ambient, held(t, wired(t, at), "site.ambient_factor", ""), 1.15, 1e-9)
	}
}

// TestFarFaultPassesEveryCable: the least current of a fault at the far end flows
// through the cables, joints and links of the strings left as well. Worked by
// hand for strings of 4 mΩ with joints of 0.1 mΩ, 10 V at their cutoff, and a run
// of 2 m of 3 AWG in all; the links are 0.5 mΩ each.
func TestFarFaultPassesEveryCable(t *testing.T) {
	const perMetre = 0.245 / 0.3048 // mohm/m of 3 AWG
	const joints, ends, links = `alternative.one: connection_resistance = "0.1 mohm"`, `alternative.one: take_off = "same_end"`, `alternative.one: link_resistance = "0.5 mohm"`
	two := "alternative.one: parallel = 2"
	bars := wired(t, two, joints)
	agree(t, "bus bars", held(t, bars, "alternative.one.far_fault_current", "A"), 10000/(4+0.2+1.2*perMetre+2*perMetre), 1e-9)
	linked := wired(t, two, joints, ends, links)
	agree(t, "links", held(t, linked, "alternative.one.far_fault_current", "A"), 10000/(4+0.2+2*0.5+2*perMetre), 1e-9)
	// Two strings left behind a pair of links: the exact ladder of 4.2 mΩ and 1 mΩ
	// gives 4.2·5.2/9.4 + 1 mΩ, the bound 4.2/2 + 5/4 mΩ, never less.
	three := wired(t, "alternative.one: parallel = 3", joints, ends, links)
	way := held(t, three, "alternative.one.weak_resistance", "mohm") + held(t, three, "alternative.one.weak_cables", "mohm")
	agree(t, "bound", way, 4.2/2+5.0/4, 1e-9)
	if exact := 4.2*5.2/9.4 + 1; way < exact || way > 1.02*exact {
		t.Errorf("the bound is %v mohm, the ladder has %v", way, exact)
	}
}
