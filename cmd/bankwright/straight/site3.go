// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

import "math"

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

// siteLevelSum computes level_sum, sun_total.
func (m *Model) siteLevelSum() {
	s := &m.Site
	for monthAt := range 12 {
		sum := 0.0
		for hourAt := range 24 {
			sum += s.LevelSun[monthAt][hourAt]
		}
		s.LevelSum[monthAt] = sum
		sum2 := 0.0
		for hourAt2 := range 24 {
			sum2 += s.SunWeight[monthAt][hourAt2]
		}
		s.SunTotal[monthAt] = sum2
	}
}
