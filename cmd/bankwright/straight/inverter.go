// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

// inverterPowerAtPlace computes power_at_place, apparent_at_place, surge_limit, full_draw.
func (m *Model) inverterPowerAtPlace() {
	for i := range m.Inverter {
		i := &m.Inverter[i]
		i.PowerAtPlace = i.ContinuousPower * i.DeratingFactor
		part := i.ApparentPower
		i.ApparentAtPlace = part * i.DeratingFactor
		i.SurgeLimit = i.SurgePower
		i.FullDraw = i.ContinuousPower/i.Efficiency + i.IdlePower
	}
}
