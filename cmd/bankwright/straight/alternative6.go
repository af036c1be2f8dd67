// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

// alternativeSunOffer computes sun_offer, direct_power, free_offer, storable, free_flow.
func (m *Model) alternativeSunOffer() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		battery := &m.Battery[a.Battery]
		for monthAt := range 12 {
			for hourAt := range 24 {
				sum := 0.0
				for j := range m.Source {
					if !a.Sources[j] {
						continue
					}
					each := &m.Source[j]
					sum += each.SunHour[monthAt][hourAt]
				}
				part := a.SunKept
				if part != part {
					part = 1
				}
				sunOffer := sum * part
				a.SunOffer[monthAt][hourAt] = sunOffer
				directPower := min(sunOffer+a.TimedOffer[hourAt], a.HourNeed[hourAt])
				a.DirectPower[monthAt][hourAt] = directPower
				freeOffer := sunOffer + a.TimedOffer[hourAt]
				a.FreeOffer[monthAt][hourAt] = freeOffer
				storable := min(freeOffer-directPower, a.ChargePowerLimit[monthAt])
				a.Storable[monthAt][hourAt] = storable
				switch {
				case freeOffer != freeOffer || a.HourNeed[hourAt] != a.HourNeed[hourAt]:
					a.FreeFlow[monthAt][hourAt] = absent
				case below(a.HourNeed[hourAt], freeOffer):
					a.FreeFlow[monthAt][hourAt] = storable * battery.RoundTripEfficiency
				default:
					a.FreeFlow[monthAt][hourAt] = freeOffer - a.HourNeed[hourAt]
				}
			}
		}
	}
}

// alternativeBankEnergy computes bank_energy, usable_energy, usable_at_end, autonomy.
func (m *Model) alternativeBankEnergy() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		battery := &m.Battery[a.Battery]
		bankEnergy := a.Count * battery.Energy
		a.BankEnergy = bankEnergy
		usableEnergy := bankEnergy * m.Site.DepthOfDischarge * m.Site.TemperatureFactor
		a.UsableEnergy = usableEnergy
		a.UsableAtEnd = usableEnergy * battery.EndOfLife
		part := a.NeedPower * m.Site.Autonomy
		a.CheckAutonomy = absent
		if !(part != part) {
			a.CheckAutonomy = truth(atMost(part, usableEnergy))
		}
	}
}

// alternativeDayCapacity computes day_capacity.
func (m *Model) alternativeDayCapacity() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for ageAt := range 2 {
			if float64(ageAt+1) == 1 {
				a.DayCapacity[ageAt] = a.UsableEnergy
			} else {
				a.DayCapacity[ageAt] = a.UsableAtEnd
			}
		}
	}
}

// alternativeFreeFirstPass computes free_first_pass.
func (m *Model) alternativeFreeFirstPass() {
	for i := range m.Alternative {
		a := &m.Alternative[i]
		for monthAt := range 12 {
			sum := 0.0
			for hourAt := range 24 {
				sum += a.FreeFlow[monthAt][hourAt]
			}
			switch {
			case sum != sum:
				a.FreeFirstPass[monthAt][0] = absent
			case sum >= 0:
				a.FreeFirstPass[monthAt][0] = a.UsableAtEnd
			default:
				a.FreeFirstPass[monthAt][0] = 0
			}
			for hourAt := range 24 {
				a.FreeFirstPass[monthAt][hourAt+1] = min(max(a.FreeFirstPass[monthAt][hourAt]+float64(a.FreeFlow[monthAt][hourAt]*m.Constant.HourLength), 0), a.UsableAtEnd)
			}
		}
	}
}

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

// alternativeDayFilling computes day_filling, day_emptying, day_gain, falls_at_midnight, discharges, other_cycles.
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
			end := a.Falling[monthAt][1]
			end2 := a.Falling[monthAt][24]
			fallsAtMidnight := absent
			if !(end != end || (end != 0) && (end2 != end2)) {
				fallsAtMidnight = truth(end != 0 && !(end2 != 0))
			}
			n := 0.0
			for hourAt3 := range 24 {
				one := absent
				if !(a.TurnDown[monthAt][hourAt3] != a.TurnDown[monthAt][hourAt3]) {
					one = truth(a.TurnDown[monthAt][hourAt3] != 0)
				}
				n += one
			}
			var part float64
			switch {
			case fallsAtMidnight != fallsAtMidnight:
				part = absent
			case fallsAtMidnight != 0:
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
