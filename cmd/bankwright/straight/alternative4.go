// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

import "math"

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

// alternativeLastLoadSum computes last_load_sum, last_unit_sum, first_load_drop, last_rest_sum, first_rest_drop,
// largest_link, link_resistance.
func (m *Model) alternativeLastLoadSum() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		steps := inUse(a.LadderedStrings, 16)
		end := absent
		if steps > 0 {
			end = a.LoadSum[steps-1+1]
		}
		lastLoadSum := end
		steps2 := inUse(a.LadderedStrings, 16)
		end2 := absent
		if steps2 > 0 {
			end2 = a.UnitSum[steps2-1+1]
		}
		lastUnitSum := end2
		a.FirstLoadDrop = over(a.DesignCurrent-lastLoadSum, lastUnitSum)
		steps3 := inUse(a.LadderedStrings, 16)
		end3 := absent
		if steps3 > 0 {
			end3 = a.RestSum[steps3-1+1]
		}
		lastRestSum := end3
		a.FirstRestDrop = over(-lastRestSum, lastUnitSum)
		high := math.Inf(-1)
		for stringAt := range inUse(a.LadderedStrings, 16) {
			high = max(high, a.LinkToString[stringAt])
		}
		if math.IsInf(high, -1) {
			high = absent
		}
		largestLink := high
		a.CheckLinkResistance = absent
		if !(largestLink != largestLink) {
			a.CheckLinkResistance = truth(atMost(largestLink, m.Site.LinkLimit))
		}
	}
}

// alternativeWorstCurrent computes worst_current, worst_share, ladder_evenness, spread, continuous_current,
// surge_limit, charge_limit, left_spread, left_current, runs_on, warm_limit,
// largest_share, worst_string_rating, string_share, discharge_current,
// charging_current.
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
		a.SurgeLimit = battery.SurgeLimit * a.Parallel * spread
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
		largestShare := worstShare
		if largestShare != largestShare {
			largestShare = over(1/a.Parallel, spread)
		}
		a.WorstStringRating = largestShare * a.NeededRating
		if below(1, a.StringsLeft) {
			part4 := worstShare
			if part4 != part4 {
				part4 = 0
			}
			a.StringShare = min(1, max(over(1, a.StringsLeft), part4)/m.Site.SpreadFactor)
		} else {
			a.StringShare = 1
		}
		a.CheckDischargeCurrent = absent
		if !(a.LastingCurrent != a.LastingCurrent) {
			a.CheckDischargeCurrent = truth(atMost(a.LastingCurrent, continuousCurrent))
		}
		a.CheckChargingCurrent = absent
		if !(a.ChargeCurrent != a.ChargeCurrent) {
			a.CheckChargingCurrent = truth(atMost(a.ChargeCurrent, chargeLimit))
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

// alternativeCableShare computes cable_share, cable_current, cable_rating.
func (m *Model) alternativeCableShare() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for cableAt := range inUse(a.CableCount, 3) {
			var cableShare float64
			if a.IsMainRun[cableAt] {
				cableShare = 1
			} else {
				if a.IsStringCable[cableAt] {
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

// alternativeThinForCurrent computes thin_for_current, thin_for_drop.
func (m *Model) alternativeThinForCurrent() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for cableAt := range inUse(a.CableCount, 3) {
			for conductorAt := range inUse(m.Site.ConductorCount, 18) {
				a.ThinForCurrent[cableAt][conductorAt] = absent
				if !(m.Site.ConductorAmpacity[conductorAt] != m.Site.ConductorAmpacity[conductorAt] || a.CableRating[cableAt] != a.CableRating[cableAt]) {
					a.ThinForCurrent[cableAt][conductorAt] = truth(below(m.Site.ConductorAmpacity[conductorAt], a.CableRating[cableAt]))
				}
				part := m.Site.ConductorResistance[conductorAt] * a.CableLoop[cableAt] * a.CableCurrent[cableAt]
				a.ThinForDrop[cableAt][conductorAt] = absent
				if !(part != part) {
					a.ThinForDrop[cableAt][conductorAt] = truth(below(a.AllowedDrop, part))
				}
			}
		}
	}
}

// alternativeAcSurgeTogether computes ac_surge_together, surge_together.
func (m *Model) alternativeAcSurgeTogether() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for loadAt := range 5 {
			acSurgeTogether := min(m.Site.AcTogether+m.Load[loadAt].AcStartTogether, a.PassedSurge)
			a.SurgeTogether[loadAt] = acSurgeTogether/a.InverterEfficiency + a.IdlePower + m.Site.DcTogether + m.Load[loadAt].DcStartTogether
		}
	}
}

// alternativeSurgeDraw computes surge_draw, surge_current, fuse_current, string_fuse_current, listed_current,
// listed_string_current, other_fuse, other_string_fuse, listed_metric_current,
// listed_metric_string_current, metric_fuse, standard_fuse, main_fuse,
// disconnect_rating, main_fuse_made, metric_string_fuse.
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
		stringFuseCurrent := a.StringShare * fuseCurrent
		listedCurrent := min(fuseCurrent, m.Site.LargestRating)
		listedStringCurrent := min(stringFuseCurrent, m.Site.LargestRating)
		otherFuse := atLeast(tableFuseRating, listedCurrent)
		a.OtherStringFuse = atLeast(tableFuseRating, listedStringCurrent)
		listedMetricCurrent := min(fuseCurrent, m.Site.LargestMetricRating)
		listedMetricStringCurrent := min(stringFuseCurrent, m.Site.LargestMetricRating)
		metricFuse := atLeast(tableIecFuseRating, listedMetricCurrent)
		var standardFuse float64
		switch {
		case m.Site.IecTables != m.Site.IecTables:
			standardFuse = absent
		case m.Site.IecTables != 0:
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
		a.MainFuseMade = absent
		if !(mainFuse != mainFuse || a.LargestMainFuse != a.LargestMainFuse) {
			a.MainFuseMade = truth(atMost(mainFuse, a.LargestMainFuse))
		}
		a.MetricStringFuse = atLeast(tableIecFuseRating, listedMetricStringCurrent)
	}
}

// alternativePartLoad computes part_load, part_efficiency, hour_efficiency.
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
			a.HourEfficiency[hourAt] = partEfficiency
			if a.HourEfficiency[hourAt] != a.HourEfficiency[hourAt] {
				a.HourEfficiency[hourAt] = a.InverterEfficiency
			}
		}
	}
}

// alternativeWantedRow computes wanted_row, not_in_table, cable_row.
func (m *Model) alternativeWantedRow() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for cableAt := range inUse(a.CableCount, 3) {
			var wantedRow float64
			if a.IsMainRun[cableAt] {
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
