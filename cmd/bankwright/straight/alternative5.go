// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

// alternativeStandardStringFuse computes standard_string_fuse, string_fuse_rating, string_fuse, string_fuse_made,
// clearing_current, let_through, link_rating, surge_sag, surge_voltage, bms_surge,
// inverter_surge, inverter_power, inverter_apparent_power, touch_voltage,
// whole_years, ac_loads_fed.
func (m *Model) alternativeStandardStringFuse() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		battery := &m.Battery[a.Battery]
		inverter := &m.Inverter[a.Inverter]
		var standardStringFuse float64
		switch {
		case m.Site.IecTables != m.Site.IecTables:
			standardStringFuse = absent
		case m.Site.IecTables != 0:
			standardStringFuse = a.MetricStringFuse
		default:
			standardStringFuse = a.OtherStringFuse
		}
		stringFuseRating := a.StringFuseGiven
		if stringFuseRating != stringFuseRating {
			stringFuseRating = standardStringFuse
		}
		var stringFuse float64
		if below(1, a.Parallel) {
			stringFuse = stringFuseRating
		} else {
			stringFuse = a.MainFuse
		}
		a.StringFuse = stringFuse
		a.StringFuseMade = absent
		if !(!same(a.Parallel, 1) && (stringFuse != stringFuse || a.LargestStringFuse != a.LargestStringFuse)) {
			a.StringFuseMade = truth(same(a.Parallel, 1) || atMost(stringFuse, a.LargestStringFuse))
		}
		clearingCurrent := a.MainFuse * m.Site.ClearingMultiple
		a.ClearingCurrent = clearingCurrent
		a.LetThrough = clearingCurrent * clearingCurrent * m.Site.ClearingTime
		a.LinkRating = a.StringsLeft * stringFuse
		surgeSag := a.SurgeCurrent * (a.BankResistance + a.CountedWiringResistance)
		a.SurgeVoltage = float64(a.Series*battery.OpenCircuitVoltage) - surgeSag
		a.CheckBmsSurge = absent
		if !(a.SurgeCurrent != a.SurgeCurrent) {
			a.CheckBmsSurge = truth(atMost(a.SurgeCurrent, a.SurgeLimit))
		}
		a.CheckInverterSurge = absent
		if !(m.Site.AcSurge != m.Site.AcSurge) {
			a.CheckInverterSurge = truth(atMost(m.Site.AcSurge, inverter.SurgeLimit))
		}
		a.CheckInverterPower = absent
		if !(m.Site.AcPower != m.Site.AcPower) {
			a.CheckInverterPower = truth(atMost(m.Site.AcPower, inverter.PowerAtPlace))
		}
		a.CheckInverterApparentPower = absent
		if !(m.Site.ApparentPower != m.Site.ApparentPower) {
			a.CheckInverterApparentPower = truth(atMost(m.Site.ApparentPower, inverter.ApparentAtPlace))
		}
		a.CheckTouchVoltage = m.Site.LicensedInstaller || atMost(a.FullVoltage, m.Site.TouchVoltage)
		a.CheckWholeYears = same(m.Site.StudyPeriod, m.Site.StudyYears*m.Constant.YearLength)
		part := inverter.ContinuousPower
		a.CheckAcLoadsFed = absent
		if !(m.Site.AcPower != m.Site.AcPower) {
			a.CheckAcLoadsFed = truth(m.Site.AcPower == 0 || part > 0)
		}
	}
}

// alternativeCableFuse computes cable_fuse, cable_let_through.
func (m *Model) alternativeCableFuse() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for cableAt := range inUse(a.CableCount, 3) {
			var cableFuse float64
			if a.IsMainRun[cableAt] {
				cableFuse = a.MainFuse
			} else {
				if a.IsStringCable[cableAt] {
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

// alternativeThinForItsFuse computes thin_for_its_fuse, thin_for_fuse, thin_for_fault, too_thin.
func (m *Model) alternativeThinForItsFuse() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for cableAt := range inUse(a.CableCount, 3) {
			for conductorAt := range inUse(m.Site.ConductorCount, 18) {
				thinForItsFuse := absent
				if !(m.Site.ConductorFuseLimit[conductorAt] != m.Site.ConductorFuseLimit[conductorAt] || a.CableFuse[cableAt] != a.CableFuse[cableAt]) {
					thinForItsFuse = truth(below(m.Site.ConductorFuseLimit[conductorAt], a.CableFuse[cableAt]))
				}
				thinForFuse := absent
				if !(thinForItsFuse != thinForItsFuse || !(thinForItsFuse != 0) && (a.ThinForCurrent[cableAt][conductorAt] != a.ThinForCurrent[cableAt][conductorAt])) {
					thinForFuse = truth(thinForItsFuse != 0 || a.ThinForCurrent[cableAt][conductorAt] != 0)
				}
				thinForFault := absent
				if !(a.CableLetThrough[cableAt] != a.CableLetThrough[cableAt] || a.FaultWithstand[conductorAt] != a.FaultWithstand[conductorAt]) {
					thinForFault = truth(below(a.FaultWithstand[conductorAt], a.CableLetThrough[cableAt]))
				}
				holds := absent
				switch {
				case thinForFuse != thinForFuse:
				case thinForFuse != 0:
					holds = truth(true)
				default:
					holds2 := absent
					switch {
					case a.ThinForDrop[cableAt][conductorAt] != a.ThinForDrop[cableAt][conductorAt]:
					case a.ThinForDrop[cableAt][conductorAt] != 0:
						holds2 = truth(true)
					default:
						holds2 = absent
						if !(thinForFault != thinForFault) {
							holds2 = truth(thinForFault != 0)
						}
					}
					holds = absent
					if !(holds2 != holds2) {
						holds = truth(holds2 != 0)
					}
				}
				a.TooThin[cableAt][conductorAt] = absent
				if !(holds != holds) {
					a.TooThin[cableAt][conductorAt] = truth(holds != 0)
				}
			}
		}
	}
}

// alternativeThinConductors computes thin_conductors, fitting_row.
func (m *Model) alternativeThinConductors() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for cableAt := range inUse(a.CableCount, 3) {
			n := 0.0
			for conductorAt := range inUse(m.Site.ConductorCount, 18) {
				one := absent
				if !(a.TooThin[cableAt][conductorAt] != a.TooThin[cableAt][conductorAt]) {
					one = truth(a.TooThin[cableAt][conductorAt] != 0)
				}
				n += one
			}
			thinConductors := n
			switch {
			case m.Site.WiringComputed != m.Site.WiringComputed:
				a.FittingRow[cableAt] = absent
			case m.Site.WiringComputed != 0:
				a.FittingRow[cableAt] = 1 + thinConductors
			default:
				a.FittingRow[cableAt] = 0
			}
		}
	}
}

// alternativeMainRow computes main_row, surge_sag, array_touch_voltage, disconnect_current, bus_bar_current,
// string_fuse_carries, fuse_is_made.
func (m *Model) alternativeMainRow() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
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
		a.CheckSurgeSag = absent
		if !(a.SurgeVoltage != a.SurgeVoltage) {
			a.CheckSurgeSag = truth(atMost(inverter.MinVoltage, a.SurgeVoltage))
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
		if !(a.MainFuseMade != a.MainFuseMade || (a.MainFuseMade != 0) && (a.StringFuseMade != a.StringFuseMade)) {
			a.CheckFuseIsMade = truth(a.MainFuseMade != 0 && a.StringFuseMade != 0)
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

// alternativePickedArea computes picked_area, cable_area, picked_fuse_limit, cable_fuse_limit, picked_resistance,
// cable_resistance, path_resistance.
func (m *Model) alternativePickedArea() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for cableAt := range inUse(a.CableCount, 3) {
			sum := 0.0
			for conductorAt := range inUse(m.Site.ConductorCount, 18) {
				sum += a.TakenArea[cableAt][conductorAt]
			}
			pickedArea := sum
			switch {
			case m.Site.WiringComputed != m.Site.WiringComputed:
				a.CableArea[cableAt] = absent
			case m.Site.WiringComputed != 0:
				a.CableArea[cableAt] = pickedArea
			default:
				a.CableArea[cableAt] = 0
			}
			sum2 := 0.0
			for conductorAt2 := range inUse(m.Site.ConductorCount, 18) {
				sum2 += a.TakenFuseLimit[cableAt][conductorAt2]
			}
			pickedFuseLimit := sum2
			switch {
			case m.Site.WiringComputed != m.Site.WiringComputed:
				a.CableFuseLimit[cableAt] = absent
			case m.Site.WiringComputed != 0:
				a.CableFuseLimit[cableAt] = pickedFuseLimit
			default:
				a.CableFuseLimit[cableAt] = 0
			}
			sum3 := 0.0
			for conductorAt3 := range inUse(m.Site.ConductorCount, 18) {
				sum3 += a.TakenResistance[cableAt][conductorAt3]
			}
			pickedResistance := sum3
			var cableResistance float64
			switch {
			case m.Site.WiringComputed != m.Site.WiringComputed:
				cableResistance = absent
			case m.Site.WiringComputed != 0:
				cableResistance = pickedResistance
			default:
				cableResistance = 0
			}
			a.CableResistance[cableAt] = cableResistance
			if a.IsMainRun[cableAt] {
				a.PathResistance[cableAt] = cableResistance * a.LoopLength
			} else {
				if a.IsStringCable[cableAt] {
					a.PathResistance[cableAt] = cableResistance * a.StringPath / a.Parallel
				} else {
					a.PathResistance[cableAt] = 0
				}
			}
		}
	}
}

// alternativeMainArea computes main_area, cable_withstand, main_fuse_limit, cables_resistance, run_resistance,
// mean_wiring_loss, string_cable_resistance, weak_cables, far_fault_current,
// cable_loss, need_power, daily_need, fuse_protects_cable, far_end_fault,
// run_stands_fault, cable_in_table.
func (m *Model) alternativeMainArea() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		steps := inUse(a.CableCount, 3)
		end := absent
		if steps > 0 {
			end = a.CableArea[0]
		}
		mainArea := end
		part := a.WithstandDensity * mainArea
		cableWithstand := part * part * m.Constant.WithstandTime
		steps2 := inUse(a.CableCount, 3)
		end2 := absent
		if steps2 > 0 {
			end2 = a.CableFuseLimit[0]
		}
		mainFuseLimit := end2
		sum := 0.0
		for cableAt := range inUse(a.CableCount, 3) {
			sum += a.PathResistance[cableAt]
		}
		cablesResistance := sum
		steps3 := inUse(a.CableCount, 3)
		end3 := absent
		if steps3 > 0 {
			end3 = a.CableResistance[0]
		}
		runResistance := m.Constant.BothPoles * a.RunLength * end3
		meanWiringLoss := a.MeanCurrent * a.MeanCurrent * cablesResistance
		steps4 := inUse(a.CableCount, 3)
		end4 := absent
		if steps4 > 0 {
			end4 = a.PathResistance[0]
		}
		stringCableResistance := float64((cablesResistance-end4)*a.Parallel) + a.JointResistance
		weakCables := stringCableResistance/max(a.StringsLeft, 1) + float64(a.LinkWay*m.Constant.BothPoles*a.CountedLinkResistance)
		farFaultCurrent := over(a.CutoffVoltage, a.WeakResistance+weakCables+runResistance)
		cableLoss := meanWiringLoss
		if cableLoss != cableLoss {
			cableLoss = 0
		}
		a.CableLoss = cableLoss
		needPower := a.LoadPower + a.BmsPower + cableLoss
		a.NeedPower = needPower
		a.DailyNeed = needPower * m.Constant.DayLength
		a.CheckFuseProtectsCable = absent
		if !(a.MainFuse != a.MainFuse || a.NeededRating != a.NeededRating || atMost(a.NeededRating, a.MainFuse) && (a.MainFuse != a.MainFuse || mainFuseLimit != mainFuseLimit)) {
			a.CheckFuseProtectsCable = truth(atMost(a.NeededRating, a.MainFuse) && atMost(a.MainFuse, mainFuseLimit))
		}
		a.CheckFarEndFault = absent
		if !(farFaultCurrent != farFaultCurrent || a.ClearingCurrent != a.ClearingCurrent) {
			a.CheckFarEndFault = truth(atMost(a.ClearingCurrent, farFaultCurrent))
		}
		a.CheckRunStandsFault = absent
		if !(a.LetThrough != a.LetThrough || cableWithstand != cableWithstand) {
			a.CheckRunStandsFault = truth(atMost(a.LetThrough, cableWithstand))
		}
		n := 0.0
		for cableAt2 := range inUse(a.CableCount, 3) {
			one := absent
			if !(a.NotInTable[cableAt2] != a.NotInTable[cableAt2]) {
				one = truth(a.NotInTable[cableAt2] != 0)
			}
			n += one
		}
		a.CheckCableInTable = absent
		if !(n != n) {
			a.CheckCableInTable = truth(n == 0)
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
