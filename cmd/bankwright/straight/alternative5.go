// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

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
			if same(float64(cableAt+1), m.Constant.RunSort) {
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
			if same(float64(cableAt+1), m.Constant.RunSort) {
				a.PathResistance[cableAt] = cableResistance * a.LoopLength
			} else {
				if same(float64(cableAt+1), m.Constant.StringSort) {
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

// alternativePartLoad computes part_load, part_efficiency, hour_efficiency, hour_need.
func (m *Model) alternativePartLoad() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		inverter := &m.Inverter[a.Inverter]
		for hourAt := range 24 {
			var partLoad float64
			if inverter.PowerAtPlace > 0 {
				partLoad = over(m.Site.AcHour[hourAt], inverter.PowerAtPlace)
			} else {
				partLoad = 0
			}
			partEfficiency := interpolate(inverter.PartLoadLoad, inverter.PartLoadEfficiency, partLoad)
			hourEfficiency := partEfficiency
			if hourEfficiency != hourEfficiency {
				hourEfficiency = a.InverterEfficiency
			}
			a.HourNeed[hourAt] = over(m.Site.AcHour[hourAt], hourEfficiency) + a.IdlePower + m.Site.DcHour[hourAt] + a.BmsPower + a.CableLoss
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

// alternativeSunOffer computes sun_offer, direct_power, free_offer, storable, free_flow.
func (m *Model) alternativeSunOffer() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		battery := &m.Battery[a.Battery]
		for monthAt := range 12 {
			for hourAt := range 24 {
				sum := 0.0
				for j := range m.Source {
					if !a.Sources[j] {
						continue
					}
					each := &m.Source[j]
					sum += each.SunHour[monthAt][hourAt]
				}
				part := a.SunKept
				if part != part {
					part = 1
				}
				sunOffer := sum * part
				a.SunOffer[monthAt][hourAt] = sunOffer
				directPower := min(sunOffer+a.TimedOffer[hourAt], a.HourNeed[hourAt])
				a.DirectPower[monthAt][hourAt] = directPower
				freeOffer := sunOffer + a.TimedOffer[hourAt]
				a.FreeOffer[monthAt][hourAt] = freeOffer
				storable := min(freeOffer-directPower, a.ChargePowerLimit[monthAt])
				a.Storable[monthAt][hourAt] = storable
				switch {
				case freeOffer != freeOffer || a.HourNeed[hourAt] != a.HourNeed[hourAt]:
					a.FreeFlow[monthAt][hourAt] = absent
				case below(a.HourNeed[hourAt], freeOffer):
					a.FreeFlow[monthAt][hourAt] = storable * battery.RoundTripEfficiency
				default:
					a.FreeFlow[monthAt][hourAt] = freeOffer - a.HourNeed[hourAt]
				}
			}
		}
	}
}

// alternativeBankEnergy computes bank_energy, usable_energy, usable_at_end, autonomy.
func (m *Model) alternativeBankEnergy() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		battery := &m.Battery[a.Battery]
		bankEnergy := a.Count * battery.Energy
		a.BankEnergy = bankEnergy
		usableEnergy := bankEnergy * m.Site.DepthOfDischarge * m.Site.TemperatureFactor
		a.UsableEnergy = usableEnergy
		a.UsableAtEnd = usableEnergy * battery.EndOfLife
		part := a.NeedPower * m.Site.Autonomy
		a.CheckAutonomy = absent
		if !(part != part) {
			a.CheckAutonomy = truth(atMost(part, usableEnergy))
		}
	}
}

// alternativeDayCapacity computes day_capacity.
func (m *Model) alternativeDayCapacity() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for ageAt := range 2 {
			if float64(ageAt+1) == 1 {
				a.DayCapacity[ageAt] = a.UsableEnergy
			} else {
				a.DayCapacity[ageAt] = a.UsableAtEnd
			}
		}
	}
}

// alternativeFreeFirstPass computes free_first_pass.
func (m *Model) alternativeFreeFirstPass() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for monthAt := range 12 {
			sum := 0.0
			for hourAt := range 24 {
				sum += a.FreeFlow[monthAt][hourAt]
			}
			switch {
			case sum != sum:
				a.FreeFirstPass[monthAt][0] = absent
			case sum >= 0:
				a.FreeFirstPass[monthAt][0] = a.UsableAtEnd
			default:
				a.FreeFirstPass[monthAt][0] = 0
			}
			for hourAt := range 24 {
				a.FreeFirstPass[monthAt][hourAt+1] = min(max(a.FreeFirstPass[monthAt][hourAt]+float64(a.FreeFlow[monthAt][hourAt]*m.Constant.HourLength), 0), a.UsableAtEnd)
			}
		}
	}
}
