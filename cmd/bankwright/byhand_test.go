package main

import "math"

// byHand is the lifetime cost of the alternatives as one would write it in Go who
// has the rules beside him and wants speed: structs of numbers, loops over years and
// alternatives, nothing allocated. It begins with what is given and with what other
// parts of the rules hand to the cost: what typical days come to, the resistance of
// the cables, the evenness of the ladder, the hours of connections. Values are in
// base units; NaN is absent. It is what sweeps are timed against, and says nothing
// that rules/years.toml, money.toml, study.toml, life.toml (the years), bank.toml,
// runtime.toml, demand.toml, load.toml, source.toml, battery.toml and
// battery_life.toml do not say.
type byHand struct {
	dayLength, yearLength, cellNominal, cellCutoff float64

	site         siteByHand
	price        priceByHand
	loads        []loadByHand
	sources      []sourceByHand
	inverters    []inverterByHand
	batteries    []batteryByHand
	alternatives []alternativeByHand

	demand demandByHand
	years  int
	year   [40]yearByHand
}

type siteByHand struct {
	measuredEnergy, wearAdds bool

	depthOfDischarge, temperatureFactor, spreadFactor, arrayEfficiency float64
	failureRate, repairTime                                            float64
	wiringTime, batteryWiringTime, mountingTime                        float64
	balancingTime, seriesInterval, parallelInterval, inspectionTime    float64
	studyPeriod, discountRate, unmetPrice, residualShare               float64
	batteryEscalation, energyEscalation                                float64
}

type priceByHand struct {
	labour, parts12, parts24, busBars, stringParts, seriesLink, control12, control24 float64
}

type loadByHand struct {
	ac, coincident bool

	power, count, hours, duty, yearlyEnergy, converterEfficiency float64
}

type sourceByHand struct {
	sun bool

	price, energyPrice, efficiency, share, power, fuelUse, fuelPrice float64

	givenShare, openPart, priceAtBank float64 // computed
}

type inverterByHand struct {
	continuousPower, efficiency, idlePower, minVoltage, price float64
}

type batteryByHand struct {
	depths, cycles, slopes []float64 // the maker's curve, and how steep it is on log-log paper up to each point

	capacity, nominalVoltage, price, cutoffVoltage, maxDischarge, idlePower float64
	roundTrip, endOfLife, calendarLife, warranty                            float64
	foundEnergy, heatFactor                                                 float64

	energy, emptyVoltage, lifetimeCycles, calendarWear float64 // computed
}

type alternativeByHand struct {
	battery, inverter int
	sources           []bool
	dayRuns           bool // typical days count

	series, parallel                                   float64
	cablesResistance, ladderEvenness, connectionHours  float64
	newWear, lateWear, newUnmet, lateUnmet             float64
	newDrawn, lateDrawn, newDayCost, lateDayCost, cost float64
	partsPrice                                         float64 // not used where a scenario prices the parts itself
}

type demandByHand struct {
	acAverage, dcAverage, power, yearly, acTogether, dcTogether, present float64
}

type yearByHand struct{ discount, batteryPrice, energyPrice float64 }

// or is x, or y where x is absent.
func or(x, y float64) float64 {
	if x != x {
		return y
	}
	return x
}

// nearly, below and floored are comparisons and floors with the rules' tolerance.
func nearly(x, y float64) bool { return math.Abs(x-y) <= 1e-12*max(math.Abs(x), math.Abs(y)) }

func below(x, y float64) bool { return x < y && !nearly(x, y) }

func floored(x float64) float64 {
	if r := math.Round(x); math.Abs(x-r) <= 1e-12*max(1, math.Abs(x)) {
		return r
	}
	return math.Floor(x)
}

// run computes the cost of each alternative for each unit of energy asked for.
func (m *byHand) run() {
	m.countYears()
	m.askFor()
	for i := range m.sources {
		m.sell(&m.sources[i])
	}
	for i := range m.batteries {
		m.build(&m.batteries[i])
	}
	for i := range m.alternatives {
		a := &m.alternatives[i]
		a.cost = m.lifetimeCost(a) / m.demand.present
	}
}

// countYears is how money counts in each year.
func (m *byHand) countYears() {
	s := &m.site
	m.years = int(max(0, min(40, math.Round(s.studyPeriod/m.yearLength))))
	for i := range m.years {
		n := float64(i + 1)
		m.year[i] = yearByHand{
			discount:     math.Pow(1+s.discountRate, -n),
			batteryPrice: math.Pow(1+s.batteryEscalation, n),
			energyPrice:  math.Pow(1+s.energyEscalation, n),
		}
	}
}

// askFor is what the loads ask for.
func (m *byHand) askFor() {
	d := demandByHand{}
	for i := range m.loads {
		l := &m.loads[i]
		labelled := l.yearlyEnergy / l.hours
		unit := or(l.power, or(labelled, 0)/l.duty)
		average := l.count * or(labelled, unit*l.duty) * l.hours
		full := unit * l.count
		d.power += average
		if l.ac {
			d.acAverage += average
		} else {
			d.dcAverage += average / l.converterEfficiency
			full /= l.converterEfficiency
		}
		switch {
		case l.coincident && l.ac:
			d.acTogether += full
		case l.coincident:
			d.dcTogether += full
		}
	}
	d.yearly = d.power * m.yearLength
	for i := range m.years {
		d.present += d.yearly * m.year[i].discount
	}
	m.demand = d
}

// sell is what a source's energy costs at the bank.
func (m *byHand) sell(s *sourceByHand) {
	efficiency := 1.0
	if s.sun {
		efficiency = m.site.arrayEfficiency
	}
	s.givenShare, s.openPart = or(s.share, 0), 0
	if s.share != s.share {
		s.openPart = 1
	}
	s.priceAtBank = or(s.fuelUse*s.fuelPrice/s.power, s.energyPrice) / or(s.efficiency, efficiency)
}

// build is what a battery holds and how it ages.
func (m *byHand) build(b *batteryByHand) {
	rated := b.capacity * b.nominalVoltage
	b.energy = or(b.foundEnergy, rated)
	if !m.site.measuredEnergy {
		b.energy = min(rated, b.energy)
	}
	cells := math.Round(b.nominalVoltage / m.cellNominal)
	b.emptyVoltage = or(b.cutoffVoltage, cells*m.cellCutoff)
	deepest := min(max(1, b.depths[0]), b.depths[len(b.depths)-1])
	b.lifetimeCycles = b.cyclesAt(1) * deepest
	b.calendarWear = m.yearLength / b.calendarLife * or(b.heatFactor, 1)
}

// cyclesAt is the maker's curve on log-log paper, held at its ends.
func (b *batteryByHand) cyclesAt(depth float64) float64 {
	last := len(b.depths) - 1
	switch {
	case depth <= b.depths[0]:
		return b.cycles[0]
	case depth >= b.depths[last]:
		return b.cycles[last]
	}
	i := 1
	for b.depths[i] < depth {
		i++
	}
	return b.cycles[i-1] * math.Exp(b.slopes[i]*math.Log(depth/b.depths[i-1]))
}
