// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

import "math"

// alternativeLargestMainFuse computes largest_main_fuse, largest_string_fuse, run_cables, main_fuses, disconnects,
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
			a.RunCables = absent
		case m.Site.WiringComputed != 0:
			a.RunCables = 2
		default:
			a.RunCables = 0
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

// alternativeSeriesLinks computes series_links, parallel_links, string_cables, bus_bar_count, string_fuses, lugs,
// wiring_connections, connection_hours, wired_hours, wiring_hours, labour_cost,
// first_cost, fuse_voltage, fuse_interrupting, string_fuse_interrupting.
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
				parallelLinks = 2 * (a.Parallel - 1)
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
				stringCables = 2 * a.Parallel
			} else {
				stringCables = 0
			}
		default:
			stringCables = 0
		}
		switch {
		case m.Site.WiringComputed != m.Site.WiringComputed:
			a.BusBarCount = absent
		case m.Site.WiringComputed != 0:
			if a.BusBars && below(1, a.Parallel) {
				a.BusBarCount = 2
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
		lugs := 2 * (seriesLinks + parallelLinks + stringCables + stringFuses + a.RunCables + a.MainFuses + a.Disconnects)
		wiringConnections := lugs
		connectionHours := wiringConnections * m.Site.ConnectionTime
		wiredHours := connectionHours + m.Site.MountingTime
		wiringHours := wiredHours
		if wiringHours != wiringHours {
			wiringHours = a.PlannedHours
		}
		labourCost := wiringHours * m.Price.Labour
		a.FirstCost = a.PurchasePrice + a.EquipmentCost + labourCost
		a.CheckFuseVoltage = absent
		if !(a.MainFuseVoltage != a.MainFuseVoltage || atMost(a.FullVoltage, a.MainFuseVoltage) && (!same(a.Parallel, 1) && (a.StringFuseVoltage != a.StringFuseVoltage))) {
			a.CheckFuseVoltage = truth(atMost(a.FullVoltage, a.MainFuseVoltage) && (same(a.Parallel, 1) || atMost(a.FullVoltage, a.StringFuseVoltage)))
		}
		a.CheckFuseInterrupting = absent
		if !(a.ShortCircuitCurrent != a.ShortCircuitCurrent || a.MainInterrupting != a.MainInterrupting) {
			a.CheckFuseInterrupting = truth(atMost(a.ShortCircuitCurrent, a.MainInterrupting))
		}
		a.CheckStringFuseInterrupting = absent
		if !(a.StringFaultCurrent != a.StringFaultCurrent || a.StringInterrupting != a.StringInterrupting) {
			a.CheckStringFuseInterrupting = truth(atMost(a.StringFaultCurrent, a.StringInterrupting))
		}
	}
}

// alternativeLoadPower computes load_power, mean_current, outage_demand, draw_together, load_draw, design_power,
// design_current, lasting_current, run_current, needed_rating, inverter_power,
// ac_loads_fed.
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
		a.CheckInverterPower = absent
		if !(m.Site.AcPower != m.Site.AcPower) {
			a.CheckInverterPower = truth(atMost(m.Site.AcPower, inverter.PowerAtPlace))
		}
		part3 := inverter.ContinuousPower
		a.CheckAcLoadsFed = absent
		if !(m.Site.AcPower != m.Site.AcPower) {
			a.CheckAcLoadsFed = truth(m.Site.AcPower == 0 || part3 > 0)
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

// alternativePositiveLink computes positive_link, negative_link, link_loop, feed_link, unit_drop, unit_current,
// unit_sum, load_drop, load_part, load_sum, rest_drop, rest_part, rest_sum,
// link_to_string.
func (m *Model) alternativePositiveLink() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		linkLoop := 0.0
		feedLink := 0.0
		unitDrop := 1.0
		a.UnitSum[0] = 0
		loadDrop := 0.0
		a.LoadSum[0] = 0
		restDrop := 0.0
		a.RestSum[0] = 0
		for stringAt := range inUse(a.LadderedStrings, 16) {
			linkLoopBefore := linkLoop
			feedLinkBefore := feedLink
			unitDropBefore := unitDrop
			loadDropBefore := loadDrop
			restDropBefore := restDrop
			var positiveLink float64
			switch {
			case a.TakeOff < 0:
				positiveLink = absent
			case a.TakeOff == textBusBar:
				positiveLink = 0
			default:
				positiveLink = a.CountedLinkResistance * a.LinkRatio[stringAt]
			}
			var negativeLink float64
			switch {
			case a.TakeOff < 0:
				negativeLink = absent
			case a.TakeOff == textBusBar:
				negativeLink = 0
			default:
				negativeLink = a.CountedLinkResistance * a.NegativeLinkRatio[stringAt]
			}
			linkLoop = positiveLink + negativeLink
			switch {
			case a.TakeOff < 0:
				feedLink = absent
			case a.TakeOff == textSameEnd:
				feedLink = linkLoop
			default:
				feedLink = positiveLink
			}
			unitDrop = unitDropBefore + float64(linkLoopBefore*a.UnitSum[stringAt])
			unitCurrent := over(unitDrop, a.StringResistance[stringAt])
			a.UnitCurrent[stringAt] = unitCurrent
			a.UnitSum[stringAt+1] = a.UnitSum[stringAt] + unitCurrent
			loadDrop = loadDropBefore - float64(feedLinkBefore*a.DesignCurrent) + float64(linkLoopBefore*a.LoadSum[stringAt])
			loadPart := over(loadDrop, a.StringResistance[stringAt])
			a.LoadPart[stringAt] = loadPart
			a.LoadSum[stringAt+1] = a.LoadSum[stringAt] + loadPart
			restDrop = restDropBefore + float64(linkLoopBefore*a.RestSum[stringAt])
			restPart := over(a.StringVoltageOffset[stringAt]+restDrop, a.StringResistance[stringAt])
			a.RestPart[stringAt] = restPart
			a.RestSum[stringAt+1] = a.RestSum[stringAt] + restPart
			a.LinkToString[stringAt] = over(linkLoop, a.StringResistance[stringAt])
		}
	}
}
