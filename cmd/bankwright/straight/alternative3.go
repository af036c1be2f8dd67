// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

import "math"

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
// inverter_apparent_power, ac_loads_fed.
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
		a.CheckInverterApparentPower = absent
		if !(m.Site.ApparentPower != m.Site.ApparentPower) {
			a.CheckInverterApparentPower = truth(atMost(m.Site.ApparentPower, inverter.ApparentAtPlace))
		}
		part3 := inverter.ContinuousPower
		a.CheckAcLoadsFed = absent
		if !(m.Site.AcPower != m.Site.AcPower) {
			a.CheckAcLoadsFed = truth(m.Site.AcPower == 0 || part3 > 0)
		}
	}
}

// alternativeThinForDrop computes thin_for_drop.
func (m *Model) alternativeThinForDrop() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for cableAt := range inUse(a.CableCount, 3) {
			for conductorAt := range inUse(m.Site.ConductorCount, 18) {
				part := m.Site.ConductorResistance[conductorAt] * a.CableLoop[cableAt] * a.CableCurrent[cableAt]
				a.ThinForDrop[cableAt][conductorAt] = absent
				if !(part != part) {
					a.ThinForDrop[cableAt][conductorAt] = truth(below(a.AllowedDrop, part))
				}
			}
		}
	}
}

// alternativeSurgeTogether computes surge_together.
func (m *Model) alternativeSurgeTogether() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for loadAt := range 5 {
			a.SurgeTogether[loadAt] = min(m.Site.AcTogether+m.Load[loadAt].AcStartTogether, a.PassedSurge)/a.InverterEfficiency + a.IdlePower + m.Site.DcTogether + m.Load[loadAt].DcStartTogether
		}
	}
}

// alternativeSurgeDraw computes surge_draw, surge_current, fuse_current, other_fuse, metric_fuse, standard_fuse,
// main_fuse, disconnect_rating, other_string_fuse, metric_string_fuse,
// standard_string_fuse, string_fuse_rating, string_fuse, clearing_current,
// let_through, link_rating.
func (m *Model) alternativeSurgeDraw() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		high := math.Inf(-1)
		for loadAt := range 5 {
			high = max(high, a.SurgeTogether[loadAt])
		}
		high2 := math.Inf(-1)
		for loadAt2 := range 5 {
			high2 = max(high2, a.SurgeAlone[loadAt2])
		}
		surgeDraw := max(high, high2)
		surgeCurrent := over(surgeDraw, a.LowestVoltage)
		a.SurgeCurrent = surgeCurrent
		fuseCurrent := max(a.NeededRating, surgeCurrent/m.Site.FuseSurgeRatio)
		otherFuse := atLeast(tableFuseRating, interpolate(tableFuseRating, tableFuseRating, fuseCurrent))
		metricFuse := atLeast(tableIecFuseRating, interpolate(tableIecFuseRating, tableIecFuseRating, fuseCurrent))
		var standardFuse float64
		switch {
		case m.Site.WireTables < 0:
			standardFuse = absent
		case m.Site.WireTables == textIec:
			standardFuse = metricFuse
		default:
			standardFuse = otherFuse
		}
		var mainFuse float64
		switch {
		case m.Site.WiringComputed != m.Site.WiringComputed:
			mainFuse = absent
		case m.Site.WiringComputed != 0:
			mainFuse = a.FuseRating
			if mainFuse != mainFuse {
				mainFuse = standardFuse
			}
		default:
			mainFuse = 0
		}
		a.MainFuse = mainFuse
		a.DisconnectRating = max(mainFuse, a.NeededRating)
		otherStringFuse := atLeast(tableFuseRating, interpolate(tableFuseRating, tableFuseRating, a.StringShare*fuseCurrent))
		metricStringFuse := atLeast(tableIecFuseRating, interpolate(tableIecFuseRating, tableIecFuseRating, a.StringShare*fuseCurrent))
		var standardStringFuse float64
		switch {
		case m.Site.WireTables < 0:
			standardStringFuse = absent
		case m.Site.WireTables == textIec:
			standardStringFuse = metricStringFuse
		default:
			standardStringFuse = otherStringFuse
		}
		stringFuseRating := a.StringFuseGiven
		if stringFuseRating != stringFuseRating {
			stringFuseRating = standardStringFuse
		}
		var stringFuse float64
		if below(1, a.Parallel) {
			stringFuse = stringFuseRating
		} else {
			stringFuse = mainFuse
		}
		a.StringFuse = stringFuse
		clearingCurrent := mainFuse * m.Site.ClearingMultiple
		a.ClearingCurrent = clearingCurrent
		a.LetThrough = clearingCurrent * clearingCurrent * m.Site.ClearingTime
		a.LinkRating = min(mainFuse, (a.Parallel-1)*stringFuse)
	}
}

// alternativeCableFuse computes cable_fuse, cable_let_through.
func (m *Model) alternativeCableFuse() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for cableAt := range inUse(a.CableCount, 3) {
			var cableFuse float64
			if float64(cableAt+1) == 1 {
				cableFuse = a.MainFuse
			} else {
				if float64(cableAt+1) == 2 {
					cableFuse = a.StringFuse
				} else {
					cableFuse = a.LinkRating
				}
			}
			a.CableFuse[cableAt] = cableFuse
			part := cableFuse * m.Site.ClearingMultiple
			a.CableLetThrough[cableAt] = part * part * m.Site.ClearingTime
		}
	}
}

// alternativeThinForFuse computes thin_for_fuse, thin_for_fault, too_thin.
func (m *Model) alternativeThinForFuse() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for cableAt := range inUse(a.CableCount, 3) {
			for conductorAt := range inUse(m.Site.ConductorCount, 18) {
				thinForFuse := absent
				if !(m.Site.ConductorFuseLimit[conductorAt] != m.Site.ConductorFuseLimit[conductorAt] || a.CableFuse[cableAt] != a.CableFuse[cableAt] || !below(m.Site.ConductorFuseLimit[conductorAt], a.CableFuse[cableAt]) && (m.Site.ConductorAmpacity[conductorAt] != m.Site.ConductorAmpacity[conductorAt] || a.CableRating[cableAt] != a.CableRating[cableAt])) {
					thinForFuse = truth(below(m.Site.ConductorFuseLimit[conductorAt], a.CableFuse[cableAt]) || below(m.Site.ConductorAmpacity[conductorAt], a.CableRating[cableAt]))
				}
				part := a.WithstandDensity * m.Site.ConductorArea[conductorAt]
				part2 := part * part * m.Constant.WithstandTime
				thinForFault := absent
				if !((float64(cableAt+1) > 1) && (a.CableLetThrough[cableAt] != a.CableLetThrough[cableAt] || part2 != part2)) {
					thinForFault = truth(float64(cableAt+1) > 1 && below(part2, a.CableLetThrough[cableAt]))
				}
				a.TooThin[cableAt][conductorAt] = absent
				if !(thinForFuse != thinForFuse || !(thinForFuse != 0) && (a.ThinForDrop[cableAt][conductorAt] != a.ThinForDrop[cableAt][conductorAt]) || !(thinForFuse != 0 || a.ThinForDrop[cableAt][conductorAt] != 0) && (thinForFault != thinForFault)) {
					a.TooThin[cableAt][conductorAt] = truth(thinForFuse != 0 || a.ThinForDrop[cableAt][conductorAt] != 0 || thinForFault != 0)
				}
			}
		}
	}
}

// alternativeFittingRow computes fitting_row.
func (m *Model) alternativeFittingRow() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for cableAt := range inUse(a.CableCount, 3) {
			switch {
			case m.Site.WiringComputed != m.Site.WiringComputed:
				a.FittingRow[cableAt] = absent
			case m.Site.WiringComputed != 0:
				n := 0.0
				for conductorAt := range inUse(m.Site.ConductorCount, 18) {
					one := absent
					if !(a.TooThin[cableAt][conductorAt] != a.TooThin[cableAt][conductorAt]) {
						one = truth(a.TooThin[cableAt][conductorAt] != 0)
					}
					n += one
				}
				a.FittingRow[cableAt] = 1 + n
			default:
				a.FittingRow[cableAt] = 0
			}
		}
	}
}

// alternativeMainRow computes main_row, surge_sag, surge_voltage, inverter_surge, touch_voltage, whole_years,
// surge_sag, array_touch_voltage, disconnect_current, bus_bar_current, fuse_is_made.
func (m *Model) alternativeMainRow() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		battery := &m.Battery[a.Battery]
		inverter := &m.Inverter[a.Inverter]
		a.MainRow = a.GivenRow
		if a.MainRow != a.MainRow {
			steps := inUse(a.CableCount, 3)
			end := absent
			if steps > 0 {
				end = a.FittingRow[0]
			}
			a.MainRow = end
		}
		surgeSag := a.SurgeCurrent * (a.BankResistance + a.CountedWiringResistance)
		surgeVoltage := float64(a.Series*battery.OpenCircuitVoltage) - surgeSag
		a.CheckInverterSurge = absent
		if !(m.Site.AcSurge != m.Site.AcSurge) {
			a.CheckInverterSurge = truth(atMost(m.Site.AcSurge, inverter.SurgeLimit))
		}
		a.CheckTouchVoltage = m.Site.LicensedInstaller || atMost(a.FullVoltage, m.Site.TouchVoltage)
		a.CheckWholeYears = same(m.Site.StudyPeriod, m.Site.StudyYears*m.Constant.YearLength)
		a.CheckSurgeSag = absent
		if !(surgeVoltage != surgeVoltage) {
			a.CheckSurgeSag = truth(atMost(inverter.MinVoltage, surgeVoltage))
		}
		a.CheckArrayTouchVoltage = absent
		if !(!m.Site.LicensedInstaller && (a.ColdVoltage != a.ColdVoltage)) {
			a.CheckArrayTouchVoltage = truth(m.Site.LicensedInstaller || atMost(a.ColdVoltage, m.Site.TouchVoltage))
		}
		a.CheckDisconnectCurrent = absent
		if !(a.DisconnectGiven != a.DisconnectGiven || a.DisconnectRating != a.DisconnectRating) {
			a.CheckDisconnectCurrent = truth(atMost(a.DisconnectRating, a.DisconnectGiven))
		}
		a.CheckBusBarCurrent = absent
		if !(a.BusBarCount != a.BusBarCount || !(a.BusBarCount == 0) && (a.BusBarGiven != a.BusBarGiven || a.DisconnectRating != a.DisconnectRating)) {
			a.CheckBusBarCurrent = truth(a.BusBarCount == 0 || atMost(a.DisconnectRating, a.BusBarGiven))
		}
		a.CheckFuseIsMade = absent
		if !(a.MainFuse != a.MainFuse || a.LargestMainFuse != a.LargestMainFuse || atMost(a.MainFuse, a.LargestMainFuse) && (!same(a.Parallel, 1) && (a.StringFuse != a.StringFuse || a.LargestStringFuse != a.LargestStringFuse))) {
			a.CheckFuseIsMade = truth(atMost(a.MainFuse, a.LargestMainFuse) && (same(a.Parallel, 1) || atMost(a.StringFuse, a.LargestStringFuse)))
		}
	}
}

// alternativeWantedRow computes wanted_row, not_in_table, cable_row.
func (m *Model) alternativeWantedRow() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for cableAt := range inUse(a.CableCount, 3) {
			var wantedRow float64
			if float64(cableAt+1) == 1 {
				wantedRow = a.MainRow
			} else {
				wantedRow = a.FittingRow[cableAt]
			}
			a.NotInTable[cableAt] = absent
			if !(wantedRow != wantedRow || m.Site.ConductorCount != m.Site.ConductorCount) {
				a.NotInTable[cableAt] = truth(below(m.Site.ConductorCount, wantedRow))
			}
			a.CableRow[cableAt] = min(wantedRow, m.Site.ConductorCount)
		}
	}
}

// alternativeTaken computes taken, taken_area, taken_fuse_limit, taken_resistance.
func (m *Model) alternativeTaken() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for cableAt := range inUse(a.CableCount, 3) {
			for conductorAt := range inUse(m.Site.ConductorCount, 18) {
				taken := absent
				if !(a.CableRow[cableAt] != a.CableRow[cableAt]) {
					taken = truth(same(float64(conductorAt+1), a.CableRow[cableAt]))
				}
				switch {
				case taken != taken:
					a.TakenArea[cableAt][conductorAt] = absent
				case taken != 0:
					a.TakenArea[cableAt][conductorAt] = m.Site.ConductorArea[conductorAt]
				default:
					a.TakenArea[cableAt][conductorAt] = 0
				}
				switch {
				case taken != taken:
					a.TakenFuseLimit[cableAt][conductorAt] = absent
				case taken != 0:
					a.TakenFuseLimit[cableAt][conductorAt] = m.Site.ConductorFuseLimit[conductorAt]
				default:
					a.TakenFuseLimit[cableAt][conductorAt] = 0
				}
				switch {
				case taken != taken:
					a.TakenResistance[cableAt][conductorAt] = absent
				case taken != 0:
					a.TakenResistance[cableAt][conductorAt] = m.Site.ConductorResistance[conductorAt]
				default:
					a.TakenResistance[cableAt][conductorAt] = 0
				}
			}
		}
	}
}
