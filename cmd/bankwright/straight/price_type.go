// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

// Price is what is kept of an item of the kind price. A series that has a value before its
// first step holds it in front.
type Price struct {
	Labour           float64
	WiringParts12v   float64
	WiringParts24v   float64
	BusBars          float64
	StringParts      float64
	SeriesLink       float64
	ChargeControl12v float64
	ChargeControl24v float64
}
