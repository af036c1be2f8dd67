// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

import "math"

// batteryOpenCircuitVoltage computes open_circuit_voltage, charged_voltage, empty_voltage, typed_tests, rated_energy,
// surge_limit, guessed_fault_resistance, told_fault_resistance, fault_resistance,
// short_circuit_current, long_in_length, wide_in_length, high_in_length,
// long_in_width, wide_in_width, high_in_width.
func (m *Model) batteryOpenCircuitVoltage() {
	for i := range m.Battery {
		b := &m.Battery[i]
		b.OpenCircuitVoltage = b.RestedVoltage
		if b.OpenCircuitVoltage != b.OpenCircuitVoltage {
			b.OpenCircuitVoltage = b.NominalVoltage
		}
		chargedVoltage := b.FullVoltage
		b.ChargedVoltage = chargedVoltage
		b.EmptyVoltage = b.CutoffVoltage
		switch {
		case b.MeasuredEnergy != b.MeasuredEnergy:
			b.TypedTests = absent
		case b.MeasuredEnergy > 0:
			b.TypedTests = b.Tests
		default:
			b.TypedTests = 0
		}
		b.RatedEnergy = b.Capacity * b.NominalVoltage
		b.SurgeLimit = b.SurgeCurrent
		guessedFaultResistance := m.Constant.FaultResistanceFactor / b.Capacity * b.NominalVoltage / m.Constant.FaultResistanceVoltage
		toldFaultResistance := b.ShortCircuitResistance
		if toldFaultResistance != toldFaultResistance {
			toldFaultResistance = guessedFaultResistance
		}
		part := b.InternalResistance
		faultResistance := min(toldFaultResistance, part)
		b.ShortCircuitCurrent = over(chargedVoltage, faultResistance)
		b.LongInLength = floor(over(m.Site.SpaceLength, b.Length+m.Site.Gap))
		b.WideInLength = floor(over(m.Site.SpaceLength, b.Width+m.Site.Gap))
		b.HighInLength = floor(over(m.Site.SpaceLength, b.Height+m.Site.Gap))
		b.LongInWidth = floor(over(m.Site.SpaceWidth, b.Length+m.Site.Gap))
		b.WideInWidth = floor(over(m.Site.SpaceWidth, b.Width+m.Site.Gap))
		b.HighInWidth = floor(over(m.Site.SpaceWidth, b.Height+m.Site.Gap))
	}
}

// batterySinglePoint computes single_point, deepest_depth, deepest_cycles, lifetime_cycles, trial_count,
// trial_energy, found_energy, trial_deviation, trial_error.
func (m *Model) batterySinglePoint() {
	for i := range m.Battery {
		b := &m.Battery[i]
		b.SinglePoint = same(float64(len(b.CycleLifeDepth)), 1)
		deepestDepth := lastEntry(b.CycleLifeDepth)
		deepestCycles := lastEntry(b.CycleLifeCycles)
		b.LifetimeCycles = deepestCycles * deepestDepth
		n := 0.0
		trialCount := n
		b.TrialCount = trialCount
		sum := 0.0
		n2 := 0
		trialEnergy := over(sum, float64(n2))
		b.TrialEnergy = trialEnergy
		b.FoundEnergy = b.MeasuredEnergy
		if b.FoundEnergy != b.FoundEnergy {
			b.FoundEnergy = trialEnergy
		}
		var list []float64
		trialDeviation := deviation(list)
		b.TrialError = over(trialDeviation, math.Sqrt(trialCount))
	}
}

// batteryMonthHeat computes month_heat.
func (m *Model) batteryMonthHeat() {
	for i := range m.Battery {
		b := &m.Battery[i]
		for monthAt := range 12 {
			part := math.Exp(m.Constant.CalendarActivation * (over(1, b.CalendarTemperature-m.Constant.AbsoluteZero) - over(1, m.Site.CellTemperature[monthAt]-m.Constant.AbsoluteZero)))
			b.MonthHeat[monthAt] = part * part
		}
	}
}

// batteryHeatFactor computes heat_factor, calendar_wear, long_in_height, wide_in_height, places_lengthwise,
// places_crosswise, layers, places_upright, side_lengthwise, side_crosswise,
// places_on_side, end_lengthwise, end_crosswise, places_on_end, places, tested_energy.
func (m *Model) batteryHeatFactor() {
	for i := range m.Battery {
		b := &m.Battery[i]
		sum := 0.0
		n := 0
		for monthAt := range 12 {
			sum += b.MonthHeat[monthAt]
			n++
		}
		heatFactor := max(1, over(sum, float64(n)))
		part := heatFactor
		if part != part {
			part = 1
		}
		b.CalendarWear = m.Constant.YearLength / b.CalendarLife * part
		longInHeight := floor(over(m.Site.SpaceHeight, b.Length+m.Site.Gap))
		wideInHeight := floor(over(m.Site.SpaceHeight, b.Width+m.Site.Gap))
		placesLengthwise := b.LongInLength * b.WideInWidth
		placesCrosswise := b.WideInLength * b.LongInWidth
		layers := floor(over(m.Site.SpaceHeight, b.Height+m.Site.Gap))
		placesUpright := max(placesLengthwise, placesCrosswise) * layers
		sideLengthwise := b.LongInLength * b.HighInWidth
		sideCrosswise := b.HighInLength * b.LongInWidth
		placesOnSide := max(sideLengthwise, sideCrosswise) * wideInHeight
		endLengthwise := b.HighInLength * b.WideInWidth
		endCrosswise := b.WideInLength * b.HighInWidth
		placesOnEnd := max(endLengthwise, endCrosswise) * longInHeight
		if b.MayLie {
			b.Places = max(placesUpright, placesOnSide, placesOnEnd)
		} else {
			b.Places = placesUpright
		}
		b.TestedEnergy = b.FoundEnergy
		if b.TestedEnergy != b.TestedEnergy {
			b.TestedEnergy = b.RatedEnergy
		}
	}
}

// batteryTrialFactor computes trial_factor, trial_uncertainty, trial_width, mean_counts, energy.
func (m *Model) batteryTrialFactor() {
	for i := range m.Battery {
		b := &m.Battery[i]
		var trialFactor float64
		if below(1, b.TrialCount) {
			trialFactor = tQuantile(m.Site.IntervalShare, b.TrialCount-1)
		} else {
			trialFactor = 0
		}
		part := b.TrialError * trialFactor
		part2 := m.Site.InstrumentError * b.TrialEnergy
		trialUncertainty := math.Sqrt(float64(part*part) + float64(part2*part2))
		trialWidth := over(trialUncertainty, b.TrialEnergy)
		part3 := b.TypedTests
		if part3 != part3 {
			part3 = 0
		}
		part4 := trialWidth
		if part4 != part4 {
			part4 = 1
		}
		meanCounts := part3 > 0 || atMost(part4, m.Site.WidestInterval)
		if m.Site.EnergyBasis == textMeasured && meanCounts {
			b.Energy = b.TestedEnergy
		} else {
			b.Energy = min(b.RatedEnergy, b.TestedEnergy)
		}
	}
}
