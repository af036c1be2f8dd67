// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

// alternativeDayCycleWear computes day_cycle_wear, health, aged_energy, aged_usable, covered, day_depth, curve_cycles,
// curve_wear, throughput_wear, daily_cycle_wear, cycle_wear, year_wear, wear_reached,
// replacements, wear, day_drawn_energy, replacement_cost, day_served,
// day_energy_cost, served, bank_age, failed_price, failure_cost, left_served,
// failure_unmet, unmet_energy, unmet_cost, drawn_energy, charge_energy, energy_cost,
// yearly_cost, present_cost.
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
			dayCycleWear := a.NewWear + float64((a.LateWear-a.NewWear)*a.Wear[yearAt])
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
			dayDrawnEnergy := (a.NewDrawn + float64((a.LateDrawn-a.NewDrawn)*a.Wear[yearAt])) * m.Constant.YearLength / m.Constant.DayLength
			replacementCost := replacements * (float64(a.PurchasePrice*m.Site.BatteryPriceIndex[yearAt]) + a.ReplacementLabour)
			dayServed := 1 - min(1, a.NewUnmet+float64((a.LateUnmet-a.NewUnmet)*a.Wear[yearAt]))
			dayEnergyCost := (a.NewCost + float64((a.LateCost-a.NewCost)*a.Wear[yearAt])) * m.Constant.YearLength / m.Constant.DayLength
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
			part := bankAge * m.Constant.YearLength
			part2 := battery.Warranty
			var failedPrice float64
			switch {
			case part != part:
				failedPrice = absent
			case below(part2, part):
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
			var part3 float64
			if a.DayRuns {
				part3 = dayEnergyCost
			} else {
				part3 = chargeEnergy * a.EnergyPrice
			}
			energyCost := part3 * m.Site.EnergyPriceIndex[yearAt]
			yearlyCost := a.UpkeepCost + replacementCost + energyCost + failureCost
			a.PresentCost[yearAt] = (yearlyCost + unmetCost) * m.Site.DiscountFactor[yearAt]
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
