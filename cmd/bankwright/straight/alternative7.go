// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

import "math"

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

// alternativeNewWear computes new_wear, late_wear, new_drawn, late_drawn, wear_growth, drawn_growth, new_unmet,
// late_unmet, new_cost, late_cost, unmet_growth, cost_growth.
func (m *Model) alternativeNewWear() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		var newWear float64
		if a.DayRuns {
			newWear = a.AgeWear[0]
		} else {
			newWear = absent
		}
		a.NewWear = newWear
		var lateWear float64
		if a.DayRuns {
			lateWear = a.AgeWear[1]
		} else {
			lateWear = absent
		}
		var newDrawn float64
		if a.DayRuns {
			newDrawn = a.AgeDrawn[0]
		} else {
			newDrawn = absent
		}
		a.NewDrawn = newDrawn
		var lateDrawn float64
		if a.DayRuns {
			lateDrawn = a.AgeDrawn[1]
		} else {
			lateDrawn = absent
		}
		a.WearGrowth = lateWear - newWear
		a.DrawnGrowth = lateDrawn - newDrawn
		var newUnmet float64
		if a.DayRuns {
			newUnmet = a.AgeUnmet[0]
		} else {
			newUnmet = absent
		}
		a.NewUnmet = newUnmet
		var lateUnmet float64
		if a.DayRuns {
			lateUnmet = a.AgeUnmet[1]
		} else {
			lateUnmet = absent
		}
		var newCost float64
		if a.DayRuns {
			newCost = a.AgeCost[0]
		} else {
			newCost = absent
		}
		a.NewCost = newCost
		var lateCost float64
		if a.DayRuns {
			lateCost = a.AgeCost[1]
		} else {
			lateCost = absent
		}
		a.UnmetGrowth = lateUnmet - newUnmet
		a.CostGrowth = lateCost - newCost
	}
}

// alternativeDayCycleWear computes day_cycle_wear, health, aged_energy, aged_usable, covered, day_depth, curve_cycles,
// curve_wear, throughput_wear, daily_cycle_wear, cycle_wear, year_wear, wear_reached,
// replacements, wear, worn_drawn, day_drawn_energy, replacement_cost, worn_unmet,
// day_served, worn_cost, day_energy_cost, served, bank_age, bank_time,
// out_of_warranty, failed_price, failure_cost, left_served, failure_unmet,
// unmet_energy, unmet_cost, drawn_energy, charge_energy, year_energy_cost,
// energy_cost, yearly_cost, present_cost.
func (m *Model) alternativeDayCycleWear() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		battery := &m.Battery[a.Battery]
		replacements := 0.0
		a.Wear[0] = 0
		bankAge := 0.0
		for yearAt := range inUse(m.Site.StudyYears, 40) {
			replacementsBefore := replacements
			bankAgeBefore := bankAge
			dayCycleWear := a.NewWear + float64(a.WearGrowth*a.Wear[yearAt])
			health := 1 - float64((1-battery.EndOfLife)*a.Wear[yearAt])
			agedEnergy := a.BankEnergy * health
			agedUsable := a.UsableEnergy * health
			covered := min(1, over(agedUsable, a.DailyNeed))
			dayDepth := over(covered*a.DailyNeed, agedEnergy)
			curveCycles := interpolateLog(battery.CycleLifeDepth, battery.CycleLifeCycles, dayDepth)
			curveWear := over(m.Constant.YearLength/m.Constant.DayLength, curveCycles)
			throughputWear := over(m.Constant.YearLength/m.Constant.DayLength*dayDepth, battery.LifetimeCycles)
			var dailyCycleWear float64
			if battery.SinglePoint {
				dailyCycleWear = throughputWear
			} else {
				dailyCycleWear = curveWear
			}
			var cycleWear float64
			if a.DayRuns {
				cycleWear = dayCycleWear
			} else {
				cycleWear = dailyCycleWear
			}
			var yearWear float64
			if m.Site.WearCounting == textSum {
				yearWear = cycleWear + battery.CalendarWear
			} else {
				yearWear = max(cycleWear, battery.CalendarWear)
			}
			wearReached := a.Wear[yearAt] + yearWear
			if below(float64(yearAt+1), m.Site.StudyYears) {
				replacements = floor(wearReached)
			} else {
				replacements = 0
			}
			a.Wear[yearAt+1] = wearReached - replacements
			wornDrawn := a.NewDrawn + float64(a.DrawnGrowth*a.Wear[yearAt])
			dayDrawnEnergy := wornDrawn * m.Constant.YearLength / m.Constant.DayLength
			replacementCost := replacements * (float64(a.PurchasePrice*m.Site.BatteryPriceIndex[yearAt]) + a.ReplacementLabour)
			wornUnmet := a.NewUnmet + float64(a.UnmetGrowth*a.Wear[yearAt])
			dayServed := 1 - min(1, wornUnmet)
			wornCost := a.NewCost + float64(a.CostGrowth*a.Wear[yearAt])
			dayEnergyCost := wornCost * m.Constant.YearLength / m.Constant.DayLength
			var served float64
			if a.DayRuns {
				served = dayServed
			} else {
				served = covered
			}
			switch {
			case replacementsBefore != replacementsBefore:
				bankAge = absent
			case replacementsBefore > 0:
				bankAge = 1
			default:
				bankAge = bankAgeBefore + 1
			}
			bankTime := bankAge * m.Constant.YearLength
			part := battery.Warranty
			outOfWarranty := absent
			if !(bankTime != bankTime) {
				outOfWarranty = truth(below(part, bankTime))
			}
			var failedPrice float64
			switch {
			case outOfWarranty != outOfWarranty:
				failedPrice = absent
			case outOfWarranty != 0:
				failedPrice = battery.Price * m.Site.BatteryPriceIndex[yearAt]
			default:
				failedPrice = 0
			}
			failureCost := a.YearlyFailures * failedPrice
			var leftServed float64
			switch {
			case a.RunsOn != a.RunsOn:
				leftServed = absent
			case a.RunsOn != 0:
				leftServed = min(1, over(agedUsable*a.LeftShare, a.DailyNeed))
			default:
				leftServed = 0
			}
			failureUnmet := a.OutageDemand * max(served-leftServed, 0)
			unmetEnergy := float64(m.Site.YearlyDemand*(1-served)) + failureUnmet
			a.UnmetEnergy[yearAt] = unmetEnergy
			unmetCost := unmetEnergy * m.Site.UnmetPrice
			var drawnEnergy float64
			if a.DayRuns {
				drawnEnergy = dayDrawnEnergy
			} else {
				drawnEnergy = served * a.NeedPower * m.Constant.YearLength
			}
			chargeEnergy := drawnEnergy / battery.RoundTripEfficiency
			var yearEnergyCost float64
			if a.DayRuns {
				yearEnergyCost = dayEnergyCost
			} else {
				yearEnergyCost = chargeEnergy * a.EnergyPrice
			}
			energyCost := yearEnergyCost * m.Site.EnergyPriceIndex[yearAt]
			yearlyCost := a.UpkeepCost + replacementCost + energyCost + failureCost
			a.PresentCost[yearAt] = (yearlyCost + unmetCost) * m.Site.DiscountFactor[yearAt]
		}
	}
}

// alternativeFinalWear computes final_wear, residual_value, present_residual, unmet_share, present_costs,
// lifetime_cost, lifetime_cost_per_energy, unmet_energy.
func (m *Model) alternativeFinalWear() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		steps := inUse(m.Site.StudyYears, 40)
		end := absent
		if steps > 0 {
			end = a.Wear[steps-1+1]
		}
		finalWear := end
		residualValue := a.PurchasePrice * m.Site.FinalBatteryPriceIndex * (1 - finalWear) * m.Site.ResidualShare
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
