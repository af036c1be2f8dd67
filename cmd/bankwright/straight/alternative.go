// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

// alternativeCount computes count, bank_voltage, bank_capacity, purchase_price, inverter_efficiency,
// idle_power, bank_resistance, strings_left, left_share, rate_limit, cool_rate_limit,
// laddered_strings, joint_resistance, inverter_price, sources_price, planned_hours.
func (m *Model) alternativeCount() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		battery := &m.Battery[a.Battery]
		inverter := &m.Inverter[a.Inverter]
		count := a.Series * a.Parallel
		a.Count = count
		a.BankVoltage = a.Series * battery.NominalVoltage
		bankCapacity := a.Parallel * battery.Capacity
		a.PurchasePrice = count * battery.Price
		a.InverterEfficiency = inverter.Efficiency
		a.IdlePower = inverter.IdlePower
		a.BankResistance = a.Series * battery.InternalResistance / a.Parallel
		stringsLeft := a.Parallel - 1
		a.StringsLeft = stringsLeft
		a.LeftShare = stringsLeft / a.Parallel
		a.RateLimit = m.Site.ChargeRate * bankCapacity
		a.CoolRateLimit = m.Site.CoolChargeRate * bankCapacity
		a.LadderedStrings = min(a.Parallel, m.Constant.MostStrings)
		a.JointResistance = m.Constant.BothPoles * a.Series * a.ConnectionResistance
		a.InverterPrice = inverter.Price
		sum := 0.0
		for j := range m.Source {
			if !a.Sources[j] {
				continue
			}
			each := &m.Source[j]
			sum += each.Price
		}
		a.SourcesPrice = sum
		a.PlannedHours = m.Site.WiringTime + float64(m.Site.BatteryWiringTime*(count-1))
	}
}

// alternativeTooCold computes too_cold, cool.
func (m *Model) alternativeTooCold() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		battery := &m.Battery[a.Battery]
		for monthAt := range 12 {
			tooCold := absent
			if !(m.Site.CellTemperature[monthAt] != m.Site.CellTemperature[monthAt]) {
				tooCold = truth(below(m.Site.CellTemperature[monthAt], battery.MinChargeTemperature))
			}
			a.TooCold[monthAt] = tooCold
			a.Cool[monthAt] = absent
			if !(tooCold != tooCold || !(tooCold != 0) && (m.Site.CellTemperature[monthAt] != m.Site.CellTemperature[monthAt])) {
				a.Cool[monthAt] = truth(!(tooCold != 0) && below(m.Site.CellTemperature[monthAt], m.Site.CoolLimit))
			}
		}
	}
}

// alternativeColdMonths computes cold_months, parallel_balancings, balancings, upkeep_hours, upkeep_cost,
// replacement_hours, replacement_labour, weak_resistance, fault_temperature,
// bms_power, link_share, loop_length, allowed_drop, yearly_failures, outage_time,
// main_parts.
func (m *Model) alternativeColdMonths() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		battery := &m.Battery[a.Battery]
		n := 0.0
		for monthAt := range 12 {
			one := absent
			if !(a.TooCold[monthAt] != a.TooCold[monthAt]) {
				one = truth(a.TooCold[monthAt] != 0)
			}
			n += one
		}
		a.ColdMonths = n
		var parallelBalancings float64
		if below(1, a.Parallel) {
			parallelBalancings = m.Constant.YearLength / m.Site.ParallelBalancingInterval
		} else {
			parallelBalancings = 0
		}
		var balancings float64
		if below(1, a.Series) {
			balancings = m.Constant.YearLength / m.Site.SeriesBalancingInterval
		} else {
			balancings = parallelBalancings
		}
		upkeepHours := float64(balancings*a.Count*m.Site.BalancingTime) + m.Site.InspectionTime
		a.UpkeepCost = upkeepHours * m.Price.Labour
		replacementHours := a.Count * m.Site.BatteryWiringTime
		a.ReplacementLabour = replacementHours * m.Price.Labour
		a.WeakResistance = a.Series * battery.InternalResistance / max(a.Parallel-1, 1)
		if m.Site.CableInsulation == textPvc {
			a.FaultTemperature = m.Constant.PvcLimit
		} else {
			a.FaultTemperature = m.Constant.XlpeLimit
		}
		a.BmsPower = a.Count * battery.IdlePower
		if below(1, a.Parallel) {
			a.LinkShare = 1
		} else {
			a.LinkShare = 0
		}
		part := a.RunLength
		if part != part {
			part = 0
		}
		a.LoopLength = part * m.Constant.BothPoles
		a.AllowedDrop = m.Site.VoltageDropLimit * a.BankVoltage
		yearlyFailures := a.Count * m.Site.FailureRate * m.Constant.YearLength
		a.YearlyFailures = yearlyFailures
		a.OutageTime = yearlyFailures * m.Site.RepairTime
		if below(1, a.Series) {
			a.MainParts = m.Price.WiringParts24v
		} else {
			a.MainParts = m.Price.WiringParts12v
		}
	}
}

// alternativeStringLead computes string_lead, string_resistance, solved.
func (m *Model) alternativeStringLead() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		battery := &m.Battery[a.Battery]
		for stringAt := range inUse(a.LadderedStrings, 16) {
			var stringLead float64
			switch {
			case a.TakeOff < 0:
				stringLead = absent
			case a.TakeOff == textBusBar:
				stringLead = a.StringLeadResistance[stringAt]
			default:
				stringLead = 0
			}
			stringResistance := float64(a.Series*battery.InternalResistance*a.StringResistanceRatio[stringAt]) + a.JointResistance + stringLead
			a.StringResistance[stringAt] = stringResistance
			a.Solved[stringAt] = absent
			if !(stringResistance != stringResistance) {
				a.Solved[stringAt] = truth(stringResistance > 0)
			}
		}
	}
}

// alternativeAgeHealth computes age_health.
func (m *Model) alternativeAgeHealth() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		battery := &m.Battery[a.Battery]
		for ageAt := range 2 {
			if float64(ageAt+1) == 1 {
				a.AgeHealth[ageAt] = 1
			} else {
				a.AgeHealth[ageAt] = battery.EndOfLife
			}
		}
	}
}

// alternativeSolvedStrings computes solved_strings, strings_parts, link_parts, parts, wiring_price, control,
// controller_price, wiring_cost, equipment_cost, counted_wiring_resistance,
// series_limit, parallel_limit, cold_charging, cold_months, unlike_in_series,
// ladder_size.
func (m *Model) alternativeSolvedStrings() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		battery := &m.Battery[a.Battery]
		n := 0.0
		for stringAt := range inUse(a.LadderedStrings, 16) {
			one := absent
			if !(a.Solved[stringAt] != a.Solved[stringAt]) {
				one = truth(a.Solved[stringAt] != 0)
			}
			n += one
		}
		solvedStrings := n
		var stringsParts float64
		if below(1, a.Parallel) {
			stringsParts = m.Price.BusBars + float64(m.Price.StringParts*a.Parallel)
		} else {
			stringsParts = 0
		}
		linkParts := m.Price.SeriesLink * (a.Series - 1) * a.Parallel
		parts := a.MainParts + stringsParts + linkParts
		wiringPrice := parts
		a.WiringPrice = wiringPrice
		var control float64
		if below(1, a.Series) {
			control = m.Price.ChargeControl24v
		} else {
			control = m.Price.ChargeControl12v
		}
		controllerPrice := control
		a.ControllerPrice = controllerPrice
		wiringCost := wiringPrice
		a.EquipmentCost = a.InverterPrice + controllerPrice + a.SourcesPrice + wiringCost
		a.CountedWiringResistance = a.WiringResistance
		a.CheckSeriesLimit = atMost(a.Series, battery.MaxSeries)
		a.CheckParallelLimit = atMost(a.Parallel, battery.MaxParallel)
		a.CheckColdCharging = battery.LowTemperatureCutoff || atMost(battery.MinChargeTemperature, m.Site.ColdestCellTemperature)
		a.CheckColdMonths = absent
		if !(!battery.LowTemperatureCutoff && (a.ColdMonths != a.ColdMonths)) {
			a.CheckColdMonths = truth(battery.LowTemperatureCutoff || a.ColdMonths == 0)
		}
		a.CheckUnlikeInSeries = same(a.Series, 1) || !a.UnlikeInSeries
		a.CheckLadderSize = absent
		if !(solvedStrings != solvedStrings) {
			a.CheckLadderSize = truth(atMost(a.Parallel, solvedStrings))
		}
	}
}

// alternativeBusBars computes bus_bars.
func (m *Model) alternativeBusBars() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		word := a.TakeOff
		if word < 0 {
			word = textBusBar
		}
		a.BusBars = word == textBusBar
	}
}

// alternativeStringPath computes string_path, link_way, cable_count.
func (m *Model) alternativeStringPath() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		var part float64
		if below(1, a.Parallel) && a.BusBars {
			part = m.Constant.BothPoles * a.StringLength
		} else {
			part = 0
		}
		a.StringPath = float64((a.Series-1)*a.LinkLength) + part
		if below(1, a.Parallel) && !a.BusBars {
			a.LinkWay = over(a.Parallel*(a.Parallel+a.StringsLeft), m.Constant.SquareSum*a.StringsLeft)
		} else {
			a.LinkWay = 0
		}
		if below(1, a.Parallel) {
			if a.BusBars {
				a.CableCount = m.Constant.StringSort
			} else {
				a.CableCount = m.Constant.LinkSort
			}
		} else {
			if below(1, a.Series) {
				a.CableCount = m.Constant.StringSort
			} else {
				a.CableCount = m.Constant.RunSort
			}
		}
	}
}

// alternativeIsMainRun computes is_main_run, is_string_cable, cable_loop.
func (m *Model) alternativeIsMainRun() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for cableAt := range inUse(a.CableCount, 3) {
			isMainRun := same(float64(cableAt+1), m.Constant.RunSort)
			a.IsMainRun[cableAt] = isMainRun
			a.IsStringCable[cableAt] = same(float64(cableAt+1), m.Constant.StringSort)
			if isMainRun {
				a.CableLoop[cableAt] = a.LoopLength
			} else {
				a.CableLoop[cableAt] = 0
			}
		}
	}
}

// alternativeFullVoltage computes full_voltage, cutoff_voltage, lowest_voltage, short_circuit_current,
// string_fault_current, voltage_when_full, voltage_at_cutoff, disconnect_voltage.
func (m *Model) alternativeFullVoltage() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		battery := &m.Battery[a.Battery]
		inverter := &m.Inverter[a.Inverter]
		fullVoltage := a.Series * battery.ChargedVoltage
		a.FullVoltage = fullVoltage
		cutoffVoltage := a.Series * battery.EmptyVoltage
		a.CutoffVoltage = cutoffVoltage
		part := inverter.MinVoltage
		a.LowestVoltage = max(cutoffVoltage, part)
		a.ShortCircuitCurrent = a.Parallel * battery.ShortCircuitCurrent
		a.StringFaultCurrent = (a.Parallel - 1) * battery.ShortCircuitCurrent
		a.CheckVoltageWhenFull = atMost(fullVoltage, inverter.MaxVoltage)
		a.CheckVoltageAtCutoff = atMost(inverter.MinVoltage, cutoffVoltage)
		a.CheckDisconnectVoltage = absent
		if !(a.DisconnectVoltage != a.DisconnectVoltage) {
			a.CheckDisconnectVoltage = truth(atMost(fullVoltage, a.DisconnectVoltage))
		}
	}
}

// alternativePowerCurrent computes power_current, controller_cap, source_current, controller_power, source_power,
// array_power, timed_power, needed_power.
func (m *Model) alternativePowerCurrent() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for sourceAt := range 1 {
			powerCurrent := m.Source[sourceAt].PeakPower / a.BankVoltage
			controllerCap := m.Source[sourceAt].ControllerCurrent
			if controllerCap != controllerCap {
				controllerCap = powerCurrent
			}
			if a.Sources[sourceAt] {
				a.SourceCurrent[sourceAt] = min(powerCurrent, controllerCap)
			} else {
				a.SourceCurrent[sourceAt] = 0
			}
			controllerPower := controllerCap * a.BankVoltage
			var sourcePower float64
			if a.Sources[sourceAt] {
				sourcePower = min(m.Source[sourceAt].BankPower, controllerPower)
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

// alternativeDrawAlone computes draw_alone, surge_alone.
func (m *Model) alternativeDrawAlone() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for loadAt := range 5 {
			a.DrawAlone[loadAt] = m.Load[loadAt].AcAlone/a.InverterEfficiency + a.IdlePower + m.Load[loadAt].DcAlone
			a.SurgeAlone[loadAt] = min(m.Load[loadAt].AcStartAlone, a.PassedSurge)/a.InverterEfficiency + a.IdlePower + m.Load[loadAt].DcStartAlone
		}
	}
}

// alternativeCheckGivenArea computes given_area.
func (m *Model) alternativeCheckGivenArea() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		a.CheckGivenArea = absent
		if !(a.RunArea != a.RunArea || m.Site.SmallestArea != m.Site.SmallestArea) {
			a.CheckGivenArea = truth(atMost(m.Site.SmallestArea, a.RunArea))
		}
	}
}
