// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

import "math"

// siteWiringComputed computes wiring_computed, table_rows, conductor_count, equator_latitude.
func (m *Model) siteWiringComputed() {
	s := &m.Site
	wiringComputed := absent
	if !(s.WireTables < 0 || !(s.WireTables == textLand) && (s.WireTables < 0) || !(s.WireTables == textLand || s.WireTables == textBoat) && (s.WireTables < 0)) {
		wiringComputed = truth(s.WireTables == textLand || s.WireTables == textBoat || s.WireTables == textIec)
	}
	s.WiringComputed = wiringComputed
	var tableRows float64
	switch {
	case s.WireTables < 0:
		tableRows = absent
	case s.WireTables == textLand:
		tableRows = float64(len(tableLandRow))
	default:
		switch {
		case s.WireTables < 0:
			tableRows = absent
		case s.WireTables == textBoat:
			tableRows = float64(len(tableBoatRow))
		default:
			tableRows = float64(len(tableIecRow))
		}
	}
	holds := false
	if wiringComputed != wiringComputed {
		holds = false
	} else {
		holds = wiringComputed != 0
	}
	if holds {
		s.ConductorCount = tableRows
	} else {
		s.ConductorCount = 0
	}
	s.EquatorLatitude = abs(s.Latitude)
}

// siteConductorArea computes conductor_area, land_ampacity_60, land_ampacity_75, land_ampacity_90,
// land_ampacity, boat_outside, boat_inside, iec_ampacity, table_ampacity,
// iec_resistance.
func (m *Model) siteConductorArea() {
	s := &m.Site
	for conductorAt := range inUse(s.ConductorCount, 18) {
		switch {
		case s.WireTables < 0:
			s.ConductorArea[conductorAt] = absent
		case s.WireTables == textLand:
			s.ConductorArea[conductorAt] = lookup(tableLandRow, tableLandArea, float64(conductorAt+1))
		default:
			switch {
			case s.WireTables < 0:
				s.ConductorArea[conductorAt] = absent
			case s.WireTables == textBoat:
				s.ConductorArea[conductorAt] = lookup(tableBoatRow, tableBoatArea, float64(conductorAt+1))
			default:
				s.ConductorArea[conductorAt] = lookup(tableIecRow, tableIecArea, float64(conductorAt+1))
			}
		}
		var landAmpacity60 float64
		switch {
		case s.WireTables < 0:
			landAmpacity60 = absent
		case s.WireTables == textLand:
			landAmpacity60 = lookup(tableLandRow, tableLandAmpacity60, float64(conductorAt+1))
		default:
			landAmpacity60 = 0
		}
		s.LandAmpacity60[conductorAt] = landAmpacity60
		var landAmpacity75 float64
		switch {
		case s.WireTables < 0:
			landAmpacity75 = absent
		case s.WireTables == textLand:
			landAmpacity75 = lookup(tableLandRow, tableLandAmpacity75, float64(conductorAt+1))
		default:
			landAmpacity75 = 0
		}
		s.LandAmpacity75[conductorAt] = landAmpacity75
		var landAmpacity90 float64
		switch {
		case s.WireTables < 0:
			landAmpacity90 = absent
		case s.WireTables == textLand:
			landAmpacity90 = lookup(tableLandRow, tableLandAmpacity90, float64(conductorAt+1))
		default:
			landAmpacity90 = 0
		}
		s.LandAmpacity90[conductorAt] = landAmpacity90
		var landAmpacity float64
		if s.InsulationColumn == text60 {
			landAmpacity = landAmpacity60
		} else {
			if s.InsulationColumn == text75 {
				landAmpacity = landAmpacity75
			} else {
				landAmpacity = landAmpacity90
			}
		}
		var boatOutside float64
		switch {
		case s.WireTables < 0:
			boatOutside = absent
		case s.WireTables == textBoat:
			boatOutside = lookup(tableBoatRow, tableBoatOutside, float64(conductorAt+1))
		default:
			boatOutside = 0
		}
		var boatInside float64
		switch {
		case s.WireTables < 0:
			boatInside = absent
		case s.WireTables == textBoat:
			boatInside = lookup(tableBoatRow, tableBoatInside, float64(conductorAt+1))
		default:
			boatInside = 0
		}
		var iecAmpacity float64
		switch {
		case s.WireTables < 0:
			iecAmpacity = absent
		case s.WireTables == textIec:
			iecAmpacity = lookup(tableIecRow, tableIecAmpacity, float64(conductorAt+1))
		default:
			iecAmpacity = 0
		}
		switch {
		case s.WireTables < 0:
			s.TableAmpacity[conductorAt] = absent
		case s.WireTables == textLand:
			s.TableAmpacity[conductorAt] = landAmpacity
		default:
			switch {
			case s.WireTables < 0:
				s.TableAmpacity[conductorAt] = absent
			case s.WireTables == textIec:
				s.TableAmpacity[conductorAt] = iecAmpacity
			default:
				if s.EngineSpace {
					s.TableAmpacity[conductorAt] = boatInside
				} else {
					s.TableAmpacity[conductorAt] = boatOutside
				}
			}
		}
		switch {
		case s.WireTables < 0:
			s.IecResistance[conductorAt] = absent
		case s.WireTables != textIec:
			s.IecResistance[conductorAt] = 0
		default:
			if s.IecStrands == textFlexible {
				s.IecResistance[conductorAt] = lookup(tableIecRow, tableIecFlexible, float64(conductorAt+1))
			} else {
				s.IecResistance[conductorAt] = lookup(tableIecRow, tableIecStranded, float64(conductorAt+1))
			}
		}
	}
}

// siteSmallestArea computes smallest_area.
func (m *Model) siteSmallestArea() {
	s := &m.Site
	switch {
	case s.WiringComputed != s.WiringComputed:
		s.SmallestArea = absent
	case s.WiringComputed != 0:
		steps := inUse(s.ConductorCount, 18)
		end := absent
		if steps > 0 {
			end = s.ConductorArea[0]
		}
		s.SmallestArea = end
	default:
		s.SmallestArea = 0
	}
}

// siteLandSizedAmpacity computes land_sized_ampacity, land_terminal_ampacity, boat_resistance, reference_resistance.
func (m *Model) siteLandSizedAmpacity() {
	s := &m.Site
	for conductorAt := range inUse(s.ConductorCount, 18) {
		var landSizedAmpacity float64
		switch {
		case s.ConductorArea[conductorAt] != s.ConductorArea[conductorAt]:
			landSizedAmpacity = absent
		case atMost(s.ConductorArea[conductorAt], m.Constant.CoolTerminalsArea):
			landSizedAmpacity = s.LandAmpacity60[conductorAt]
		default:
			landSizedAmpacity = s.LandAmpacity75[conductorAt]
		}
		if s.TerminationColumn == textBySize {
			s.LandTerminalAmpacity[conductorAt] = landSizedAmpacity
		} else {
			if s.TerminationColumn == text60 {
				s.LandTerminalAmpacity[conductorAt] = s.LandAmpacity60[conductorAt]
			} else {
				if s.TerminationColumn == text75 {
					s.LandTerminalAmpacity[conductorAt] = s.LandAmpacity75[conductorAt]
				} else {
					s.LandTerminalAmpacity[conductorAt] = s.LandAmpacity90[conductorAt]
				}
			}
		}
		boatResistance := over(m.Constant.CopperResistivity*m.Constant.StrandingFactor, s.ConductorArea[conductorAt])
		switch {
		case s.WireTables < 0:
			s.ReferenceResistance[conductorAt] = absent
		case s.WireTables == textLand:
			s.ReferenceResistance[conductorAt] = lookup(tableLandRow, tableLandResistance, float64(conductorAt+1))
		default:
			switch {
			case s.WireTables < 0:
				s.ReferenceResistance[conductorAt] = absent
			case s.WireTables == textIec:
				s.ReferenceResistance[conductorAt] = s.IecResistance[conductorAt]
			default:
				s.ReferenceResistance[conductorAt] = boatResistance
			}
		}
	}
}

// siteLandInsulation computes land_insulation, land_termination, insulation_temperature, termination_temperature,
// operating_temperature, table_ambient, ambient_band, ambient_60, ambient_75,
// ambient_90, land_ambient_factor, counted_ambient, computed_ambient_factor,
// ambient_factor, land_bundling_factor, boat_bundling_factor.
func (m *Model) siteLandInsulation() {
	s := &m.Site
	var landInsulation float64
	if s.InsulationColumn == text60 {
		landInsulation = m.Constant.SixtyColumn
	} else {
		if s.InsulationColumn == text75 {
			landInsulation = m.Constant.SeventyFiveColumn
		} else {
			landInsulation = m.Constant.NinetyColumn
		}
	}
	var landTermination float64
	if s.TerminationColumn == text60 {
		landTermination = m.Constant.SixtyColumn
	} else {
		if s.TerminationColumn == text90 {
			landTermination = m.Constant.NinetyColumn
		} else {
			landTermination = m.Constant.SeventyFiveColumn
		}
	}
	var insulationTemperature float64
	switch {
	case s.WireTables < 0:
		insulationTemperature = absent
	case s.WireTables == textLand:
		insulationTemperature = landInsulation
	default:
		switch {
		case s.WireTables < 0:
			insulationTemperature = absent
		case s.WireTables == textBoat:
			insulationTemperature = m.Constant.BoatInsulation
		default:
			insulationTemperature = m.Constant.IecInsulation
		}
	}
	s.InsulationTemperature = insulationTemperature
	var terminationTemperature float64
	switch {
	case s.WireTables < 0:
		terminationTemperature = absent
	case s.WireTables == textLand:
		terminationTemperature = landTermination
	default:
		switch {
		case s.WireTables < 0:
			terminationTemperature = absent
		case s.WireTables == textBoat:
			terminationTemperature = m.Constant.BoatInsulation
		default:
			terminationTemperature = s.IecTermination
		}
	}
	s.TerminationTemperature = terminationTemperature
	s.OperatingTemperature = min(insulationTemperature, terminationTemperature)
	var tableAmbient float64
	switch {
	case s.WireTables < 0:
		tableAmbient = absent
	case s.WireTables == textBoat && s.EngineSpace:
		tableAmbient = m.Constant.EngineSpaceAmbient
	default:
		tableAmbient = m.Constant.AmpacityAmbient
	}
	s.TableAmbient = tableAmbient
	ambientBand := atLeast(tableLandAmbientAmbient, s.CableAmbient)
	ambient60 := lookup(tableLandAmbientAmbient, tableLandAmbientFactor60, ambientBand)
	ambient75 := lookup(tableLandAmbientAmbient, tableLandAmbientFactor75, ambientBand)
	ambient90 := lookup(tableLandAmbientAmbient, tableLandAmbientFactor90, ambientBand)
	var landAmbientFactor float64
	if s.InsulationColumn == text60 {
		landAmbientFactor = ambient60
	} else {
		if s.InsulationColumn == text75 {
			landAmbientFactor = ambient75
		} else {
			landAmbientFactor = ambient90
		}
	}
	countedAmbient := max(s.CableAmbient, m.Constant.CoolestAmbient)
	s.CountedAmbient = countedAmbient
	computedAmbientFactor := math.Sqrt(over(insulationTemperature-countedAmbient, insulationTemperature-tableAmbient))
	switch {
	case s.WireTables < 0:
		s.AmbientFactor = absent
	case s.WireTables == textLand:
		s.AmbientFactor = landAmbientFactor
	default:
		switch {
		case s.WireTables < 0:
			s.AmbientFactor = absent
		case s.WireTables == textIec:
			s.AmbientFactor = computedAmbientFactor
		default:
			s.AmbientFactor = min(computedAmbientFactor, 1)
		}
	}
	s.LandBundlingFactor = lookup(tableLandBundlingConductors, tableLandBundlingFactor, atLeast(tableLandBundlingConductors, s.ConductorsBundled))
	s.BoatBundlingFactor = lookup(tableBoatBundlingConductors, tableBoatBundlingFactor, atLeast(tableBoatBundlingConductors, s.ConductorsBundled))
}

// siteDiscountFactor computes discount_factor, battery_price_index, energy_price_index, present_demand.
func (m *Model) siteDiscountFactor() {
	s := &m.Site
	for yearAt := range inUse(s.StudyYears, 40) {
		discountFactor := discount(s.DiscountRate, float64(yearAt+1))
		s.DiscountFactor[yearAt] = discountFactor
		s.BatteryPriceIndex[yearAt] = power(1+s.BatteryPriceEscalation, float64(yearAt+1))
		s.EnergyPriceIndex[yearAt] = power(1+s.EnergyPriceEscalation, float64(yearAt+1))
		s.PresentDemand[yearAt] = s.YearlyDemand * discountFactor
	}
}
