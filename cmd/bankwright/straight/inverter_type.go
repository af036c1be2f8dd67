// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

// Inverter is what is kept of an item of the kind inverter. A series that has a value before its
// first step holds it in front.
type Inverter struct {
	PartLoadLoad       []float64
	PartLoadEfficiency []float64
	ContinuousPower    float64
	SurgePower         float64
	ApparentPower      float64
	DeratingFactor     float64
	Efficiency         float64
	IdlePower          float64
	MinVoltage         float64
	MaxVoltage         float64
	Price              float64
	PowerAtPlace       float64
	ApparentAtPlace    float64
	SurgeLimit         float64
	FullDraw           float64
}
