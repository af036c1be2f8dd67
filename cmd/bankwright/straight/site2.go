// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

import "math"

// siteIecBundlingFactor computes iec_bundling_factor, bundling_factor, termination_factor, resistance_coefficient,
// resistance_temperature, resistance_factor, ac_average, dc_average, demand_power,
// yearly_demand, ac_together, dc_together, largest_ac_alone, ac_power,
// apparent_together, largest_apparent_alone.
func (m *Model) siteIecBundlingFactor() {
	s := &m.Site
	iecBundlingFactor := lookup(tableIecBundlingConductors, tableIecBundlingFactor, atLeast(tableIecBundlingConductors, s.ConductorsBundled))
	switch {
	case s.WireTables < 0:
		s.BundlingFactor = absent
	case s.WireTables == textLand:
		s.BundlingFactor = s.LandBundlingFactor
	default:
		switch {
		case s.WireTables < 0:
			s.BundlingFactor = absent
		case s.WireTables == textBoat:
			s.BundlingFactor = s.BoatBundlingFactor
		default:
			s.BundlingFactor = iecBundlingFactor
		}
	}
	s.TerminationFactor = math.Sqrt(over(max(s.TerminationTemperature-s.CountedAmbient, 0), s.InsulationTemperature-s.TableAmbient))
	var resistanceCoefficient float64
	switch {
	case s.WireTables < 0:
		resistanceCoefficient = absent
	case s.WireTables == textLand:
		resistanceCoefficient = m.Constant.LandTemperatureCoefficient
	default:
		resistanceCoefficient = m.Constant.CopperTemperatureCoefficient
	}
	var resistanceTemperature float64
	switch {
	case s.WireTables < 0:
		resistanceTemperature = absent
	case s.WireTables == textLand:
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
	acTogether := sum4
	s.AcTogether = acTogether
	sum5 := 0.0
	for j5 := range m.Load {
		each := &m.Load[j5]
		sum5 += each.DcTogether
	}
	s.DcTogether = sum5
	high := math.Inf(-1)
	for j6 := range m.Load {
		each := &m.Load[j6]
		high = max(high, each.AcAlone)
	}
	largestAcAlone := high
	s.AcPower = max(acTogether, largestAcAlone)
	sum6 := 0.0
	for j7 := range m.Load {
		each := &m.Load[j7]
		sum6 += each.ApparentTogether
	}
	s.ApparentTogether = sum6
	high2 := math.Inf(-1)
	for j8 := range m.Load {
		each := &m.Load[j8]
		high2 = max(high2, each.ApparentAlone)
	}
	s.LargestApparentAlone = high2
}

// siteTerminalAmpacity computes terminal_ampacity, conductor_ampacity, rounded_ampacity, small_limit,
// conductor_fuse_limit, conductor_resistance.
func (m *Model) siteTerminalAmpacity() {
	s := &m.Site
	for conductorAt := range inUse(s.ConductorCount, 18) {
		var terminalAmpacity float64
		switch {
		case s.WireTables < 0:
			terminalAmpacity = absent
		case s.WireTables == textLand:
			terminalAmpacity = s.LandTerminalAmpacity[conductorAt]
		default:
			terminalAmpacity = s.TableAmpacity[conductorAt] * s.TerminationFactor
		}
		conductorAmpacity := min(s.TableAmpacity[conductorAt]*s.AmbientFactor*s.BundlingFactor, terminalAmpacity)
		s.ConductorAmpacity[conductorAt] = conductorAmpacity
		var roundedAmpacity float64
		switch {
		case s.RoundFuseUp && (s.WireTables < 0):
			roundedAmpacity = absent
		case s.RoundFuseUp && s.WireTables == textLand:
			roundedAmpacity = atLeast(tableFuseRating, conductorAmpacity)
		default:
			roundedAmpacity = conductorAmpacity
		}
		var smallLimit float64
		if atMost(float64(conductorAt+1), float64(len(tableSmallConductorRow))) {
			smallLimit = lookup(tableSmallConductorRow, tableSmallConductorLimit, float64(conductorAt+1))
		} else {
			smallLimit = roundedAmpacity
		}
		switch {
		case s.WireTables < 0:
			s.ConductorFuseLimit[conductorAt] = absent
		case s.WireTables == textLand && atMost(float64(conductorAt+1), float64(len(tableSmallConductorRow))):
			s.ConductorFuseLimit[conductorAt] = min(roundedAmpacity, smallLimit)
		default:
			s.ConductorFuseLimit[conductorAt] = roundedAmpacity
		}
		s.ConductorResistance[conductorAt] = s.ReferenceResistance[conductorAt] * s.ResistanceFactor
	}
}

// siteApparentPower computes apparent_power, ac_start, largest_ac_start_alone, ac_surge, touch_voltage,
// study_years, interval_share.
func (m *Model) siteApparentPower() {
	s := &m.Site
	s.ApparentPower = max(s.ApparentTogether, s.LargestApparentAlone)
	high := math.Inf(-1)
	for j := range m.Load {
		each := &m.Load[j]
		high = max(high, each.AcStartTogether)
	}
	acStart := high
	high2 := math.Inf(-1)
	for j2 := range m.Load {
		each := &m.Load[j2]
		high2 = max(high2, each.AcStartAlone)
	}
	largestAcStartAlone := high2
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
// diffuse_share, equator_declination, level_fixed, level_turning, shape_sunset,
// shape_swing, shape_even, shape_peaked.
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
		diffuseRow := atLeast(tableDiffuseSunsetAngle, sunsetAngle)
		diffuseStart := lookup(tableDiffuseSunsetAngle, tableDiffuseConstant, diffuseRow)
		diffuseLinear := lookup(tableDiffuseSunsetAngle, tableDiffuseLinear, diffuseRow) * heldClearness
		diffuseSquare := lookup(tableDiffuseSunsetAngle, tableDiffuseSquare, diffuseRow) * (heldClearness * heldClearness)
		diffuseCube := lookup(tableDiffuseSunsetAngle, tableDiffuseCube, diffuseRow) * (heldClearness * heldClearness) * heldClearness
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
		s.EquatorDeclination[monthAt] = equatorDeclination
		s.LevelFixed[monthAt] = math.Sin(equatorDeclination) * math.Sin(s.EquatorLatitude)
		s.LevelTurning[monthAt] = math.Cos(equatorDeclination) * math.Cos(s.EquatorLatitude)
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

// sitePartAngle computes part_angle, part_cosine, part_sine, level_sun, sun_weight.
func (m *Model) sitePartAngle() {
	s := &m.Site
	for monthAt := range 12 {
		for hourAt := range 24 {
			partAngle := s.SunsetAngle[monthAt] * (float64((float64(hourAt+1)-1.0/2)*m.Constant.HourLength/(m.Constant.DayLength/2)) - 1)
			partCosine := math.Cos(partAngle)
			s.PartCosine[monthAt][hourAt] = partCosine
			s.PartSine[monthAt][hourAt] = math.Sin(partAngle)
			s.LevelSun[monthAt][hourAt] = max(s.LevelFixed[monthAt]+float64(s.LevelTurning[monthAt]*partCosine), 0)
			s.SunWeight[monthAt][hourAt] = max(s.HourCosine[hourAt]-math.Cos(s.ShapeSunset[monthAt]), 0) * (s.ShapeEven[monthAt] + float64(s.ShapePeaked[monthAt]*s.HourCosine[hourAt]))
		}
	}
}

// siteSunTotal computes sun_total.
func (m *Model) siteSunTotal() {
	s := &m.Site
	for monthAt := range 12 {
		sum := 0.0
		for hourAt := range 24 {
			sum += s.SunWeight[monthAt][hourAt]
		}
		s.SunTotal[monthAt] = sum
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
