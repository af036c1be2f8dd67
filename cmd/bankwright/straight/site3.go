// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

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

// siteSunShare computes sun_share.
func (m *Model) siteSunShare() {
	s := &m.Site
	for monthAt := range 12 {
		for hourAt := range 24 {
			s.SunShare[monthAt][hourAt] = over(s.SunWeight[monthAt][hourAt], s.SunTotal[monthAt])
		}
	}
}
