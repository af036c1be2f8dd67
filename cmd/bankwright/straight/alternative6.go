// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

import "math"

// alternativeFreeCharge computes free_charge, free_lack, charging_room, reserve_useful.
func (m *Model) alternativeFreeCharge() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for monthAt := range 12 {
			freeCharge := a.FreeFirstPass[monthAt][24]
			for hourAt := range 24 {
				freeChargeBefore := freeCharge
				freeCharge = min(max(freeChargeBefore+float64(a.FreeFlow[monthAt][hourAt]*m.Constant.HourLength), 0), a.UsableAtEnd)
				a.FreeLack[monthAt][hourAt] = max(0, -(freeChargeBefore + float64(a.FreeFlow[monthAt][hourAt]*m.Constant.HourLength)))
				var chargingRoom float64
				switch {
				case freeChargeBefore != freeChargeBefore:
					chargingRoom = absent
				case atMost(a.UsableAtEnd, freeChargeBefore):
					chargingRoom = 0
				default:
					chargingRoom = a.ChargePowerLimit[monthAt] - a.Storable[monthAt][hourAt]
				}
				a.ReserveUseful[monthAt][hourAt] = min(a.ReserveOffer[hourAt], a.HourNeed[hourAt]-a.DirectPower[monthAt][hourAt]+chargingRoom)
			}
		}
	}
}

// alternativeShortfall computes shortfall, day_useful, reserve_share.
func (m *Model) alternativeShortfall() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		battery := &m.Battery[a.Battery]
		for monthAt := range 12 {
			sum := 0.0
			for hourAt := range 24 {
				sum += a.FreeLack[monthAt][hourAt]
			}
			shortfall := sum / battery.RoundTripEfficiency
			sum2 := 0.0
			for hourAt2 := range 24 {
				sum2 += a.ReserveUseful[monthAt][hourAt2]
			}
			dayUseful := sum2 * m.Constant.HourLength
			switch {
			case dayUseful != dayUseful:
				a.ReserveShare[monthAt] = absent
			case dayUseful > 0:
				a.ReserveShare[monthAt] = min(1, over(shortfall, dayUseful))
			default:
				a.ReserveShare[monthAt] = 0
			}
		}
	}
}

// alternativeOffered computes offered, net_power, charge_flow, filling, emptying, falling, turn_down,
// spare_reserve.
func (m *Model) alternativeOffered() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		battery := &m.Battery[a.Battery]
		for monthAt := range 12 {
			a.Falling[monthAt][0] = truth(true)
			for hourAt := range 24 {
				a.Offered[monthAt][hourAt] = a.FreeOffer[monthAt][hourAt] + float64(a.ReserveShare[monthAt]*a.ReserveOffer[hourAt])
				netPower := a.FreeOffer[monthAt][hourAt] + float64(a.ReserveShare[monthAt]*a.ReserveOffer[hourAt]) - a.HourNeed[hourAt]
				var chargeFlow float64
				switch {
				case netPower != netPower:
					chargeFlow = absent
				case netPower > 0:
					chargeFlow = min(netPower, a.ChargePowerLimit[monthAt]) * battery.RoundTripEfficiency
				default:
					chargeFlow = netPower
				}
				a.ChargeFlow[monthAt][hourAt] = chargeFlow
				a.Filling[monthAt][hourAt] = max(0, chargeFlow)
				a.Emptying[monthAt][hourAt] = max(0, -chargeFlow)
				falling := absent
				if !(chargeFlow != chargeFlow) {
					falling = truth(chargeFlow < 0)
				}
				a.Falling[monthAt][hourAt+1] = falling
				a.TurnDown[monthAt][hourAt] = absent
				if !(falling != falling || (falling != 0) && (a.Falling[monthAt][hourAt] != a.Falling[monthAt][hourAt])) {
					a.TurnDown[monthAt][hourAt] = truth(falling != 0 && !(a.Falling[monthAt][hourAt] != 0))
				}
				a.SpareReserve[monthAt][hourAt] = (1 - a.ReserveShare[monthAt]) * a.ReserveOffer[hourAt] * m.Constant.HourLength
			}
		}
	}
}

// alternativeDayFilling computes day_filling, day_emptying, day_gain, discharges, other_cycles.
func (m *Model) alternativeDayFilling() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for monthAt := range 12 {
			sum := 0.0
			for hourAt := range 24 {
				sum += a.Filling[monthAt][hourAt]
			}
			dayFilling := sum * m.Constant.HourLength
			sum2 := 0.0
			for hourAt2 := range 24 {
				sum2 += a.Emptying[monthAt][hourAt2]
			}
			dayEmptying := sum2 * m.Constant.HourLength
			switch {
			case dayFilling != dayFilling || dayEmptying != dayEmptying:
				a.DayGain[monthAt] = absent
			case same(dayFilling, dayEmptying):
				a.DayGain[monthAt] = 0
			default:
				a.DayGain[monthAt] = dayFilling - dayEmptying
			}
			n := 0.0
			for hourAt3 := range 24 {
				one := absent
				if !(a.TurnDown[monthAt][hourAt3] != a.TurnDown[monthAt][hourAt3]) {
					one = truth(a.TurnDown[monthAt][hourAt3] != 0)
				}
				n += one
			}
			end := a.Falling[monthAt][1]
			end2 := a.Falling[monthAt][24]
			var part float64
			switch {
			case end != end || (end != 0) && (end2 != end2):
				part = absent
			case end != 0 && !(end2 != 0):
				part = 1
			default:
				part = 0
			}
			discharges := n + part
			a.OtherCycles[monthAt] = max(discharges-1, 0)
		}
	}
}

// alternativeFirstPass computes first_pass.
func (m *Model) alternativeFirstPass() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for ageAt := range 2 {
			for monthAt := range 12 {
				switch {
				case a.DayGain[monthAt] != a.DayGain[monthAt]:
					a.FirstPass[ageAt][monthAt][0] = absent
				case a.DayGain[monthAt] >= 0:
					a.FirstPass[ageAt][monthAt][0] = a.DayCapacity[ageAt]
				default:
					a.FirstPass[ageAt][monthAt][0] = 0
				}
				for hourAt := range 24 {
					a.FirstPass[ageAt][monthAt][hourAt+1] = min(max(a.FirstPass[ageAt][monthAt][hourAt]+float64(a.ChargeFlow[monthAt][hourAt]*m.Constant.HourLength), 0), a.DayCapacity[ageAt])
				}
			}
		}
	}
}

// alternativeCharge computes charge, accepted, timed_taken, reserve_running, drawn, shortage, hour_unmet,
// reserve_taken, hour_cost.
func (m *Model) alternativeCharge() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		battery := &m.Battery[a.Battery]
		for ageAt := range 2 {
			for monthAt := range 12 {
				a.Charge[ageAt][monthAt][0] = a.FirstPass[ageAt][monthAt][24]
				for hourAt := range 24 {
					charge := min(max(a.Charge[ageAt][monthAt][hourAt]+float64(a.ChargeFlow[monthAt][hourAt]*m.Constant.HourLength), 0), a.DayCapacity[ageAt])
					a.Charge[ageAt][monthAt][hourAt+1] = charge
					accepted := min(a.Offered[monthAt][hourAt], a.HourNeed[hourAt]) + max(0, charge-a.Charge[ageAt][monthAt][hourAt])/m.Constant.HourLength/battery.RoundTripEfficiency
					timedTaken := min(max(accepted-a.SunOffer[monthAt][hourAt], 0), a.TimedOffer[hourAt])
					reserveRunning := min(max(accepted-a.FreeOffer[monthAt][hourAt], 0), a.ReserveShare[monthAt]*a.ReserveOffer[hourAt])
					a.Drawn[ageAt][monthAt][hourAt] = max(0, a.Charge[ageAt][monthAt][hourAt]-charge)
					shortage := max(0, -(a.Charge[ageAt][monthAt][hourAt] + float64(a.ChargeFlow[monthAt][hourAt]*m.Constant.HourLength)))
					hourUnmet := max(0, shortage-a.SpareReserve[monthAt][hourAt])
					a.HourUnmet[ageAt][monthAt][hourAt] = hourUnmet
					reserveTaken := reserveRunning + (shortage-hourUnmet)/m.Constant.HourLength
					a.HourCost[ageAt][monthAt][hourAt] = float64(timedTaken*a.TimedPrice[hourAt]) + float64(reserveTaken*a.ReservePrice[hourAt])
				}
			}
		}
	}
}

// alternativeDayDrawn computes day_drawn, swing, throughput, other_depth, curve_swing_wear, swing_wear,
// curve_other_wear, other_wear, day_wear, day_cost, day_unmet.
func (m *Model) alternativeDayDrawn() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		battery := &m.Battery[a.Battery]
		for ageAt := range 2 {
			for monthAt := range 12 {
				sum := 0.0
				for hourAt := range 24 {
					sum += a.Drawn[ageAt][monthAt][hourAt]
				}
				dayDrawn := sum
				a.DayDrawn[ageAt][monthAt] = dayDrawn
				high := math.Inf(-1)
				for hourAt2 := range 24 {
					high = max(high, a.Charge[ageAt][monthAt][hourAt2+1])
				}
				low2 := math.Inf(1)
				for hourAt3 := range 24 {
					low2 = min(low2, a.Charge[ageAt][monthAt][hourAt3+1])
				}
				swing := over(high-low2, a.BankEnergy*a.AgeHealth[ageAt])
				throughput := over(dayDrawn, a.BankEnergy*a.AgeHealth[ageAt])
				var otherDepth float64
				switch {
				case a.OtherCycles[monthAt] != a.OtherCycles[monthAt]:
					otherDepth = absent
				case a.OtherCycles[monthAt] > 0:
					otherDepth = over(max(throughput-swing, 0), a.OtherCycles[monthAt])
				default:
					otherDepth = 0
				}
				var curveSwingWear float64
				switch {
				case swing != swing:
					curveSwingWear = absent
				case swing > 0:
					curveSwingWear = over(1, interpolateLog(battery.CycleLifeDepth, battery.CycleLifeCycles, swing))
				default:
					curveSwingWear = 0
				}
				var swingWear float64
				if battery.SinglePoint {
					swingWear = over(swing, battery.LifetimeCycles)
				} else {
					swingWear = curveSwingWear
				}
				var curveOtherWear float64
				switch {
				case otherDepth != otherDepth:
					curveOtherWear = absent
				case otherDepth > 0:
					curveOtherWear = over(a.OtherCycles[monthAt], interpolateLog(battery.CycleLifeDepth, battery.CycleLifeCycles, otherDepth))
				default:
					curveOtherWear = 0
				}
				var otherWear float64
				if battery.SinglePoint {
					otherWear = over(max(throughput-swing, 0), battery.LifetimeCycles)
				} else {
					otherWear = curveOtherWear
				}
				a.DayWear[ageAt][monthAt] = swingWear + otherWear
				sum2 := 0.0
				for hourAt4 := range 24 {
					sum2 += a.HourCost[ageAt][monthAt][hourAt4]
				}
				a.DayCost[ageAt][monthAt] = sum2 * m.Constant.HourLength
				sum3 := 0.0
				for hourAt5 := range 24 {
					sum3 += a.HourUnmet[ageAt][monthAt][hourAt5]
				}
				a.DayUnmet[ageAt][monthAt] = sum3
			}
		}
	}
}

// alternativeAgeWear computes age_wear, age_drawn, age_unmet, age_cost.
func (m *Model) alternativeAgeWear() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for ageAt := range 2 {
			sum := 0.0
			n := 0
			for monthAt := range 12 {
				sum += a.DayWear[ageAt][monthAt]
				n++
			}
			a.AgeWear[ageAt] = over(sum, float64(n)) * m.Constant.YearLength / m.Constant.DayLength
			sum2 := 0.0
			n2 := 0
			for monthAt2 := range 12 {
				sum2 += a.DayDrawn[ageAt][monthAt2]
				n2++
			}
			a.AgeDrawn[ageAt] = over(sum2, float64(n2))
			sum3 := 0.0
			n3 := 0
			for monthAt3 := range 12 {
				sum3 += a.DayUnmet[ageAt][monthAt3]
				n3++
			}
			a.AgeUnmet[ageAt] = over(over(sum3, float64(n3)), a.DayNeed)
			sum4 := 0.0
			n4 := 0
			for monthAt4 := range 12 {
				sum4 += a.DayCost[ageAt][monthAt4]
				n4++
			}
			a.AgeCost[ageAt] = over(sum4, float64(n4))
		}
	}
}

// alternativeResidualValue computes residual_value, present_residual, unmet_share, present_costs, lifetime_cost,
// lifetime_cost_per_energy, unmet_energy.
func (m *Model) alternativeResidualValue() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		steps := inUse(m.Site.StudyYears, 40)
		end := absent
		if steps > 0 {
			end = a.Wear[steps-1+1]
		}
		residualValue := a.PurchasePrice * m.Site.FinalBatteryPriceIndex * (1 - end) * m.Site.ResidualShare
		presentResidual := residualValue * m.Site.FinalDiscountFactor
		sum := 0.0
		for yearAt := range inUse(m.Site.StudyYears, 40) {
			sum += a.UnmetEnergy[yearAt]
		}
		unmetShare := over(sum, m.Site.YearlyDemand*m.Site.StudyYears)
		sum2 := 0.0
		for yearAt2 := range inUse(m.Site.StudyYears, 40) {
			sum2 += a.PresentCost[yearAt2]
		}
		presentCosts := sum2
		lifetimeCost := a.FirstCost + presentCosts - presentResidual
		a.LifetimeCostPerEnergy = over(lifetimeCost, m.Site.TotalPresentDemand)
		a.CheckUnmetEnergy = absent
		if !(unmetShare != unmetShare) {
			a.CheckUnmetEnergy = truth(atMost(unmetShare, m.Site.UnmetLimit))
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
