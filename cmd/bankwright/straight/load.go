// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

// loadSwitchedOn computes switched_on, window_end, labelled_power, unit_power, running_power, average_power,
// ac_average, dc_average, full_power, start_power, ac_alone, dc_alone, ac_start,
// dc_start, ac_start_alone, dc_start_alone.
func (m *Model) loadSwitchedOn() {
	for i := range m.Load {
		l := &m.Load[i]
		switchedOn := l.HoursPerDay * m.Constant.DayLength
		l.SwitchedOn = switchedOn
		l.WindowEnd = l.FirstHour + switchedOn
		labelledPower := over(l.YearlyEnergy, l.HoursPerDay)
		unitPower := l.Power
		part := labelledPower
		if part != part {
			part = unitPower * l.Duty
		}
		runningPower := l.Count * part
		averagePower := runningPower * l.HoursPerDay
		l.AveragePower = averagePower
		if l.Supply == textAc {
			l.AcAverage = averagePower
		} else {
			l.AcAverage = 0
		}
		if l.Supply == textAc {
			l.DcAverage = 0
		} else {
			l.DcAverage = averagePower / l.ConverterEfficiency
		}
		fullPower := unitPower * l.Count
		part2 := l.SurgePower
		if part2 != part2 {
			part2 = unitPower
		}
		startPower := max(part2-unitPower, 0)
		var acAlone float64
		if l.Supply == textAc {
			acAlone = fullPower
		} else {
			acAlone = 0
		}
		l.AcAlone = acAlone
		var dcAlone float64
		if l.Supply == textAc {
			dcAlone = 0
		} else {
			dcAlone = fullPower / l.ConverterEfficiency
		}
		l.DcAlone = dcAlone
		var acStart float64
		if l.Supply == textAc {
			acStart = startPower
		} else {
			acStart = 0
		}
		l.AcStart = acStart
		var dcStart float64
		if l.Supply == textAc {
			dcStart = 0
		} else {
			dcStart = startPower / l.ConverterEfficiency
		}
		l.DcStart = dcStart
		l.AcStartAlone = acAlone + acStart
		l.DcStartAlone = dcAlone + dcStart
	}
}

// loadWindowToday computes window_today, window_yesterday, window_share, placed_share.
func (m *Model) loadWindowToday() {
	for i := range m.Load {
		l := &m.Load[i]
		for hourAt := range 24 {
			windowToday := max(0, min(float64(hourAt+1)*m.Constant.HourLength, l.WindowEnd)-max((float64(hourAt+1)-1)*m.Constant.HourLength, l.FirstHour))
			windowYesterday := max(0, min(float64(hourAt+1)*m.Constant.HourLength, l.WindowEnd-m.Constant.DayLength)-float64((float64(hourAt+1)-1)*m.Constant.HourLength))
			var windowShare float64
			if l.SwitchedOn > 0 {
				windowShare = over(windowToday+windowYesterday, l.SwitchedOn)
			} else {
				windowShare = 0
			}
			l.PlacedShare[hourAt] = windowShare
			if l.PlacedShare[hourAt] != l.PlacedShare[hourAt] {
				l.PlacedShare[hourAt] = m.Constant.HourLength / m.Constant.DayLength
			}
		}
	}
}

// loadSumOfWeights computes sum_of_weights.
func (m *Model) loadSumOfWeights() {
	for i := range m.Load {
		l := &m.Load[i]
		sum := 0.0
		for hourAt := range 24 {
			sum += l.HourWeight[hourAt]
		}
		l.SumOfWeights = sum
	}
}

// loadWeightShare computes weight_share.
func (m *Model) loadWeightShare() {
	for i := range m.Load {
		l := &m.Load[i]
		for hourAt := range 24 {
			l.WeightShare[hourAt] = over(l.HourWeight[hourAt], l.SumOfWeights)
		}
	}
}

// loadHourShare computes hour_share, ac_hour, dc_hour.
func (m *Model) loadHourShare() {
	for i := range m.Load {
		l := &m.Load[i]
		for hourAt := range 24 {
			hourShare := l.WeightShare[hourAt]
			if hourShare != hourShare {
				hourShare = l.PlacedShare[hourAt]
			}
			l.AcHour[hourAt] = l.AcAverage * hourShare * m.Constant.DayLength / m.Constant.HourLength
			l.DcHour[hourAt] = l.DcAverage * hourShare * m.Constant.DayLength / m.Constant.HourLength
		}
	}
}

// loadAcTogether computes ac_together, dc_together, ac_start_together, dc_start_together, apparent_alone,
// apparent_together.
func (m *Model) loadAcTogether() {
	for i := range m.Load {
		l := &m.Load[i]
		var acTogether float64
		if l.Coincident {
			acTogether = l.AcAlone
		} else {
			acTogether = 0
		}
		l.AcTogether = acTogether
		if l.Coincident {
			l.DcTogether = l.DcAlone
		} else {
			l.DcTogether = 0
		}
		if l.Coincident {
			l.AcStartTogether = l.AcStart
		} else {
			l.AcStartTogether = 0
		}
		if l.Coincident {
			l.DcStartTogether = l.DcStart
		} else {
			l.DcStartTogether = 0
		}
		l.ApparentAlone = l.AcAlone / l.PowerFactor
		l.ApparentTogether = acTogether / l.PowerFactor
	}
}
