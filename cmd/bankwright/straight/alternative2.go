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

// alternativeOpenSources computes open_sources, open_share, energy_price, day_runs, arrays_in_sun, timed_alone,
// needed_alone, low_chargers, passed_surge, fits_the_space, absorption_voltage,
// charger_voltage.
func (m *Model) alternativeOpenSources() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		inverter := &m.Inverter[a.Inverter]
		battery := &m.Battery[a.Battery]
		sum := 0.0
		for j := range m.Source {
			if !a.Sources[j] {
				continue
			}
			each := &m.Source[j]
			sum += each.OpenPart
		}
		openSources := sum
		var openShare float64
		if openSources > 0 {
			openShare = over(max(1-a.GivenShares, 0), openSources)
		} else {
			openShare = 0
		}
		sum2 := 0.0
		for j2 := range m.Source {
			if !a.Sources[j2] {
				continue
			}
			each := &m.Source[j2]
			sum2 += float64(each.PriceAtBank * (each.GivenShare + float64(each.OpenPart*openShare)))
		}
		a.EnergyPrice = sum2
		sum3 := 0.0
		for j3 := range m.Source {
			if !a.Sources[j3] {
				continue
			}
			each := &m.Source[j3]
			sum3 += each.CountedPower
		}
		a.DayRuns = sum3 > 0
		sum4 := 0.0
		for j4 := range m.Source {
			if !a.Sources[j4] {
				continue
			}
			each := &m.Source[j4]
			sum4 += each.SunBankPower
		}
		a.ArraysInSun = sum4
		sum5 := 0.0
		for j5 := range m.Source {
			if !a.Sources[j5] {
				continue
			}
			each := &m.Source[j5]
			sum5 += each.TimedBankPower
		}
		a.TimedAlone = sum5
		sum6 := 0.0
		for j6 := range m.Source {
			if !a.Sources[j6] {
				continue
			}
			each := &m.Source[j6]
			sum6 += each.NeededBankPower
		}
		a.NeededAlone = sum6
		n := 0
		for j7 := range m.Source {
			if !a.Sources[j7] {
				continue
			}
			each := &m.Source[j7]
			if each.SetVoltage > 0 && below(each.SetVoltage, a.BankVoltage) {
				n++
			}
		}
		lowChargers := float64(n)
		a.PassedSurge = inverter.SurgeLimit
		a.CheckFitsTheSpace = absent
		if !(battery.Places != battery.Places) {
			a.CheckFitsTheSpace = truth(atMost(a.Count, battery.Places))
		}
		a.CheckAbsorptionVoltage = absent
		if !(a.AbsorptionVoltage != a.AbsorptionVoltage) {
			a.CheckAbsorptionVoltage = truth(atMost(a.AbsorptionVoltage, a.FullVoltage))
		}
		a.CheckChargerVoltage = lowChargers == 0
	}
}

// alternativeChargeCurrent computes charge_current, arrays_power, sun_kept, all_timed_power, timed_kept,
// all_needed_power, needed_kept.
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
		arraysPower := sum2
		switch {
		case arraysPower != arraysPower:
			a.SunKept = absent
		case arraysPower > 0:
			a.SunKept = over(arraysPower, a.ArraysInSun)
		default:
			a.SunKept = 1
		}
		sum3 := 0.0
		for sourceAt3 := range 1 {
			sum3 += a.TimedPower[sourceAt3]
		}
		allTimedPower := sum3
		switch {
		case allTimedPower != allTimedPower:
			a.TimedKept = absent
		case allTimedPower > 0:
			a.TimedKept = over(allTimedPower, a.TimedAlone)
		default:
			a.TimedKept = 1
		}
		sum4 := 0.0
		for sourceAt4 := range 1 {
			sum4 += a.NeededPower[sourceAt4]
		}
		allNeededPower := sum4
		switch {
		case allNeededPower != allNeededPower:
			a.NeededKept = absent
		case allNeededPower > 0:
			a.NeededKept = over(allNeededPower, a.NeededAlone)
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

// alternativeGivenRowsFit computes given_rows_fit, given_row.
func (m *Model) alternativeGivenRowsFit() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		var givenRowsFit float64
		switch {
		case m.Site.WiringComputed != m.Site.WiringComputed:
			givenRowsFit = absent
		case m.Site.WiringComputed != 0:
			n := 0.0
			for conductorAt := range inUse(m.Site.ConductorCount, 18) {
				one := absent
				if !(a.GivenRowFits[conductorAt] != a.GivenRowFits[conductorAt]) {
					one = truth(a.GivenRowFits[conductorAt] != 0)
				}
				n += one
			}
			givenRowsFit = n
		default:
			givenRowsFit = 0
		}
		switch {
		case m.Site.WiringComputed != m.Site.WiringComputed:
			a.GivenRow = absent
		case m.Site.WiringComputed != 0:
			a.GivenRow = max(givenRowsFit, 1)
		default:
			a.GivenRow = 0
		}
	}
}

// alternativeWithstandDensity computes withstand_density, first_cost, fuse_voltage, fuse_interrupting,
// string_fuse_interrupting.
func (m *Model) alternativeWithstandDensity() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		a.WithstandDensity = m.Constant.CopperHeatDensity * math.Sqrt(natural(over(a.FaultTemperature-m.Constant.CopperHeatZero, m.Site.OperatingTemperature-m.Constant.CopperHeatZero)))
		a.FirstCost = a.PurchasePrice + a.EquipmentCost + a.LabourCost
		a.CheckFuseVoltage = absent
		if !(a.MainFuseInterrupts != a.MainFuseInterrupts || (a.MainFuseInterrupts != 0) && (a.StringFuseInterrupts != a.StringFuseInterrupts)) {
			a.CheckFuseVoltage = truth(a.MainFuseInterrupts != 0 && a.StringFuseInterrupts != 0)
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

// alternativeHourNeed computes hour_need.
func (m *Model) alternativeHourNeed() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for hourAt := range 24 {
			a.HourNeed[hourAt] = over(m.Site.AcHour[hourAt], a.HourEfficiency[hourAt]) + a.IdlePower + m.Site.DcHour[hourAt] + a.BmsPower + a.CableLoss
		}
	}
}
