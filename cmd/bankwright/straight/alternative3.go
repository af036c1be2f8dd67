// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

import "math"

// alternativeLargestMainFuse computes largest_main_fuse, largest_string_fuse, main_fuses, disconnects,
// main_class_voltage, main_fuse_voltage, string_class_voltage, string_fuse_voltage,
// main_class_interrupting, main_interrupting, string_class_interrupting,
// string_interrupting.
func (m *Model) alternativeLargestMainFuse() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		switch {
		case m.Site.WiringComputed != m.Site.WiringComputed:
			a.LargestMainFuse = absent
		case m.Site.WiringComputed != 0:
			a.LargestMainFuse = lookup(tableFuseClassName, tableFuseClassLargest, float64(m.Site.FuseClass))
		default:
			a.LargestMainFuse = 0
		}
		switch {
		case m.Site.WiringComputed != m.Site.WiringComputed:
			a.LargestStringFuse = absent
		case m.Site.WiringComputed != 0:
			a.LargestStringFuse = lookup(tableFuseClassName, tableFuseClassLargest, float64(m.Site.StringFuseClass))
		default:
			a.LargestStringFuse = 0
		}
		switch {
		case m.Site.WiringComputed != m.Site.WiringComputed:
			a.MainFuses = absent
		case m.Site.WiringComputed != 0:
			a.MainFuses = 1
		default:
			a.MainFuses = 0
		}
		switch {
		case m.Site.WiringComputed != m.Site.WiringComputed:
			a.Disconnects = absent
		case m.Site.WiringComputed != 0:
			a.Disconnects = 1
		default:
			a.Disconnects = 0
		}
		var mainClassVoltage float64
		switch {
		case m.Site.WiringComputed != m.Site.WiringComputed:
			mainClassVoltage = absent
		case m.Site.WiringComputed != 0:
			mainClassVoltage = lookup(tableFuseClassName, tableFuseClassVoltage, float64(m.Site.FuseClass))
		default:
			mainClassVoltage = 0
		}
		a.MainFuseVoltage = m.Site.FuseVoltage
		if a.MainFuseVoltage != a.MainFuseVoltage {
			a.MainFuseVoltage = mainClassVoltage
		}
		var stringClassVoltage float64
		switch {
		case m.Site.WiringComputed != m.Site.WiringComputed:
			stringClassVoltage = absent
		case m.Site.WiringComputed != 0:
			stringClassVoltage = lookup(tableFuseClassName, tableFuseClassVoltage, float64(m.Site.StringFuseClass))
		default:
			stringClassVoltage = 0
		}
		a.StringFuseVoltage = m.Site.FuseVoltage
		if a.StringFuseVoltage != a.StringFuseVoltage {
			a.StringFuseVoltage = stringClassVoltage
		}
		var mainClassInterrupting float64
		switch {
		case m.Site.WiringComputed != m.Site.WiringComputed:
			mainClassInterrupting = absent
		case m.Site.WiringComputed != 0:
			mainClassInterrupting = lookup(tableFuseClassName, tableFuseClassInterrupting, float64(m.Site.FuseClass))
		default:
			mainClassInterrupting = 0
		}
		a.MainInterrupting = m.Site.FuseInterrupting
		if a.MainInterrupting != a.MainInterrupting {
			a.MainInterrupting = mainClassInterrupting
		}
		var stringClassInterrupting float64
		switch {
		case m.Site.WiringComputed != m.Site.WiringComputed:
			stringClassInterrupting = absent
		case m.Site.WiringComputed != 0:
			stringClassInterrupting = lookup(tableFuseClassName, tableFuseClassInterrupting, float64(m.Site.StringFuseClass))
		default:
			stringClassInterrupting = 0
		}
		a.StringInterrupting = m.Site.StringFuseInterrupting
		if a.StringInterrupting != a.StringInterrupting {
			a.StringInterrupting = stringClassInterrupting
		}
	}
}

// alternativeSeriesLinks computes series_links, parallel_links, string_cables, run_cables, cables_cut, bus_bar_count,
// string_fuses, devices_in_line, lugs, wiring_connections, connection_hours,
// wired_hours, wiring_hours, labour_cost, main_fuse_interrupts, string_fuse_interrupts.
func (m *Model) alternativeSeriesLinks() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		var seriesLinks float64
		switch {
		case m.Site.WiringComputed != m.Site.WiringComputed:
			seriesLinks = absent
		case m.Site.WiringComputed != 0:
			seriesLinks = (a.Series - 1) * a.Parallel
		default:
			seriesLinks = 0
		}
		var parallelLinks float64
		switch {
		case m.Site.WiringComputed != m.Site.WiringComputed:
			parallelLinks = absent
		case m.Site.WiringComputed != 0:
			if a.BusBars {
				parallelLinks = 0
			} else {
				parallelLinks = m.Constant.BothPoles * (a.Parallel - 1)
			}
		default:
			parallelLinks = 0
		}
		var stringCables float64
		switch {
		case m.Site.WiringComputed != m.Site.WiringComputed:
			stringCables = absent
		case m.Site.WiringComputed != 0:
			if a.BusBars && below(1, a.Parallel) {
				stringCables = m.Constant.BothPoles * a.Parallel
			} else {
				stringCables = 0
			}
		default:
			stringCables = 0
		}
		var runCables float64
		switch {
		case m.Site.WiringComputed != m.Site.WiringComputed:
			runCables = absent
		case m.Site.WiringComputed != 0:
			runCables = m.Constant.BothPoles
		default:
			runCables = 0
		}
		cablesCut := seriesLinks + parallelLinks + stringCables + runCables
		switch {
		case m.Site.WiringComputed != m.Site.WiringComputed:
			a.BusBarCount = absent
		case m.Site.WiringComputed != 0:
			if a.BusBars && below(1, a.Parallel) {
				a.BusBarCount = m.Constant.BothPoles
			} else {
				a.BusBarCount = 0
			}
		default:
			a.BusBarCount = 0
		}
		var stringFuses float64
		switch {
		case m.Site.WiringComputed != m.Site.WiringComputed:
			stringFuses = absent
		case m.Site.WiringComputed != 0:
			if below(1, a.Parallel) {
				stringFuses = a.Parallel
			} else {
				stringFuses = 0
			}
		default:
			stringFuses = 0
		}
		devicesInLine := stringFuses + a.MainFuses + a.Disconnects
		lugs := m.Constant.CableEnds * (cablesCut + devicesInLine)
		wiringConnections := lugs
		connectionHours := wiringConnections * m.Site.ConnectionTime
		wiredHours := connectionHours + m.Site.MountingTime
		wiringHours := wiredHours
		if wiringHours != wiringHours {
			wiringHours = a.PlannedHours
		}
		a.LabourCost = wiringHours * m.Price.Labour
		a.MainFuseInterrupts = absent
		if !(a.MainFuseVoltage != a.MainFuseVoltage) {
			a.MainFuseInterrupts = truth(atMost(a.FullVoltage, a.MainFuseVoltage))
		}
		a.StringFuseInterrupts = absent
		if !(!same(a.Parallel, 1) && (a.StringFuseVoltage != a.StringFuseVoltage)) {
			a.StringFuseInterrupts = truth(same(a.Parallel, 1) || atMost(a.FullVoltage, a.StringFuseVoltage))
		}
	}
}

// alternativeFaultWithstand computes fault_withstand.
func (m *Model) alternativeFaultWithstand() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for conductorAt := range inUse(m.Site.ConductorCount, 18) {
			part := a.WithstandDensity * m.Site.ConductorArea[conductorAt]
			a.FaultWithstand[conductorAt] = part * part * m.Constant.WithstandTime
		}
	}
}

// alternativeLoadPower computes load_power, mean_current, outage_demand, draw_together, load_draw, design_power,
// design_current, lasting_current, run_current, needed_rating.
func (m *Model) alternativeLoadPower() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		inverter := &m.Inverter[a.Inverter]
		loadPower := m.Site.AcAverage/a.InverterEfficiency + a.IdlePower + m.Site.DcAverage
		a.LoadPower = loadPower
		a.MeanCurrent = loadPower / a.BankVoltage
		a.OutageDemand = a.OutageTime * m.Site.DemandPower
		drawTogether := m.Site.AcTogether/a.InverterEfficiency + a.IdlePower + m.Site.DcTogether
		high := math.Inf(-1)
		for loadAt := range 5 {
			high = max(high, a.DrawAlone[loadAt])
		}
		loadDraw := max(drawTogether, high)
		part := inverter.FullDraw
		designPower := max(loadDraw, part)
		designCurrent := over(designPower, a.LowestVoltage)
		a.DesignCurrent = designCurrent
		a.LastingCurrent = designCurrent + a.IntermittentCurrent
		part2 := a.ChargeCurrent
		if part2 != part2 {
			part2 = 0
		}
		runCurrent := max(designCurrent, part2)
		a.RunCurrent = runCurrent
		switch {
		case m.Site.WiringComputed != m.Site.WiringComputed:
			a.NeededRating = absent
		case m.Site.WiringComputed != 0:
			a.NeededRating = float64(m.Site.ContinuousFactor*runCurrent) + a.IntermittentCurrent
		default:
			a.NeededRating = 0
		}
	}
}

// alternativeThinForLink computes thin_for_link.
func (m *Model) alternativeThinForLink() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for conductorAt := range inUse(m.Site.ConductorCount, 18) {
			a.ThinForLink[conductorAt] = absent
			if !(m.Site.ConductorAmpacity[conductorAt] != m.Site.ConductorAmpacity[conductorAt] || a.NeededRating != a.NeededRating) {
				a.ThinForLink[conductorAt] = truth(below(m.Site.ConductorAmpacity[conductorAt], a.NeededRating))
			}
		}
	}
}

// alternativeThinLinks computes thin_links, thinnest_link.
func (m *Model) alternativeThinLinks() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		var thinLinks float64
		switch {
		case m.Site.WiringComputed != m.Site.WiringComputed:
			thinLinks = absent
		case m.Site.WiringComputed != 0:
			n := 0.0
			for conductorAt := range inUse(m.Site.ConductorCount, 18) {
				one := absent
				if !(a.ThinForLink[conductorAt] != a.ThinForLink[conductorAt]) {
					one = truth(a.ThinForLink[conductorAt] != 0)
				}
				n += one
			}
			thinLinks = n
		default:
			thinLinks = 0
		}
		switch {
		case m.Site.WiringComputed != m.Site.WiringComputed:
			a.ThinnestLink = absent
		case m.Site.WiringComputed != 0:
			a.ThinnestLink = min(1+thinLinks, m.Site.ConductorCount)
		default:
			a.ThinnestLink = 0
		}
	}
}

// alternativeThinnestResistance computes thinnest_resistance.
func (m *Model) alternativeThinnestResistance() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for conductorAt := range inUse(m.Site.ConductorCount, 18) {
			switch {
			case a.ThinnestLink != a.ThinnestLink:
				a.ThinnestResistance[conductorAt] = absent
			case same(float64(conductorAt+1), a.ThinnestLink):
				a.ThinnestResistance[conductorAt] = m.Site.ConductorResistance[conductorAt]
			default:
				a.ThinnestResistance[conductorAt] = 0
			}
		}
	}
}

// alternativeLinkCableResistance computes link_cable_resistance, computed_link_resistance, counted_link_resistance.
func (m *Model) alternativeLinkCableResistance() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		var linkCableResistance float64
		switch {
		case m.Site.WiringComputed != m.Site.WiringComputed:
			linkCableResistance = absent
		case m.Site.WiringComputed != 0:
			sum := 0.0
			for conductorAt := range inUse(m.Site.ConductorCount, 18) {
				sum += a.ThinnestResistance[conductorAt]
			}
			linkCableResistance = sum * a.LinkLength
		default:
			linkCableResistance = 0
		}
		computedLinkResistance := linkCableResistance
		if computedLinkResistance != computedLinkResistance {
			computedLinkResistance = 0
		}
		a.CountedLinkResistance = a.LinkResistance
		if a.CountedLinkResistance != a.CountedLinkResistance {
			a.CountedLinkResistance = computedLinkResistance
		}
	}
}

// alternativeStringLoadCurrent computes string_load_current, string_idle_current, string_current.
func (m *Model) alternativeStringLoadCurrent() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for stringAt := range inUse(a.LadderedStrings, 16) {
			stringLoadCurrent := a.LoadPart[stringAt] + float64(a.UnitCurrent[stringAt]*a.FirstLoadDrop)
			stringIdleCurrent := a.RestPart[stringAt] + float64(a.UnitCurrent[stringAt]*a.FirstRestDrop)
			a.StringCurrent[stringAt] = stringLoadCurrent + stringIdleCurrent
		}
	}
}
