// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

import "math"

// sourceUnsuitedCharge computes unsuited_charge, given_share, fuel_energy_price, checked_array, known_cold_voltage,
// array_voltage_share, set_voltage.
func (m *Model) sourceUnsuitedCharge() {
	for i := range m.Source {
		s := &m.Source[i]
		holds := false
		if s.Equalises != s.Equalises {
			holds = false
		} else {
			holds = s.Equalises != 0
		}
		holds2 := false
		if s.TemperatureCompensated != s.TemperatureCompensated {
			holds2 = false
		} else {
			holds2 = s.TemperatureCompensated != 0
		}
		if holds || holds2 {
			s.UnsuitedCharge = 1
		} else {
			s.UnsuitedCharge = 0
		}
		s.GivenShare = s.Share
		if s.GivenShare != s.GivenShare {
			s.GivenShare = 0
		}
		s.FuelEnergyPrice = s.FuelUse * s.FuelPrice / s.Power
		part := s.ColdVoltage
		if part != part {
			part = 0
		}
		part2 := s.ControllerVoltage
		if part2 != part2 {
			part2 = 0
		}
		checkedArray := part > 0 && part2 > 0
		s.CheckedArray = checkedArray
		s.KnownColdVoltage = s.ColdVoltage
		if s.KnownColdVoltage != s.KnownColdVoltage {
			s.KnownColdVoltage = 0
		}
		if checkedArray {
			s.ArrayVoltageShare = s.ColdVoltage / s.ControllerVoltage
		} else {
			s.ArrayVoltageShare = 0
		}
		s.SetVoltage = s.AbsorptionVoltage
		if s.SetVoltage != s.SetVoltage {
			s.SetVoltage = 0
		}
	}
}

// sourceDefaultEfficiency computes default_efficiency, counted_efficiency, open_part, on_time, on_end,
// tilt_to_equator, slope_west, paid_price, price_at_bank, bank_power, counted_power,
// sun_bank_power, timed_bank_power, needed_bank_power, peak_power.
func (m *Model) sourceDefaultEfficiency() {
	for i := range m.Source {
		s := &m.Source[i]
		var defaultEfficiency float64
		if s.Runs == textSun {
			defaultEfficiency = m.Site.ArrayEfficiency
		} else {
			defaultEfficiency = 1
		}
		countedEfficiency := s.Efficiency
		if countedEfficiency != countedEfficiency {
			countedEfficiency = defaultEfficiency
		}
		part := s.Share
		if part != part {
			part = m.Constant.OpenShare
		}
		if below(1, part) {
			s.OpenPart = 1
		} else {
			s.OpenPart = 0
		}
		onTime := s.HoursAvailable * m.Constant.DayLength
		s.OnEnd = s.StartHour + onTime
		s.TiltToEquator = math.Sin(s.Tilt) * math.Cos(s.Azimuth)
		s.SlopeWest = math.Sin(s.Tilt) * math.Sin(s.Azimuth)
		paidPrice := s.FuelEnergyPrice
		if paidPrice != paidPrice {
			paidPrice = s.EnergyPrice
		}
		s.PriceAtBank = paidPrice / countedEfficiency
		bankPower := s.Power * countedEfficiency
		s.BankPower = bankPower
		countedPower := bankPower
		if countedPower != countedPower {
			countedPower = 0
		}
		s.CountedPower = countedPower
		if s.Runs == textSun {
			s.SunBankPower = countedPower
		} else {
			s.SunBankPower = 0
		}
		if s.Runs == textTimed {
			s.TimedBankPower = countedPower
		} else {
			s.TimedBankPower = 0
		}
		if s.Runs == textNeeded {
			s.NeededBankPower = countedPower
		} else {
			s.NeededBankPower = 0
		}
		if s.Runs == textSun {
			s.PeakPower = s.Power
		} else {
			s.PeakPower = bankPower
		}
	}
}

// sourceOnToday computes on_today, on_yesterday, on_share, timed_hour, needed_hour, timed_hour_cost,
// needed_hour_cost.
func (m *Model) sourceOnToday() {
	for i := range m.Source {
		s := &m.Source[i]
		for hourAt := range 24 {
			onToday := max(0, min(float64(hourAt+1)*m.Constant.HourLength, s.OnEnd)-max((float64(hourAt+1)-1)*m.Constant.HourLength, s.StartHour))
			onYesterday := max(0, min(float64(hourAt+1)*m.Constant.HourLength, s.OnEnd-m.Constant.DayLength)-float64((float64(hourAt+1)-1)*m.Constant.HourLength))
			onShare := (onToday + onYesterday) / m.Constant.HourLength
			timedHour := s.TimedBankPower * onShare
			s.TimedHour[hourAt] = timedHour
			neededHour := s.NeededBankPower * onShare
			s.NeededHour[hourAt] = neededHour
			s.TimedHourCost[hourAt] = timedHour * s.PriceAtBank
			s.NeededHourCost[hourAt] = neededHour * s.PriceAtBank
		}
	}
}

// sourceGroundPart computes ground_part.
func (m *Model) sourceGroundPart() {
	for i := range m.Source {
		s := &m.Source[i]
		for monthAt := range 12 {
			s.GroundPart[monthAt] = m.Site.GroundReflectance[monthAt] * (1 - math.Cos(s.Tilt)) / 2
		}
	}
}

// sourceSkyPart computes sky_part.
func (m *Model) sourceSkyPart() {
	for i := range m.Source {
		s := &m.Source[i]
		for monthAt := range 12 {
			s.SkyPart[monthAt] = m.Site.DiffuseShare[monthAt] * (1 + math.Cos(s.Tilt)) / 2
		}
	}
}

// sourceSlopeFixed computes slope_fixed, slope_turning.
func (m *Model) sourceSlopeFixed() {
	for i := range m.Source {
		s := &m.Source[i]
		s.SlopeFixed = float64(math.Sin(m.Site.EquatorLatitude)*math.Cos(s.Tilt)) - float64(math.Cos(m.Site.EquatorLatitude)*s.TiltToEquator)
		s.SlopeTurning = float64(math.Cos(m.Site.EquatorLatitude)*math.Cos(s.Tilt)) + float64(math.Sin(m.Site.EquatorLatitude)*s.TiltToEquator)
	}
}

// sourceTurningSun computes turning_sun, slope_sun.
func (m *Model) sourceTurningSun() {
	for i := range m.Source {
		s := &m.Source[i]
		for monthAt := range 12 {
			for hourAt := range 24 {
				turningSun := float64(s.SlopeTurning*m.Site.PartCosine[monthAt][hourAt]) + float64(s.SlopeWest*m.Site.PartSine[monthAt][hourAt])
				s.SlopeSun[monthAt][hourAt] = max(float64(s.SlopeFixed*m.Site.DeclinationSine[monthAt])+float64(m.Site.DeclinationCosine[monthAt]*turningSun), 0)
			}
		}
	}
}

// sourceSlopeSum computes slope_sum.
func (m *Model) sourceSlopeSum() {
	for i := range m.Source {
		s := &m.Source[i]
		for monthAt := range 12 {
			sum := 0.0
			for hourAt := range 24 {
				sum += s.SlopeSun[monthAt][hourAt]
			}
			s.SlopeSum[monthAt] = sum
		}
	}
}

// sourceBeamRatio computes beam_ratio, beam_part, tilt_ratio, tilted_irradiation, computed_hours, peak_hours,
// running_hours, day_energy.
func (m *Model) sourceBeamRatio() {
	for i := range m.Source {
		s := &m.Source[i]
		for monthAt := range 12 {
			beamRatio := over(s.SlopeSum[monthAt], m.Site.LevelSum[monthAt])
			beamPart := (1 - m.Site.DiffuseShare[monthAt]) * beamRatio
			var tiltRatio float64
			if s.Tilt == 0 {
				tiltRatio = 1
			} else {
				tiltRatio = beamPart + s.SkyPart[monthAt] + s.GroundPart[monthAt]
			}
			tiltedIrradiation := m.Site.HorizontalIrradiation[monthAt] * tiltRatio
			computedHours := tiltedIrradiation / m.Constant.StandardIrradiance
			peakHours := s.SunHours[monthAt]
			if peakHours != peakHours {
				peakHours = computedHours
			}
			var runningHours float64
			if s.Runs == textSun {
				runningHours = peakHours
			} else {
				runningHours = s.HoursAvailable
			}
			s.DayEnergy[monthAt] = s.BankPower * runningHours * m.Constant.DayLength
		}
	}
}

// sourceSunHour computes sun_hour.
func (m *Model) sourceSunHour() {
	for i := range m.Source {
		s := &m.Source[i]
		for monthAt := range 12 {
			for hourAt := range 24 {
				if s.Runs == textSun {
					part := s.DayEnergy[monthAt]
					if part != part {
						part = 0
					}
					s.SunHour[monthAt][hourAt] = part * m.Site.SunShare[monthAt][hourAt] / m.Constant.HourLength
				} else {
					s.SunHour[monthAt][hourAt] = 0
				}
			}
		}
	}
}
