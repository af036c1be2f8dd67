package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"bankwright/engine/oracle"
)

// billed is a scenario whose bills are known without any engineering: direct current,
// batteries that keep their energy until they are worn out, and a paid source. Money,
// years, hours, kWh and shares.
type billed struct {
	Years         int           `json:"years"`
	Rate          float64       `json:"discount_rate"`
	BatteryRise   float64       `json:"battery_price_escalation"`
	EnergyRise    float64       `json:"energy_price_escalation"`
	Labour        float64       `json:"labour"`
	Wiring        float64       `json:"wiring_time"`
	BatteryWiring float64       `json:"battery_wiring_time"`
	Balancing     float64       `json:"balancing_time"`
	Inspection    float64       `json:"inspection_time"`
	Failures      float64       `json:"failure_rate"`
	Unmet         float64       `json:"unmet_price"`
	Residual      float64       `json:"residual_share"`
	Counting      string        `json:"wear_counting"`
	Demand        float64       `json:"demand"` // kWh a year
	Banks         []*billedBank `json:"alternatives"`
}

type billedBank struct {
	Series     int     `json:"series"`
	Parallel   int     `json:"parallel"`
	Price      float64 `json:"price"`
	Source     float64 `json:"source_price"`
	Controller float64 `json:"controller_price"`
	Parts      float64 `json:"wiring_price"`
	Life       float64 `json:"calendar_life"`
	Cycles     float64 `json:"cycles"`
	Energy     float64 `json:"energy"` // kWh of one battery
	Warranty   float64 `json:"warranty"`
	RoundTrip  float64 `json:"round_trip"`
	Efficiency float64 `json:"source_efficiency"`
	EnergyCost float64 `json:"energy_price"`
}

// bills is what testdata/finance/bills.py says of a scenario, for its alternatives as
// present worths of each sort of bill.
type bills struct {
	Payment float64 `json:"payment"`
	Banks   []struct {
		First       float64 `json:"first"`
		Upkeep      float64 `json:"upkeep"`
		Replacement float64 `json:"replacement"`
		Energy      float64 `json:"energy"`
		Failures    float64 `json:"failures"`
		Unmet       float64 `json:"unmet"`
		Residual    float64 `json:"residual"`
		Whole       float64 `json:"whole"`
		LevelPrice  float64 `json:"level_price"`
		Behind      float64 `json:"years_behind"`
		PaysBack    string  `json:"pays_back"`
	} `json:"alternatives"`
}

// billedScenarios are scenarios of three banks each, drawn at random from a fixed seed.
func billedScenarios(n int) (out []*billed) {
	random := rand.New(rand.NewPCG(11, 7))
	between := func(low, high float64) float64 { return low + (high-low)*random.Float64() }
	for i := range n {
		s := &billed{
			Years: 1 + random.IntN(30), Rate: between(0, 0.2), BatteryRise: between(-0.08, 0.08), EnergyRise: between(-0.05, 0.1),
			Labour: between(0, 80), Wiring: between(0, 6), BatteryWiring: between(0, 2), Balancing: between(0, 1), Inspection: between(0, 5),
			Failures: between(0, 0.1), Unmet: between(0, 2), Residual: between(0, 1), Counting: []string{"greater", "sum"}[i%2], Demand: between(50, 2000),
		}
		if i%10 == 9 {
			s.Rate = 0
		}
		for range 3 {
			s.Banks = append(s.Banks, &billedBank{
				Series: 1 + random.IntN(2), Parallel: 1 + random.IntN(3), Price: between(100, 1500), Source: between(0, 400), Controller: between(0, 300),
				Parts: between(0, 300), Life: between(1.3, 25), Cycles: between(800, 9000), Energy: between(0.5, 4), Warranty: between(0, 8),
				RoundTrip: between(0.8, 1), Efficiency: between(0.7, 1), EnergyCost: between(0.05, 0.8),
			})
		}
		out = append(out, s)
	}
	return out
}

// scenario writes it for the rules.
func (s *billed) scenario() string {
	var b strings.Builder
	set := func(key string, value float64, unit string) {
		fmt.Fprintf(&b, "%s = \"%s %s\"\n", key, exactly(value), unit)
	}
	b.WriteString("title = \"Bills\"\ncurrency = \"USD\"\n[load.service]\nsupply = \"dc\"\nconverter_efficiency = \"100 %\"\n")
	set("yearly_energy", s.Demand, "kWh/year")
	b.WriteString("[price]\n")
	set("labour", s.Labour, "USD/h")
	fmt.Fprintf(&b, "[site]\nbaseline = \"a0\"\nwear_counting = %q\nseries_balancing_interval = \"4 month\"\nparallel_balancing_interval = \"6 month\"\nrepair_time = \"0 day\"\ndepth_of_discharge = \"80 %%\"\n", s.Counting)
	set("study_period", float64(s.Years), "year")
	set("discount_rate", 100*s.Rate, "%")
	set("battery_price_escalation", 100*s.BatteryRise, "%")
	set("energy_price_escalation", 100*s.EnergyRise, "%")
	set("wiring_time", s.Wiring, "h")
	set("battery_wiring_time", s.BatteryWiring, "h")
	set("balancing_time", s.Balancing, "h")
	set("inspection_time", s.Inspection, "h")
	set("failure_rate", 100*s.Failures, "%/year")
	set("unmet_price", s.Unmet, "USD/kWh")
	set("residual_share", 100*s.Residual, "%")
	for i, a := range s.Banks {
		fmt.Fprintf(&b, "[battery.b%d]\nnominal_voltage = \"12.5 V\"\nmax_discharge_current = \"500 A\"\nmax_series = 4\nmax_parallel = 4\nend_of_life = \"100 %%\"\ncycle_life = { depth = [\"1 %%\", \"100 %%\"], cycles = [%s, %[2]s] }\n", i, exactly(a.Cycles))
		set("capacity", a.Energy*1000/12.5, "Ah")
		set("price", a.Price, "USD")
		set("calendar_life", a.Life, "year")
		set("warranty", a.Warranty, "year")
		set("round_trip_efficiency", 100*a.RoundTrip, "%")
		fmt.Fprintf(&b, "[source.s%d]\nruns = \"timed\"\n", i)
		set("price", a.Source, "USD")
		set("efficiency", 100*a.Efficiency, "%")
		set("energy_price", a.EnergyCost, "USD/kWh")
		fmt.Fprintf(&b, "[alternative.a%d]\nbattery = \"b%[1]d\"\nsources = [\"s%[1]d\"]\nseries = %d\nparallel = %d\n", i, a.Series, a.Parallel)
		set("controller_price", a.Controller, "USD")
		set("wiring_price", a.Parts, "USD")
	}
	return b.String()
}

// TestBills compares what the rules make of money with the bills of 60 scenarios drawn at
// random, one after another: present worth of each sort of bill and of all, the level
// payment for a loan, the level price of energy, and when a bank pays back. They agree
// within 1e-9 of the worth of all bills.
// Source: NumPy's polynomials and SciPy's root finding, testdata/finance/bills.py.
func TestBills(t *testing.T) {
	t.Parallel()
	all := billedScenarios(60)
	program, err := os.ReadFile(root + "/testdata/finance/bills.py")
	if err != nil {
		t.Fatal(err)
	}
	var truth []bills
	oracle.SciPy(t, string(program), all, &truth)
	if len(truth) != len(all) {
		t.Fatalf("%d scenarios of %d came back", len(truth), len(all))
	}
	endings, compared, worst := map[string]int{}, 0, 0.0
	for i, s := range all {
		m := solvedText(t, s.scenario())
		match := func(cell, unit string, want, scale float64) {
			got := held(t, m, cell, unit)
			off := math.Abs(got-want) / max(math.Abs(scale), 1e-9)
			if !(off <= 1e-9) {
				t.Errorf("scenario %d: %s is %.12g, the bills give %.12g", i, cell, got, want)
			} else {
				worst = max(worst, off)
			}
			compared++
		}
		match("site.study_annuity", "", 1/truth[i].Payment, 1/truth[i].Payment)
		match("site.total_discount_factor", "", 1/truth[i].Payment, 1/truth[i].Payment)
		for j, want := range truth[i].Banks {
			of := fmt.Sprintf("alternative.a%d.", j)
			scale := math.Abs(want.First) + math.Abs(want.Whole)
			match(of+"first_cost", "USD", want.First, scale)
			match(of+"present_upkeep", "USD", want.Upkeep, scale)
			match(of+"present_replacement", "USD", want.Replacement, scale)
			match(of+"present_energy", "USD", want.Energy, scale)
			match(of+"present_failures", "USD", want.Failures, scale)
			match(of+"present_unmet", "USD", want.Unmet, scale)
			match(of+"worth_at_end", "USD", want.Residual, scale)
			match(of+"lifetime_cost", "USD", want.Whole, scale)
			match(of+"lifetime_cost_per_energy", "USD/kWh", want.LevelPrice, want.LevelPrice)
			match(of+"years_behind", "", want.Behind, 1)
			matchText(t, m, of+"pays_back", want.PaysBack)
			endings[want.PaysBack]++
		}
	}
	if len(endings) < 5 {
		t.Errorf("only these endings were met: %v", endings)
	}
	t.Logf("%d scenarios, %d values, worst difference %.1e; %v", len(all), compared, worst, endings)
}
