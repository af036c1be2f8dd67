// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

// siteLandTables computes land_tables, fuses_rounded_up, boat_tables, iec_tables, other_tables,
// wiring_computed, table_rows, conductor_count, largest_rating,
// largest_metric_rating, equator_latitude.
func (m *Model) siteLandTables() {
	s := &m.Site
	landTables := absent
	if !(s.WireTables < 0) {
		landTables = truth(s.WireTables == textLand)
	}
	s.LandTables = landTables
	s.FusesRoundedUp = absent
	if !(s.RoundFuseUp && (landTables != landTables)) {
		s.FusesRoundedUp = truth(s.RoundFuseUp && landTables != 0)
	}
	boatTables := absent
	if !(s.WireTables < 0) {
		boatTables = truth(s.WireTables == textBoat)
	}
	s.BoatTables = boatTables
	iecTables := absent
	if !(s.WireTables < 0) {
		iecTables = truth(s.WireTables == textIec)
	}
	s.IecTables = iecTables
	otherTables := absent
	if !(boatTables != boatTables || !(boatTables != 0) && (iecTables != iecTables)) {
		otherTables = truth(boatTables != 0 || iecTables != 0)
	}
	wiringComputed := absent
	if !(landTables != landTables || !(landTables != 0) && (otherTables != otherTables)) {
		wiringComputed = truth(landTables != 0 || otherTables != 0)
	}
	s.WiringComputed = wiringComputed
	var tableRows float64
	switch {
	case landTables != landTables:
		tableRows = absent
	case landTables != 0:
		tableRows = float64(len(tableLandRow))
	default:
		switch {
		case boatTables != boatTables:
			tableRows = absent
		case boatTables != 0:
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
	s.LargestRating = lastEntry(tableFuseRating)
	s.LargestMetricRating = lastEntry(tableIecFuseRating)
	s.EquatorLatitude = abs(s.Latitude)
}

// siteLandArea computes land_area, boat_area, iec_area, conductor_area, land_ampacity_60, land_ampacity_75,
// land_ampacity_90, land_ampacity, land_listed_ampacity, boat_outside, boat_inside,
// iec_ampacity, boat_ampacity, table_ampacity, land_resistance, iec_row,
// strands_resistance, iec_resistance.
func (m *Model) siteLandArea() {
	s := &m.Site
	for conductorAt := range inUse(s.ConductorCount, 18) {
		var landArea float64
		switch {
		case s.LandTables != s.LandTables:
			landArea = absent
		case s.LandTables != 0:
			landArea = entry(tableLandArea, float64(conductorAt+1))
		default:
			landArea = 0
		}
		var boatArea float64
		switch {
		case s.BoatTables != s.BoatTables:
			boatArea = absent
		case s.BoatTables != 0:
			boatArea = entry(tableBoatArea, float64(conductorAt+1))
		default:
			boatArea = 0
		}
		var iecArea float64
		switch {
		case s.IecTables != s.IecTables:
			iecArea = absent
		case s.IecTables != 0:
			iecArea = entry(tableIecArea, float64(conductorAt+1))
		default:
			iecArea = 0
		}
		switch {
		case s.LandTables != s.LandTables:
			s.ConductorArea[conductorAt] = absent
		case s.LandTables != 0:
			s.ConductorArea[conductorAt] = landArea
		default:
			switch {
			case s.BoatTables != s.BoatTables:
				s.ConductorArea[conductorAt] = absent
			case s.BoatTables != 0:
				s.ConductorArea[conductorAt] = boatArea
			default:
				s.ConductorArea[conductorAt] = iecArea
			}
		}
		var landAmpacity60 float64
		switch {
		case s.LandTables != s.LandTables:
			landAmpacity60 = absent
		case s.LandTables != 0:
			landAmpacity60 = entry(tableLandAmpacity60, float64(conductorAt+1))
		default:
			landAmpacity60 = 0
		}
		s.LandAmpacity60[conductorAt] = landAmpacity60
		var landAmpacity75 float64
		switch {
		case s.LandTables != s.LandTables:
			landAmpacity75 = absent
		case s.LandTables != 0:
			landAmpacity75 = entry(tableLandAmpacity75, float64(conductorAt+1))
		default:
			landAmpacity75 = 0
		}
		s.LandAmpacity75[conductorAt] = landAmpacity75
		var landAmpacity90 float64
		switch {
		case s.LandTables != s.LandTables:
			landAmpacity90 = absent
		case s.LandTables != 0:
			landAmpacity90 = entry(tableLandAmpacity90, float64(conductorAt+1))
		default:
			landAmpacity90 = 0
		}
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
		if s.TerminationColumn == text60 {
			s.LandListedAmpacity[conductorAt] = landAmpacity60
		} else {
			if s.TerminationColumn == text75 {
				s.LandListedAmpacity[conductorAt] = landAmpacity75
			} else {
				s.LandListedAmpacity[conductorAt] = landAmpacity90
			}
		}
		var boatOutside float64
		switch {
		case s.BoatTables != s.BoatTables:
			boatOutside = absent
		case s.BoatTables != 0:
			boatOutside = entry(tableBoatOutside, float64(conductorAt+1))
		default:
			boatOutside = 0
		}
		var boatInside float64
		switch {
		case s.BoatTables != s.BoatTables:
			boatInside = absent
		case s.BoatTables != 0:
			boatInside = entry(tableBoatInside, float64(conductorAt+1))
		default:
			boatInside = 0
		}
		var iecAmpacity float64
		switch {
		case s.IecTables != s.IecTables:
			iecAmpacity = absent
		case s.IecTables != 0:
			iecAmpacity = entry(tableIecAmpacity, float64(conductorAt+1))
		default:
			iecAmpacity = 0
		}
		var boatAmpacity float64
		if s.EngineSpace {
			boatAmpacity = boatInside
		} else {
			boatAmpacity = boatOutside
		}
		switch {
		case s.LandTables != s.LandTables:
			s.TableAmpacity[conductorAt] = absent
		case s.LandTables != 0:
			s.TableAmpacity[conductorAt] = landAmpacity
		default:
			switch {
			case s.IecTables != s.IecTables:
				s.TableAmpacity[conductorAt] = absent
			case s.IecTables != 0:
				s.TableAmpacity[conductorAt] = iecAmpacity
			default:
				s.TableAmpacity[conductorAt] = boatAmpacity
			}
		}
		switch {
		case s.LandTables != s.LandTables:
			s.LandResistance[conductorAt] = absent
		case s.LandTables != 0:
			s.LandResistance[conductorAt] = entry(tableLandResistance, float64(conductorAt+1))
		default:
			s.LandResistance[conductorAt] = 0
		}
		iecRow := min(float64(conductorAt+1), float64(len(tableIecRow)))
		var strandsResistance float64
		if s.IecStrands == textFlexible {
			strandsResistance = entry(tableIecFlexible, iecRow)
		} else {
			strandsResistance = entry(tableIecStranded, iecRow)
		}
		switch {
		case s.IecTables != s.IecTables:
			s.IecResistance[conductorAt] = absent
		case s.IecTables != 0:
			s.IecResistance[conductorAt] = strandsResistance
		default:
			s.IecResistance[conductorAt] = 0
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
			s.LandTerminalAmpacity[conductorAt] = s.LandListedAmpacity[conductorAt]
		}
		boatResistance := over(m.Constant.CopperResistivity*m.Constant.StrandingFactor, s.ConductorArea[conductorAt])
		switch {
		case s.LandTables != s.LandTables:
			s.ReferenceResistance[conductorAt] = absent
		case s.LandTables != 0:
			s.ReferenceResistance[conductorAt] = s.LandResistance[conductorAt]
		default:
			switch {
			case s.IecTables != s.IecTables:
				s.ReferenceResistance[conductorAt] = absent
			case s.IecTables != 0:
				s.ReferenceResistance[conductorAt] = s.IecResistance[conductorAt]
			default:
				s.ReferenceResistance[conductorAt] = boatResistance
			}
		}
	}
}

// siteTerminalAmpacity computes terminal_ampacity, conductor_ampacity, conductor_resistance, listed_ampacity,
// next_rating, rounded_ampacity, small_limit, conductor_fuse_limit.
func (m *Model) siteTerminalAmpacity() {
	s := &m.Site
	for conductorAt := range inUse(s.ConductorCount, 18) {
		var terminalAmpacity float64
		switch {
		case s.LandTables != s.LandTables:
			terminalAmpacity = absent
		case s.LandTables != 0:
			terminalAmpacity = s.LandTerminalAmpacity[conductorAt]
		default:
			terminalAmpacity = s.TableAmpacity[conductorAt] * s.TerminationFactor
		}
		conductorAmpacity := min(s.TableAmpacity[conductorAt]*s.AmbientFactor*s.BundlingFactor, terminalAmpacity)
		s.ConductorAmpacity[conductorAt] = conductorAmpacity
		s.ConductorResistance[conductorAt] = s.ReferenceResistance[conductorAt] * s.ResistanceFactor
		listedAmpacity := min(conductorAmpacity, s.LargestRating)
		nextRating := atLeast(tableFuseRating, listedAmpacity)
		var roundedAmpacity float64
		switch {
		case s.FusesRoundedUp != s.FusesRoundedUp:
			roundedAmpacity = absent
		case s.FusesRoundedUp != 0:
			roundedAmpacity = nextRating
		default:
			roundedAmpacity = conductorAmpacity
		}
		var smallLimit float64
		if atMost(float64(conductorAt+1), float64(len(tableSmallConductorRow))) {
			smallLimit = entry(tableSmallConductorLimit, float64(conductorAt+1))
		} else {
			smallLimit = roundedAmpacity
		}
		switch {
		case s.LandTables != s.LandTables:
			s.ConductorFuseLimit[conductorAt] = absent
		case s.LandTables != 0:
			s.ConductorFuseLimit[conductorAt] = min(roundedAmpacity, smallLimit)
		default:
			s.ConductorFuseLimit[conductorAt] = roundedAmpacity
		}
	}
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
