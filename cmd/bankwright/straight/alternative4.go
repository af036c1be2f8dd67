// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

import "math"

// alternativeCableArea computes cable_area, cable_fuse_limit, cable_resistance, path_resistance, third_resistance.
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
			if float64(cableAt+1) > 2 {
				a.ThirdResistance[cableAt] = cableResistance
			} else {
				a.ThirdResistance[cableAt] = 0
			}
		}
	}
}

// alternativeMainArea computes main_area, cable_withstand, main_fuse_limit, cables_resistance, run_resistance,
// mean_wiring_loss, link_cable_resistance, computed_link_resistance,
// counted_link_resistance, far_fault_current, far_fault_clears, cable_loss,
// need_power, daily_need, autonomy, fuse_protects_cable.
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
		runResistance := 2 * a.RunLength * end3
		meanWiringLoss := a.MeanCurrent * a.MeanCurrent * cablesResistance
		sum2 := 0.0
		for cableAt2 := range inUse(a.CableCount, 3) {
			sum2 += a.ThirdResistance[cableAt2]
		}
		linkCableResistance := sum2 * a.LinkLength
		computedLinkResistance := linkCableResistance
		if computedLinkResistance != computedLinkResistance {
			computedLinkResistance = 0
		}
		a.CountedLinkResistance = a.LinkResistance
		if a.CountedLinkResistance != a.CountedLinkResistance {
			a.CountedLinkResistance = computedLinkResistance
		}
		farFaultCurrent := over(a.CutoffVoltage, a.WeakResistance+runResistance)
		a.FarFaultClears = absent
		if !(farFaultCurrent != farFaultCurrent || a.ClearingCurrent != a.ClearingCurrent || atMost(a.ClearingCurrent, farFaultCurrent) && (a.LetThrough != a.LetThrough || cableWithstand != cableWithstand)) {
			a.FarFaultClears = truth(atMost(a.ClearingCurrent, farFaultCurrent) && atMost(a.LetThrough, cableWithstand))
		}
		cableLoss := meanWiringLoss
		if cableLoss != cableLoss {
			cableLoss = 0
		}
		a.CableLoss = cableLoss
		needPower := a.LoadPower + a.BmsPower + cableLoss
		a.NeedPower = needPower
		a.DailyNeed = needPower * m.Constant.DayLength
		part2 := needPower * m.Site.Autonomy
		a.CheckAutonomy = absent
		if !(part2 != part2) {
			a.CheckAutonomy = truth(atMost(part2, a.UsableEnergy))
		}
		a.CheckFuseProtectsCable = absent
		if !(a.MainFuse != a.MainFuse || a.NeededRating != a.NeededRating || atMost(a.NeededRating, a.MainFuse) && (a.MainFuse != a.MainFuse || mainFuseLimit != mainFuseLimit)) {
			a.CheckFuseProtectsCable = truth(atMost(a.NeededRating, a.MainFuse) && atMost(a.MainFuse, mainFuseLimit))
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

// alternativeFirstLoadDrop computes first_load_drop, first_rest_drop, largest_link, far_end_fault, link_resistance,
// cable_in_table.
func (m *Model) alternativeFirstLoadDrop() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		steps := inUse(a.LadderedStrings, 16)
		end := absent
		if steps > 0 {
			end = a.LoadSum[steps-1+1]
		}
		steps2 := inUse(a.LadderedStrings, 16)
		end2 := absent
		if steps2 > 0 {
			end2 = a.UnitSum[steps2-1+1]
		}
		a.FirstLoadDrop = over(a.DesignCurrent-end, end2)
		steps3 := inUse(a.LadderedStrings, 16)
		end3 := absent
		if steps3 > 0 {
			end3 = a.RestSum[steps3-1+1]
		}
		steps4 := inUse(a.LadderedStrings, 16)
		end4 := absent
		if steps4 > 0 {
			end4 = a.UnitSum[steps4-1+1]
		}
		a.FirstRestDrop = over(-end3, end4)
		high := math.Inf(-1)
		for stringAt := range inUse(a.LadderedStrings, 16) {
			high = max(high, a.LinkToString[stringAt])
		}
		if math.IsInf(high, -1) {
			high = absent
		}
		largestLink := high
		a.CheckFarEndFault = absent
		if !(a.FarFaultClears != a.FarFaultClears) {
			a.CheckFarEndFault = truth(a.FarFaultClears != 0)
		}
		a.CheckLinkResistance = absent
		if !(largestLink != largestLink) {
			a.CheckLinkResistance = truth(atMost(largestLink, m.Site.LinkLimit))
		}
		n := 0.0
		for cableAt := range inUse(a.CableCount, 3) {
			one := absent
			if !(a.NotInTable[cableAt] != a.NotInTable[cableAt]) {
				one = truth(a.NotInTable[cableAt] != 0)
			}
			n += one
		}
		a.CheckCableInTable = absent
		if !(n != n) {
			a.CheckCableInTable = truth(n == 0)
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

// alternativeWorstCurrent computes worst_current, worst_share, worst_string_rating, ladder_evenness, spread,
// continuous_current, surge_limit, charge_limit, left_spread, left_current, runs_on,
// warm_limit, discharge_current, bms_surge, charging_current, string_fuse_carries.
func (m *Model) alternativeWorstCurrent() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		battery := &m.Battery[a.Battery]
		high := math.Inf(-1)
		for stringAt := range inUse(a.LadderedStrings, 16) {
			high = max(high, a.StringCurrent[stringAt])
		}
		if math.IsInf(high, -1) {
			high = absent
		}
		worstCurrent := high
		var worstShare float64
		switch {
		case a.DesignCurrent != a.DesignCurrent:
			worstShare = absent
		case a.DesignCurrent > 0:
			worstShare = over(worstCurrent, a.DesignCurrent)
		default:
			worstShare = 1 / a.Parallel
		}
		worstStringRating := worstShare * a.NeededRating
		ladderEvenness := over(1/a.Parallel, worstShare)
		var spread float64
		if below(1, a.Parallel) {
			part := ladderEvenness
			if part != part {
				part = 1
			}
			spread = m.Site.SpreadFactor * part
		} else {
			spread = 1
		}
		continuousCurrent := battery.MaxDischargeCurrent * a.Parallel * spread
		surgeLimit := battery.SurgeLimit * a.Parallel * spread
		chargeLimit := battery.MaxChargeCurrent * a.Parallel * spread
		var leftSpread float64
		if below(1, a.StringsLeft) {
			part2 := ladderEvenness
			if part2 != part2 {
				part2 = 1
			}
			leftSpread = m.Site.SpreadFactor * part2
		} else {
			leftSpread = 1
		}
		leftCurrent := battery.MaxDischargeCurrent * a.StringsLeft * leftSpread
		a.RunsOn = absent
		if !((a.StringsLeft > 0) && (a.DesignCurrent != a.DesignCurrent)) {
			a.RunsOn = truth(a.StringsLeft > 0 && atMost(a.DesignCurrent, leftCurrent))
		}
		part3 := chargeLimit
		a.WarmLimit = min(a.RateLimit, part3)
		a.CheckDischargeCurrent = absent
		if !(a.LastingCurrent != a.LastingCurrent) {
			a.CheckDischargeCurrent = truth(atMost(a.LastingCurrent, continuousCurrent))
		}
		a.CheckBmsSurge = absent
		if !(a.SurgeCurrent != a.SurgeCurrent) {
			a.CheckBmsSurge = truth(atMost(a.SurgeCurrent, surgeLimit))
		}
		a.CheckChargingCurrent = absent
		if !(a.ChargeCurrent != a.ChargeCurrent) {
			a.CheckChargingCurrent = truth(atMost(a.ChargeCurrent, chargeLimit))
		}
		a.CheckStringFuseCarries = absent
		if !(!same(a.Parallel, 1) && (worstStringRating != worstStringRating || a.StringFuse != a.StringFuse)) {
			a.CheckStringFuseCarries = truth(same(a.Parallel, 1) || atMost(worstStringRating, a.StringFuse))
		}
	}
}

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
