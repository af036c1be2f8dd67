// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

import "math"

// siteLandInsulation computes land_insulation, land_termination, insulation_temperature, termination_temperature,
// operating_temperature, table_ambient, ambient_row, ambient_60, ambient_75,
// ambient_90, land_ambient_factor, counted_ambient, computed_ambient_factor,
// boat_ambient_factor, ambient_factor, land_bundling_row.
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
	case s.LandTables != s.LandTables:
		insulationTemperature = absent
	case s.LandTables != 0:
		insulationTemperature = landInsulation
	default:
		switch {
		case s.BoatTables != s.BoatTables:
			insulationTemperature = absent
		case s.BoatTables != 0:
			insulationTemperature = m.Constant.BoatInsulation
		default:
			insulationTemperature = m.Constant.IecInsulation
		}
	}
	s.InsulationTemperature = insulationTemperature
	var terminationTemperature float64
	switch {
	case s.LandTables != s.LandTables:
		terminationTemperature = absent
	case s.LandTables != 0:
		terminationTemperature = landTermination
	default:
		switch {
		case s.BoatTables != s.BoatTables:
			terminationTemperature = absent
		case s.BoatTables != 0:
			terminationTemperature = m.Constant.BoatInsulation
		default:
			terminationTemperature = s.IecTermination
		}
	}
	s.TerminationTemperature = terminationTemperature
	s.OperatingTemperature = min(insulationTemperature, terminationTemperature)
	var tableAmbient float64
	switch {
	case s.BoatTables != s.BoatTables:
		tableAmbient = absent
	case s.BoatTables != 0 && s.EngineSpace:
		tableAmbient = m.Constant.EngineSpaceAmbient
	default:
		tableAmbient = m.Constant.AmpacityAmbient
	}
	s.TableAmbient = tableAmbient
	ambientRow := rowAtLeast(tableLandAmbientAmbient, s.CableAmbient)
	ambient60 := entry(tableLandAmbientFactor60, ambientRow)
	ambient75 := entry(tableLandAmbientFactor75, ambientRow)
	ambient90 := entry(tableLandAmbientFactor90, ambientRow)
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
	boatAmbientFactor := min(computedAmbientFactor, 1)
	switch {
	case s.LandTables != s.LandTables:
		s.AmbientFactor = absent
	case s.LandTables != 0:
		s.AmbientFactor = landAmbientFactor
	default:
		switch {
		case s.IecTables != s.IecTables:
			s.AmbientFactor = absent
		case s.IecTables != 0:
			s.AmbientFactor = computedAmbientFactor
		default:
			s.AmbientFactor = boatAmbientFactor
		}
	}
	s.LandBundlingRow = rowAtLeast(tableLandBundlingConductors, s.ConductorsBundled)
}

// siteLandBundlingFactor computes land_bundling_factor, boat_bundling_row, boat_bundling_factor, iec_bundling_row,
// iec_bundling_factor, bundling_factor, termination_factor, resistance_coefficient,
// resistance_temperature, resistance_factor, ac_average, dc_average, demand_power,
// yearly_demand, ac_together, dc_together.
func (m *Model) siteLandBundlingFactor() {
	s := &m.Site
	landBundlingFactor := entry(tableLandBundlingFactor, s.LandBundlingRow)
	boatBundlingRow := rowAtLeast(tableBoatBundlingConductors, s.ConductorsBundled)
	boatBundlingFactor := entry(tableBoatBundlingFactor, boatBundlingRow)
	iecBundlingRow := rowAtLeast(tableIecBundlingConductors, s.ConductorsBundled)
	iecBundlingFactor := entry(tableIecBundlingFactor, iecBundlingRow)
	switch {
	case s.LandTables != s.LandTables:
		s.BundlingFactor = absent
	case s.LandTables != 0:
		s.BundlingFactor = landBundlingFactor
	default:
		switch {
		case s.BoatTables != s.BoatTables:
			s.BundlingFactor = absent
		case s.BoatTables != 0:
			s.BundlingFactor = boatBundlingFactor
		default:
			s.BundlingFactor = iecBundlingFactor
		}
	}
	s.TerminationFactor = math.Sqrt(over(max(s.TerminationTemperature-s.CountedAmbient, 0), s.InsulationTemperature-s.TableAmbient))
	var resistanceCoefficient float64
	switch {
	case s.LandTables != s.LandTables:
		resistanceCoefficient = absent
	case s.LandTables != 0:
		resistanceCoefficient = m.Constant.LandTemperatureCoefficient
	default:
		resistanceCoefficient = m.Constant.CopperTemperatureCoefficient
	}
	var resistanceTemperature float64
	switch {
	case s.LandTables != s.LandTables:
		resistanceTemperature = absent
	case s.LandTables != 0:
		resistanceTemperature = m.Constant.LandReferenceTemperature
	default:
		resistanceTemperature = m.Constant.CopperReferenceTemperature
	}
	s.ResistanceFactor = 1 + float64(resistanceCoefficient*(s.OperatingTemperature-resistanceTemperature))
	sum := 0.0
	for j := range m.Load {
		each := &m.Load[j]
		sum += each.AcAverage
	}
	s.AcAverage = sum
	sum2 := 0.0
	for j2 := range m.Load {
		each := &m.Load[j2]
		sum2 += each.DcAverage
	}
	s.DcAverage = sum2
	sum3 := 0.0
	for j3 := range m.Load {
		each := &m.Load[j3]
		sum3 += each.AveragePower
	}
	demandPower := sum3
	s.DemandPower = demandPower
	s.YearlyDemand = demandPower * m.Constant.YearLength
	sum4 := 0.0
	for j4 := range m.Load {
		each := &m.Load[j4]
		sum4 += each.AcTogether
	}
	s.AcTogether = sum4
	sum5 := 0.0
	for j5 := range m.Load {
		each := &m.Load[j5]
		sum5 += each.DcTogether
	}
	s.DcTogether = sum5
}

// siteLargestAcAlone computes largest_ac_alone, ac_power, apparent_together, largest_apparent_alone,
// apparent_power, ac_start, largest_ac_start_alone, ac_surge, touch_voltage,
// study_years, interval_share.
func (m *Model) siteLargestAcAlone() {
	s := &m.Site
	high := math.Inf(-1)
	for j := range m.Load {
		each := &m.Load[j]
		high = max(high, each.AcAlone)
	}
	largestAcAlone := high
	s.AcPower = max(s.AcTogether, largestAcAlone)
	sum := 0.0
	for j2 := range m.Load {
		each := &m.Load[j2]
		sum += each.ApparentTogether
	}
	apparentTogether := sum
	high2 := math.Inf(-1)
	for j3 := range m.Load {
		each := &m.Load[j3]
		high2 = max(high2, each.ApparentAlone)
	}
	largestApparentAlone := high2
	s.ApparentPower = max(apparentTogether, largestApparentAlone)
	high3 := math.Inf(-1)
	for j4 := range m.Load {
		each := &m.Load[j4]
		high3 = max(high3, each.AcStartTogether)
	}
	acStart := high3
	high4 := math.Inf(-1)
	for j5 := range m.Load {
		each := &m.Load[j5]
		high4 = max(high4, each.AcStartAlone)
	}
	largestAcStartAlone := high4
	s.AcSurge = max(s.AcTogether+acStart, largestAcStartAlone)
	holds := false
	if s.WetPlace != s.WetPlace {
		holds = s.Setting == textBoat
	} else {
		holds = s.WetPlace != 0
	}
	if holds {
		s.TouchVoltage = s.WetTouchVoltage
	} else {
		s.TouchVoltage = s.DryTouchVoltage
	}
	s.StudyYears = math.Round(s.StudyPeriod / m.Constant.YearLength)
	s.IntervalShare = (1 + s.Confidence) / 2
}

// siteAcHour computes ac_hour, dc_hour, hour_cosine.
func (m *Model) siteAcHour() {
	s := &m.Site
	for hourAt := range 24 {
		sum := 0.0
		for j := range m.Load {
			each := &m.Load[j]
			sum += each.AcHour[hourAt]
		}
		s.AcHour[hourAt] = sum
		sum2 := 0.0
		for j2 := range m.Load {
			each := &m.Load[j2]
			sum2 += each.DcHour[hourAt]
		}
		s.DcHour[hourAt] = sum2
		s.HourCosine[hourAt] = math.Cos(m.Constant.FullCircle * (float64((float64(hourAt+1)-1.0/2)*m.Constant.HourLength/m.Constant.DayLength) - 1.0/2))
	}
}

// siteTotalPresentDemand computes total_present_demand, final_discount_factor, final_battery_price_index.
func (m *Model) siteTotalPresentDemand() {
	s := &m.Site
	sum := 0.0
	for yearAt := range inUse(s.StudyYears, 40) {
		sum += s.PresentDemand[yearAt]
	}
	s.TotalPresentDemand = sum
	steps := inUse(s.StudyYears, 40)
	end := absent
	if steps > 0 {
		end = s.DiscountFactor[steps-1]
	}
	s.FinalDiscountFactor = end
	steps2 := inUse(s.StudyYears, 40)
	end2 := absent
	if steps2 > 0 {
		end2 = s.BatteryPriceIndex[steps2-1]
	}
	s.FinalBatteryPriceIndex = end2
}

// siteYearAngle computes year_angle, declination, sunset_cosine, sunset_angle, rise_part, season_part,
// distance_factor, extraterrestrial_irradiation, clearness, held_clearness,
// diffuse_row, diffuse_start, diffuse_linear, diffuse_square, diffuse_cube,
// diffuse_share, equator_declination, declination_sine, declination_cosine,
// level_fixed, level_turning, shape_sunset, shape_swing, shape_even, shape_peaked.
func (m *Model) siteYearAngle() {
	s := &m.Site
	for monthAt := range 12 {
		yearAngle := m.Constant.FullCircle * s.MeanDay[monthAt] * m.Constant.DayLength / m.Constant.YearLength
		declination := m.Constant.LargestDeclination * math.Sin(m.Constant.FullCircle*(m.Constant.DeclinationLead+s.MeanDay[monthAt])*m.Constant.DayLength/m.Constant.YearLength)
		sunsetCosine := min(max(-(math.Tan(s.Latitude)*math.Tan(declination)), -1), 1)
		sunsetAngle := math.Acos(sunsetCosine)
		s.SunsetAngle[monthAt] = sunsetAngle
		risePart := math.Cos(s.Latitude) * math.Cos(declination) * math.Sin(sunsetAngle)
		seasonPart := sunsetAngle * math.Sin(s.Latitude) * math.Sin(declination)
		distanceFactor := 1 + float64(m.Constant.DistanceSwing*math.Cos(yearAngle))
		extraterrestrialIrradiation := m.Constant.SolarConstant * distanceFactor * (risePart + seasonPart) / (m.Constant.FullCircle / 2)
		clearness := over(s.HorizontalIrradiation[monthAt], extraterrestrialIrradiation)
		heldClearness := min(max(clearness, m.Constant.LeastClearness), m.Constant.MostClearness)
		diffuseRow := rowAtLeast(tableDiffuseSunsetAngle, sunsetAngle)
		diffuseStart := entry(tableDiffuseConstant, diffuseRow)
		diffuseLinear := entry(tableDiffuseLinear, diffuseRow) * heldClearness
		diffuseSquare := entry(tableDiffuseSquare, diffuseRow) * (heldClearness * heldClearness)
		diffuseCube := entry(tableDiffuseCube, diffuseRow) * (heldClearness * heldClearness) * heldClearness
		s.DiffuseShare[monthAt] = diffuseStart + diffuseLinear + diffuseSquare + diffuseCube
		var equatorDeclination float64
		switch {
		case s.Latitude != s.Latitude:
			equatorDeclination = absent
		case s.Latitude < 0:
			equatorDeclination = -declination
		default:
			equatorDeclination = declination
		}
		declinationSine := math.Sin(equatorDeclination)
		s.DeclinationSine[monthAt] = declinationSine
		declinationCosine := math.Cos(equatorDeclination)
		s.DeclinationCosine[monthAt] = declinationCosine
		s.LevelFixed[monthAt] = declinationSine * math.Sin(s.EquatorLatitude)
		s.LevelTurning[monthAt] = declinationCosine * math.Cos(s.EquatorLatitude)
		shapeSunset := sunsetAngle
		if shapeSunset != shapeSunset {
			shapeSunset = m.Constant.FullCircle / 2 / 2
		}
		s.ShapeSunset[monthAt] = shapeSunset
		shapeSwing := math.Sin(shapeSunset - m.Constant.ShapeAngle)
		s.ShapeEven[monthAt] = lookup(tableSunShapePart, tableSunShapeConstant, float64(textEven)) + float64(lookup(tableSunShapePart, tableSunShapeSwing, float64(textEven))*shapeSwing)
		s.ShapePeaked[monthAt] = lookup(tableSunShapePart, tableSunShapeConstant, float64(textPeaked)) + float64(lookup(tableSunShapePart, tableSunShapeSwing, float64(textPeaked))*shapeSwing)
	}
}

// siteSunShare computes sun_share.
func (m *Model) siteSunShare() {
	s := &m.Site
	for monthAt := range 12 {
		for hourAt := range 24 {
			s.SunShare[monthAt][hourAt] = over(s.SunWeight[monthAt][hourAt], s.SunTotal[monthAt])
		}
	}
}
