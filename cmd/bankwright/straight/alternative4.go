// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

import "math"

// alternativeColdLimit computes cold_limit, month_limit, charge_power_limit.
func (m *Model) alternativeColdLimit() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for monthAt := range 12 {
			var coldLimit float64
			switch {
			case a.TooCold[monthAt] != a.TooCold[monthAt]:
				coldLimit = absent
			case a.TooCold[monthAt] != 0:
				coldLimit = 0
			default:
				switch {
				case a.Cool[monthAt] != a.Cool[monthAt]:
					coldLimit = absent
				case a.Cool[monthAt] != 0:
					coldLimit = min(a.CoolRateLimit, a.WarmLimit)
				default:
					coldLimit = a.WarmLimit
				}
			}
			monthLimit := coldLimit
			if monthLimit != monthLimit {
				monthLimit = a.WarmLimit
			}
			a.ChargePowerLimit[monthAt] = monthLimit * a.BankVoltage
		}
	}
}

// alternativeCableShare computes cable_share, cable_current, cable_rating.
func (m *Model) alternativeCableShare() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for cableAt := range inUse(a.CableCount, 3) {
			var cableShare float64
			if float64(cableAt+1) == 1 {
				cableShare = 1
			} else {
				if float64(cableAt+1) == 2 {
					cableShare = a.StringShare
				} else {
					cableShare = a.LinkShare
				}
			}
			a.CableCurrent[cableAt] = cableShare * (a.RunCurrent + a.IntermittentCurrent)
			a.CableRating[cableAt] = cableShare * a.NeededRating
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
		a.LinkRating = a.StringsLeft * stringFuse
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
				if !(a.CableLetThrough[cableAt] != a.CableLetThrough[cableAt] || part2 != part2) {
					thinForFault = truth(below(part2, a.CableLetThrough[cableAt]))
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

// alternativeMainRow computes main_row, surge_sag, surge_voltage, bms_surge, inverter_surge,
// inverter_apparent_power, touch_voltage, whole_years, surge_sag,
// array_touch_voltage, disconnect_current, bus_bar_current, string_fuse_carries,
// fuse_is_made.
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
		a.CheckBmsSurge = absent
		if !(a.SurgeCurrent != a.SurgeCurrent) {
			a.CheckBmsSurge = truth(atMost(a.SurgeCurrent, a.SurgeLimit))
		}
		a.CheckInverterSurge = absent
		if !(m.Site.AcSurge != m.Site.AcSurge) {
			a.CheckInverterSurge = truth(atMost(m.Site.AcSurge, inverter.SurgeLimit))
		}
		a.CheckInverterApparentPower = absent
		if !(m.Site.ApparentPower != m.Site.ApparentPower) {
			a.CheckInverterApparentPower = truth(atMost(m.Site.ApparentPower, inverter.ApparentAtPlace))
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
		a.CheckStringFuseCarries = absent
		if !(!same(a.Parallel, 1) && (a.WorstStringRating != a.WorstStringRating || a.StringFuse != a.StringFuse)) {
			a.CheckStringFuseCarries = truth(same(a.Parallel, 1) || atMost(a.WorstStringRating, a.StringFuse))
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

// alternativeCableArea computes cable_area, cable_fuse_limit, cable_resistance, path_resistance.
func (m *Model) alternativeCableArea() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for cableAt := range inUse(a.CableCount, 3) {
			switch {
			case m.Site.WiringComputed != m.Site.WiringComputed:
				a.CableArea[cableAt] = absent
			case m.Site.WiringComputed != 0:
				sum := 0.0
				for conductorAt := range inUse(m.Site.ConductorCount, 18) {
					sum += a.TakenArea[cableAt][conductorAt]
				}
				a.CableArea[cableAt] = sum
			default:
				a.CableArea[cableAt] = 0
			}
			switch {
			case m.Site.WiringComputed != m.Site.WiringComputed:
				a.CableFuseLimit[cableAt] = absent
			case m.Site.WiringComputed != 0:
				sum2 := 0.0
				for conductorAt2 := range inUse(m.Site.ConductorCount, 18) {
					sum2 += a.TakenFuseLimit[cableAt][conductorAt2]
				}
				a.CableFuseLimit[cableAt] = sum2
			default:
				a.CableFuseLimit[cableAt] = 0
			}
			var cableResistance float64
			switch {
			case m.Site.WiringComputed != m.Site.WiringComputed:
				cableResistance = absent
			case m.Site.WiringComputed != 0:
				sum3 := 0.0
				for conductorAt3 := range inUse(m.Site.ConductorCount, 18) {
					sum3 += a.TakenResistance[cableAt][conductorAt3]
				}
				cableResistance = sum3
			default:
				cableResistance = 0
			}
			a.CableResistance[cableAt] = cableResistance
			if float64(cableAt+1) == 1 {
				a.PathResistance[cableAt] = cableResistance * a.LoopLength
			} else {
				if float64(cableAt+1) == 2 {
					a.PathResistance[cableAt] = cableResistance * a.StringPath / a.Parallel
				} else {
					a.PathResistance[cableAt] = 0
				}
			}
		}
	}
}

// alternativeDayNeed computes day_need.
func (m *Model) alternativeDayNeed() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		sum := 0.0
		for hourAt := range 24 {
			sum += a.HourNeed[hourAt]
		}
		a.DayNeed = sum * m.Constant.HourLength
	}
}
