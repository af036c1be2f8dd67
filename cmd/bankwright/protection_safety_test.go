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
