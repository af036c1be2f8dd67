// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

import "math"

// alternativeEnergyPrice computes energy_price, day_runs, low_chargers, passed_surge, fits_the_space,
// absorption_voltage, charger_voltage.
func (m *Model) alternativeEnergyPrice() {
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
			sum += float64(each.PriceAtBank * (each.GivenShare + float64(each.OpenPart*a.OpenShare)))
		}
		a.EnergyPrice = sum
		sum2 := 0.0
		for j2 := range m.Source {
			if !a.Sources[j2] {
				continue
			}
			each := &m.Source[j2]
			sum2 += each.CountedPower
		}
		a.DayRuns = sum2 > 0
		n := 0
		for j3 := range m.Source {
			if !a.Sources[j3] {
				continue
			}
			each := &m.Source[j3]
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
