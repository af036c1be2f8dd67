// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

import "math"

// alternativeUnsuitedChargers computes unsuited_chargers, given_shares, cold_voltage, array_voltage_share,
// absorption_voltage, source_shares, array_voltage, charger_stages.
func (m *Model) alternativeUnsuitedChargers() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		sum := 0.0
		for j := range m.Source {
			if !a.Sources[j] {
				continue
			}
			each := &m.Source[j]
			sum += each.UnsuitedCharge
		}
		unsuitedChargers := sum
		sum2 := 0.0
		for j2 := range m.Source {
			if !a.Sources[j2] {
				continue
			}
			each := &m.Source[j2]
			sum2 += each.GivenShare
		}
		givenShares := sum2
		a.GivenShares = givenShares
		sum3 := 0.0
		for j3 := range m.Source {
			if !a.Sources[j3] {
				continue
			}
			each := &m.Source[j3]
			sum3 += each.KnownColdVoltage
		}
		if sum3 > 0 {
			high := math.Inf(-1)
			for j4 := range m.Source {
				if !a.Sources[j4] {
					continue
				}
				each := &m.Source[j4]
				high = max(high, each.KnownColdVoltage)
			}
			if math.IsInf(high, -1) {
				high = absent
			}
			a.ColdVoltage = high
		} else {
			a.ColdVoltage = absent
		}
		n := 0
		for j5 := range m.Source {
			if !a.Sources[j5] {
				continue
			}
			each := &m.Source[j5]
			if each.CheckedArray {
				n++
			}
		}
		var arrayVoltageShare float64
		if float64(n) > 0 {
			high2 := math.Inf(-1)
			for j6 := range m.Source {
				if !a.Sources[j6] {
					continue
				}
				each := &m.Source[j6]
				high2 = max(high2, each.ArrayVoltageShare)
			}
			if math.IsInf(high2, -1) {
				high2 = absent
			}
			arrayVoltageShare = high2
		} else {
			arrayVoltageShare = absent
		}
		sum4 := 0.0
		for j7 := range m.Source {
			if !a.Sources[j7] {
				continue
			}
			each := &m.Source[j7]
			sum4 += each.SetVoltage
		}
		if sum4 > 0 {
			high3 := math.Inf(-1)
			for j8 := range m.Source {
				if !a.Sources[j8] {
					continue
				}
				each := &m.Source[j8]
				high3 = max(high3, each.SetVoltage)
			}
			if math.IsInf(high3, -1) {
				high3 = absent
			}
			a.AbsorptionVoltage = high3
		} else {
			a.AbsorptionVoltage = absent
		}
		a.CheckSourceShares = atMost(givenShares, 1)
		a.CheckArrayVoltage = absent
		if !(arrayVoltageShare != arrayVoltageShare) {
			a.CheckArrayVoltage = truth(atMost(arrayVoltageShare, 1))
		}
		a.CheckChargerStages = unsuitedChargers == 0
	}
}

// alternativePowerCurrent computes power_current, source_current, source_power, array_power, timed_power, needed_power.
func (m *Model) alternativePowerCurrent() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for sourceAt := range 1 {
			powerCurrent := m.Source[sourceAt].PeakPower / a.BankVoltage
			if a.Sources[sourceAt] {
				part := m.Source[sourceAt].ControllerCurrent
				if part != part {
					part = powerCurrent
				}
				a.SourceCurrent[sourceAt] = min(powerCurrent, part)
			} else {
				a.SourceCurrent[sourceAt] = 0
			}
			var sourcePower float64
			if a.Sources[sourceAt] {
				part2 := m.Source[sourceAt].ControllerCurrent
				if part2 != part2 {
					part2 = powerCurrent
				}
				sourcePower = min(m.Source[sourceAt].BankPower, part2*a.BankVoltage)
			} else {
				sourcePower = 0
			}
			if m.Source[sourceAt].Runs == textSun {
				a.ArrayPower[sourceAt] = sourcePower
			} else {
				a.ArrayPower[sourceAt] = 0
			}
			if m.Source[sourceAt].Runs == textTimed {
				a.TimedPower[sourceAt] = sourcePower
			} else {
				a.TimedPower[sourceAt] = 0
			}
			if m.Source[sourceAt].Runs == textNeeded {
				a.NeededPower[sourceAt] = sourcePower
			} else {
				a.NeededPower[sourceAt] = 0
			}
		}
	}
}

// alternativeChargeCurrent computes charge_current, sun_kept, timed_kept, needed_kept.
func (m *Model) alternativeChargeCurrent() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		sum := 0.0
		for sourceAt := range 1 {
			sum += a.SourceCurrent[sourceAt]
		}
		a.ChargeCurrent = sum
		sum2 := 0.0
		for sourceAt2 := range 1 {
			sum2 += a.ArrayPower[sourceAt2]
		}
		switch {
		case sum2 != sum2:
			a.SunKept = absent
		case sum2 > 0:
			sum3 := 0.0
			for sourceAt3 := range 1 {
				sum3 += a.ArrayPower[sourceAt3]
			}
			sum4 := 0.0
			for j := range m.Source {
				if !a.Sources[j] {
					continue
				}
				each := &m.Source[j]
				sum4 += each.SunBankPower
			}
			a.SunKept = over(sum3, sum4)
		default:
			a.SunKept = 1
		}
		sum5 := 0.0
		for sourceAt4 := range 1 {
			sum5 += a.TimedPower[sourceAt4]
		}
		switch {
		case sum5 != sum5:
			a.TimedKept = absent
		case sum5 > 0:
			sum6 := 0.0
			for sourceAt5 := range 1 {
				sum6 += a.TimedPower[sourceAt5]
			}
			sum7 := 0.0
			for j2 := range m.Source {
				if !a.Sources[j2] {
					continue
				}
				each := &m.Source[j2]
				sum7 += each.TimedBankPower
			}
			a.TimedKept = over(sum6, sum7)
		default:
			a.TimedKept = 1
		}
		sum8 := 0.0
		for sourceAt6 := range 1 {
			sum8 += a.NeededPower[sourceAt6]
		}
		switch {
		case sum8 != sum8:
			a.NeededKept = absent
		case sum8 > 0:
			sum9 := 0.0
			for sourceAt7 := range 1 {
				sum9 += a.NeededPower[sourceAt7]
			}
			sum10 := 0.0
			for j3 := range m.Source {
				if !a.Sources[j3] {
					continue
				}
				each := &m.Source[j3]
				sum10 += each.NeededBankPower
			}
			a.NeededKept = over(sum9, sum10)
		default:
			a.NeededKept = 1
		}
	}
}

// alternativeTimedOffer computes timed_offer, timed_price, reserve_offer, reserve_price.
func (m *Model) alternativeTimedOffer() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for hourAt := range 24 {
			sum := 0.0
			for j := range m.Source {
				if !a.Sources[j] {
					continue
				}
				each := &m.Source[j]
				sum += each.TimedHour[hourAt]
			}
			part := a.TimedKept
			if part != part {
				part = 1
			}
			timedOffer := sum * part
			a.TimedOffer[hourAt] = timedOffer
			if timedOffer > 0 {
				sum2 := 0.0
				for j2 := range m.Source {
					if !a.Sources[j2] {
						continue
					}
					each := &m.Source[j2]
					sum2 += each.TimedHourCost[hourAt]
				}
				sum3 := 0.0
				for j3 := range m.Source {
					if !a.Sources[j3] {
						continue
					}
					each := &m.Source[j3]
					sum3 += each.TimedHour[hourAt]
				}
				a.TimedPrice[hourAt] = over(sum2, sum3)
			} else {
				a.TimedPrice[hourAt] = 0
			}
			sum4 := 0.0
			for j4 := range m.Source {
				if !a.Sources[j4] {
					continue
				}
				each := &m.Source[j4]
				sum4 += each.NeededHour[hourAt]
			}
			part2 := a.NeededKept
			if part2 != part2 {
				part2 = 1
			}
			reserveOffer := sum4 * part2
			a.ReserveOffer[hourAt] = reserveOffer
			if reserveOffer > 0 {
				sum5 := 0.0
				for j5 := range m.Source {
					if !a.Sources[j5] {
						continue
					}
					each := &m.Source[j5]
					sum5 += each.NeededHourCost[hourAt]
				}
				sum6 := 0.0
				for j6 := range m.Source {
					if !a.Sources[j6] {
						continue
					}
					each := &m.Source[j6]
					sum6 += each.NeededHour[hourAt]
				}
				a.ReservePrice[hourAt] = over(sum5, sum6)
			} else {
				a.ReservePrice[hourAt] = 0
			}
		}
	}
}

// alternativeGivenRowFits computes given_row_fits.
func (m *Model) alternativeGivenRowFits() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for conductorAt := range inUse(m.Site.ConductorCount, 18) {
			a.GivenRowFits[conductorAt] = absent
			if !(m.Site.ConductorArea[conductorAt] != m.Site.ConductorArea[conductorAt] || a.RunArea != a.RunArea) {
				a.GivenRowFits[conductorAt] = truth(atMost(m.Site.ConductorArea[conductorAt], a.RunArea))
			}
		}
	}
}

// alternativeGivenRow computes given_row.
func (m *Model) alternativeGivenRow() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		switch {
		case m.Site.WiringComputed != m.Site.WiringComputed:
			a.GivenRow = absent
		case m.Site.WiringComputed != 0:
			n := 0.0
			for conductorAt := range inUse(m.Site.ConductorCount, 18) {
				one := absent
				if !(a.GivenRowFits[conductorAt] != a.GivenRowFits[conductorAt]) {
					one = truth(a.GivenRowFits[conductorAt] != 0)
				}
				n += one
			}
			a.GivenRow = max(n, 1)
		default:
			a.GivenRow = 0
		}
	}
}

// alternativeWithstandDensity computes withstand_density.
func (m *Model) alternativeWithstandDensity() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		a.WithstandDensity = m.Constant.CopperHeatDensity * math.Sqrt(natural(over(a.FaultTemperature-m.Constant.CopperHeatZero, m.Site.OperatingTemperature-m.Constant.CopperHeatZero)))
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
