package main

import "math"

// bankByHand is what a bank is before its years begin.
type bankByHand struct {
	count, energy, usable, price       float64
	needPower, dailyNeed               float64
	runsOn                             bool // with one string out
	leftShare                          float64
	firstCost, upkeep, replacementWork float64
	energyPrice                        float64
	failures, outageDemand             float64
}

// lifetimeCost is the first cost and all later ones as they count today, less what
// the last bank is still worth.
func (m *byHand) lifetimeCost(a *alternativeByHand) float64 {
	k := bankByHand{}
	b := &m.batteries[a.battery]
	m.size(&k, a, b)
	m.buy(&k, a)
	wear, costs := m.liveThrough(&k, a, b)
	if m.years == 0 {
		return math.NaN()
	}
	end := &m.year[m.years-1]
	residual := k.price * end.batteryPrice * (1 - wear) * m.site.residualShare
	return k.firstCost + costs - residual*end.discount
}

// size is what the bank holds, what is drawn from it, and whether it runs on with
// one string out.
func (m *byHand) size(k *bankByHand, a *alternativeByHand, b *batteryByHand) {
	s, d, inv := &m.site, &m.demand, &m.inverters[a.inverter]
	k.count = a.series * a.parallel
	k.energy = k.count * b.energy
	k.usable = k.energy * s.depthOfDischarge * s.temperatureFactor
	k.price = k.count * b.price

	load := d.acAverage/inv.efficiency + inv.idlePower + d.dcAverage
	current := load / (a.series * b.nominalVoltage)
	k.needPower = load + k.count*b.idlePower + or(current*current*a.cablesResistance, 0)
	k.dailyNeed = k.needPower * m.dayLength

	draw := d.acTogether/inv.efficiency + inv.idlePower + d.dcTogether
	for i := range m.loads {
		l := &m.loads[i]
		full := or(l.power, or(l.yearlyEnergy/l.hours, 0)/l.duty) * l.count
		if l.ac {
			draw = max(draw, full/inv.efficiency+inv.idlePower)
		} else {
			draw = max(draw, inv.idlePower+full/l.converterEfficiency)
		}
	}
	draw = max(draw, inv.continuousPower/inv.efficiency+inv.idlePower)
	design := draw / max(a.series*b.emptyVoltage, inv.minVoltage)

	left := a.parallel - 1
	k.leftShare = left / a.parallel
	spread := 1.0
	if left > 1 {
		spread = s.spreadFactor * or(a.ladderEvenness, 1)
	}
	k.runsOn = left > 0 && !below(b.maxDischarge*left*spread, design)

	k.failures = k.count * s.failureRate * m.yearLength
	k.outageDemand = k.failures * s.repairTime * d.power
}

// buy is what is paid before the first day, and what upkeep, a replacement's work
// and energy cost.
func (m *byHand) buy(k *bankByHand, a *alternativeByHand) {
	s, p := &m.site, &m.price
	parts, control := p.parts12, p.control12
	if a.series > 1 {
		parts, control = p.parts24, p.control24
	}
	if a.parallel > 1 {
		parts += p.busBars + p.stringParts*a.parallel
	}
	parts += p.seriesLink * (a.series - 1) * a.parallel

	given, open, sources := 0.0, 0.0, 0.0
	for i, uses := range a.sources {
		if uses {
			sources += m.sources[i].price
			given += m.sources[i].givenShare
			open += m.sources[i].openPart
		}
	}
	share := 0.0
	if open > 0 {
		share = max(1-given, 0) / open
	}
	for i, uses := range a.sources {
		if src := &m.sources[i]; uses {
			k.energyPrice += src.priceAtBank * (src.givenShare + src.openPart*share)
		}
	}

	hours := or(a.connectionHours+s.mountingTime, s.wiringTime+s.batteryWiringTime*(k.count-1))
	equipment := m.inverters[a.inverter].price + control + sources + parts
	k.firstCost = k.price + equipment + hours*p.labour

	balancings := 0.0
	switch {
	case a.series > 1:
		balancings = m.yearLength / s.seriesInterval
	case a.parallel > 1:
		balancings = m.yearLength / s.parallelInterval
	}
	k.upkeep = (balancings*k.count*s.balancingTime + s.inspectionTime) * p.labour
	k.replacementWork = k.count * s.batteryWiringTime * p.labour
}

// liveThrough goes through the years: the wear at the end of the last, and what they
// cost as it counts today.
func (m *byHand) liveThrough(k *bankByHand, a *alternativeByHand, b *batteryByHand) (wear, costs float64) {
	s := &m.site
	days := m.yearLength / m.dayLength
	replaced, age := 0.0, 0.0
	warranty := or(b.warranty, 0)
	for i := range m.years {
		y := &m.year[i]
		health := 1 - (1-b.endOfLife)*wear
		usable := k.usable * health
		if age++; replaced > 0 {
			age = 1
		}

		var served, cycleWear, drawn, energyCost float64
		if a.dayRuns {
			served = 1 - min(1, a.newUnmet+(a.lateUnmet-a.newUnmet)*wear)
			cycleWear = a.newWear + (a.lateWear-a.newWear)*wear
			energyCost = (a.newDayCost + (a.lateDayCost-a.newDayCost)*wear) * days
		} else {
			served = min(1, usable/k.dailyNeed)
			depth := served * k.dailyNeed / (k.energy * health)
			if len(b.depths) == 1 {
				cycleWear = days * depth / b.lifetimeCycles
			} else {
				cycleWear = days / b.cyclesAt(depth)
			}
			drawn = served * k.needPower * m.yearLength
			energyCost = drawn / b.roundTrip * k.energyPrice
		}
		unmet := m.demand.yearly * (1 - served)
		leftServed := 0.0
		if k.runsOn {
			leftServed = min(1, usable*k.leftShare/k.dailyNeed)
		}
		unmet += k.outageDemand * max(served-leftServed, 0)

		if s.wearAdds {
			wear += cycleWear + b.calendarWear
		} else {
			wear += max(cycleWear, b.calendarWear)
		}
		replaced = 0
		if i+1 < m.years {
			replaced = floored(wear)
		}
		wear -= replaced

		cost := k.upkeep + replaced*(k.price*y.batteryPrice+k.replacementWork) + energyCost*y.energyPrice
		if below(warranty, age*m.yearLength) {
			cost += k.failures * b.price * y.batteryPrice
		}
		costs += (cost + unmet*s.unmetPrice) * y.discount
	}
	return wear, costs
}
