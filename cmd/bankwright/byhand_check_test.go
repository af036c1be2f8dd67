package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
)

// newByHand is the cost by hand with the values of a model.
func newByHand(m *engine.Model) *byHand {
	h := &byHand{}
	at := func(q string, item int) float64 {
		kind, name, _ := strings.Cut(q, ".")
		return m.Result.At(m.Kind(kind).Quantity(name), item, 0)
	}
	is := func(q string, item int, text string) bool { return m.Texts[int(at(q, item))] == text }
	h.site.measuredEnergy, h.site.wearAdds = is("site.energy_basis", 0, "measured"), is("site.wear_counting", 0, "sum")
	for i := range m.Kind("load").Items {
		h.loads = append(h.loads, loadByHand{ac: is("load.supply", i, "ac"), coincident: at("load.coincident", i) == 1})
	}
	for i := range m.Kind("source").Items {
		h.sources = append(h.sources, sourceByHand{sun: is("source.runs", i, "sun")})
	}
	h.inverters = make([]inverterByHand, len(m.Kind("inverter").Items))
	for i := range m.Kind("battery").Items {
		curve := m.Result.PointsOf(m.Kind("battery").Quantity("cycle_life"), i)
		slopes := make([]float64, len(curve[0]))
		for j := 1; j < len(slopes); j++ {
			slopes[j] = math.Log(curve[1][j]/curve[1][j-1]) / math.Log(curve[0][j]/curve[0][j-1])
		}
		h.batteries = append(h.batteries, batteryByHand{depths: curve[0], cycles: curve[1], slopes: slopes})
	}
	k := m.Kind("alternative")
	for i := range k.Items {
		a := alternativeByHand{battery: int(at("alternative.battery", i)), inverter: int(at("alternative.inverter", i)), dayRuns: at("alternative.day_runs", i) == 1}
		for j := range h.sources {
			a.sources = append(a.sources, m.Result.At(k.Quantity("sources"), i, j) == 1)
		}
		h.alternatives = append(h.alternatives, a)
	}
	for _, n := range h.numbers() {
		*n.to = at(n.quantity, n.item)
	}
	return h
}

// number is a number that the cost by hand begins with.
type number struct {
	quantity string
	item     int
	to       *float64
}

// handed are the numbers that other parts of the rules hand to the cost.
var handed = strings.Fields(`battery.found_energy battery.heat_factor alternative.cables_resistance alternative.ladder_evenness
	alternative.connection_hours alternative.parts_price alternative.new_wear alternative.late_wear alternative.new_unmet
	alternative.late_unmet alternative.new_drawn alternative.late_drawn alternative.new_cost alternative.late_cost`)

func (m *byHand) numbers() []number {
	var out []number
	put := func(kind string, item int, names string, to ...*float64) {
		for i, n := range strings.Fields(names) {
			out = append(out, number{kind + "." + n, item, to[i]})
		}
	}
	put("constant", 0, "day_length year_length cell_nominal_voltage cell_cutoff_voltage", &m.dayLength, &m.yearLength, &m.cellNominal, &m.cellCutoff)
	s := &m.site
	put("site", 0, `depth_of_discharge temperature_factor spread_factor array_efficiency failure_rate repair_time wiring_time
		battery_wiring_time mounting_time balancing_time series_balancing_interval parallel_balancing_interval inspection_time
		study_period discount_rate unmet_price residual_share battery_price_escalation energy_price_escalation`,
		&s.depthOfDischarge, &s.temperatureFactor, &s.spreadFactor, &s.arrayEfficiency, &s.failureRate, &s.repairTime, &s.wiringTime,
		&s.batteryWiringTime, &s.mountingTime, &s.balancingTime, &s.seriesInterval, &s.parallelInterval, &s.inspectionTime,
		&s.studyPeriod, &s.discountRate, &s.unmetPrice, &s.residualShare, &s.batteryEscalation, &s.energyEscalation)
	p := &m.price
	put("price", 0, "labour wiring_parts_12v wiring_parts_24v bus_bars string_parts series_link charge_control_12v charge_control_24v",
		&p.labour, &p.parts12, &p.parts24, &p.busBars, &p.stringParts, &p.seriesLink, &p.control12, &p.control24)
	for i := range m.loads {
		l := &m.loads[i]
		put("load", i, "power count hours_per_day duty yearly_energy converter_efficiency",
			&l.power, &l.count, &l.hours, &l.duty, &l.yearlyEnergy, &l.converterEfficiency)
	}
	for i := range m.sources {
		s := &m.sources[i]
		put("source", i, "price energy_price efficiency share power fuel_use fuel_price",
			&s.price, &s.energyPrice, &s.efficiency, &s.share, &s.power, &s.fuelUse, &s.fuelPrice)
	}
	for i := range m.inverters {
		v := &m.inverters[i]
		put("inverter", i, "continuous_power efficiency idle_power min_voltage price",
			&v.continuousPower, &v.efficiency, &v.idlePower, &v.minVoltage, &v.price)
	}
	for i := range m.batteries {
		b := &m.batteries[i]
		put("battery", i, `capacity nominal_voltage price cutoff_voltage max_discharge_current idle_power round_trip_efficiency
			end_of_life calendar_life warranty found_energy heat_factor`,
			&b.capacity, &b.nominalVoltage, &b.price, &b.cutoffVoltage, &b.maxDischarge, &b.idlePower, &b.roundTrip,
			&b.endOfLife, &b.calendarLife, &b.warranty, &b.foundEnergy, &b.heatFactor)
	}
	for i := range m.alternatives {
		a := &m.alternatives[i]
		put("alternative", i, `series parallel cables_resistance ladder_evenness connection_hours parts_price
			new_wear late_wear new_unmet late_unmet new_drawn late_drawn new_cost late_cost`,
			&a.series, &a.parallel, &a.cablesResistance, &a.ladderEvenness, &a.connectionHours, &a.partsPrice,
			&a.newWear, &a.lateWear, &a.newUnmet, &a.lateUnmet, &a.newDrawn, &a.lateDrawn, &a.newDayCost, &a.lateDayCost)
	}
	return out
}

// costBounds are bounds of numbers that have no value near which to vary them: what
// other parts of the rules hand over, and what the scenario leaves at 0.
var costBounds = map[string][2]float64{
	"battery.found_energy": {900, 4000}, "battery.heat_factor": {1, 2}, "alternative.cables_resistance": {1e-4, 5e-3},
	"alternative.ladder_evenness": {0.7, 1}, "alternative.connection_hours": {1, 6}, "alternative.parts_price": {50, 200},
	"alternative.new_wear": {0.01, 0.2}, "alternative.late_wear": {0.01, 0.4}, "alternative.new_unmet": {0, 0.2}, "alternative.late_unmet": {0, 0.4},
	"alternative.new_drawn": {1000, 2000}, "alternative.late_drawn": {1000, 2000}, "alternative.new_cost": {0, 1}, "alternative.late_cost": {0, 1},
	"site.failure_rate": {0, 2e-6}, "site.inspection_time": {0, 3}, "site.battery_price_escalation": {-0.05, 0.05}, "site.energy_price_escalation": {-0.05, 0.05},
	"battery.idle_power": {0, 2}, "source.price": {0, 500}, "source.energy_price": {0, 3e-4},
}

// costAxis varies everything with which the cost by hand begins: what is given near
// its value, the rest within bounds. The numbers in h that belong to the inputs come
// in their order.
func costAxis(m *engine.Model, h *byHand, points int, r *rand.Rand) (axis eval.Axis, to []*float64, values [][]float64) {
	for _, n := range h.numbers() {
		kind, name, _ := strings.Cut(n.quantity, ".")
		q := m.Kind(kind).Quantity(name)
		base := m.Result.At(q, n.item, 0)
		within, bounded := costBounds[n.quantity]
		if base != base && !bounded {
			continue
		}
		list := make([]float64, points)
		for i := range list {
			if list[i] = nearby(q, base, r); bounded {
				list[i] = within[0] + (within[1]-within[0])*r.Float64()
			}
		}
		axis.Inputs = append(axis.Inputs, eval.Cell{Quantity: q, Item: n.item})
		to, values = append(to, n.to), append(values, list)
	}
	axis.Steps, axis.Fill = points, eval.Values(values...)
	return axis, to, values
}

// figures are the deciding figure of every item that is compared.
func figures(m *engine.Model) []eval.Cell {
	k := m.Compared()
	var out []eval.Cell
	for item := range k.Items {
		out = append(out, eval.Cell{Quantity: k.Quantity(k.Compare.By), Item: item})
	}
	return out
}

// costTrial varies everything with which the cost by hand begins, so that now and then
// what may be absent is, and whether typical days count, which comes last.
func costTrial(m *engine.Model, h *byHand, points int) (axis eval.Axis, to []*float64, values [][]float64) {
	r := rand.New(rand.NewPCG(3, 4))
	axis, to, values = costAxis(m, h, points, r)
	for j, list := range values {
		for i := range list {
			if axis.Inputs[j].Quantity.MayBeAbsent && r.IntN(40) == 0 {
				list[i] = math.NaN()
			}
		}
	}
	runs := m.Compared().Quantity("day_runs")
	for item := range h.alternatives {
		list := make([]float64, points)
		for i := range list {
			list[i] = float64(r.IntN(2))
		}
		axis.Inputs, values = append(axis.Inputs, eval.Cell{Quantity: runs, Item: item}), append(values, list)
	}
	axis.Fill = eval.Values(values...)
	return axis, to, values
}

// TestByHand: the cost by hand is that of the engine at random points of everything
// with which it begins, with typical days and without.
func TestByHand(t *testing.T) {
	m := modelOf(t, "")
	h := newByHand(m)
	const points = 400
	axis, to, values := costTrial(m, h, points)
	sweep, err := m.Result.Sweep([]eval.Axis{axis}, figures(m))
	if err != nil {
		t.Fatal(err)
	}
	worst, held := 0.0, 0
	err = sweep.Run(t.Context(), 0, points, func(p *eval.Points) error {
		for i := range p.N {
			for j, v := range to {
				*v = values[j][p.First+i]
			}
			for j := range h.alternatives {
				h.alternatives[j].dayRuns = values[len(to)+j][p.First+i] == 1
			}
			h.run()
			for j := range h.alternatives {
				ours, engines := h.alternatives[j].cost, p.At(j, i)
				if engines != engines && (ours != ours || math.IsInf(ours, 0)) {
					continue // no load asks for anything
				}
				off := math.Abs(ours/engines - 1)
				if held++; !(off <= 1e-12) {
					return fmt.Errorf("point %d: %s costs %v by hand, %v by the engine", p.First+i, m.Compared().Items[j].Name, ours, engines)
				}
				worst = max(worst, off)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	formulas := costFormulas(m)
	t.Logf("%d numbers varied, %d formulas, at most %.1g apart", len(axis.Inputs), formulas, worst)
	if formulas < 60 || held < points*len(h.alternatives)*9/10 {
		t.Errorf("the cost by hand stands for %d formulas, and %d figures were compared", formulas, held)
	}
}

// costFormulas is how many formulas the deciding figure needs, beginning where the
// cost by hand begins.
func costFormulas(m *engine.Model) int {
	seen := map[*check.Quantity]bool{}
	for _, name := range append(handed, "alternative.day_runs") {
		kind, name, _ := strings.Cut(name, ".")
		seen[m.Kind(kind).Quantity(name)] = true
	}
	n := 0
	var see func(q *check.Quantity)
	see = func(q *check.Quantity) {
		if seen[q] {
			return
		}
		if seen[q] = true; q.Value != nil && q.Type != decl.Set {
			n++
		}
		for _, e := range append(q.Own, q.Value, q.Start) {
			e.Walk(func(e *check.Expr) {
				if e.Ref != nil {
					see(e.Ref.Target)
				}
			})
		}
	}
	see(figures(m)[0].Quantity)
	return n
}
