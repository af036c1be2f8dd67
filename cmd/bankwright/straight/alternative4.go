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
			if same(float64(cableAt+1), m.Constant.RunSort) {
				cableShare = 1
			} else {
				if same(float64(cableAt+1), m.Constant.StringSort) {
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
			if same(float64(cableAt+1), m.Constant.RunSort) {
				cableFuse = a.MainFuse
			} else {
				if same(float64(cableAt+1), m.Constant.StringSort) {
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
