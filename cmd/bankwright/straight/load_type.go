// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

// Load is what is kept of an item of the kind load. A series that has a value before its
// first step holds it in front.
type Load struct {
	FirstHour           float64
	HourWeight          [24]float64
	SwitchedOn          float64
	WindowEnd           float64
	WeightShare         [24]float64
	SumOfWeights        float64
	PlacedShare         [24]float64
	AcHour              [24]float64
	DcHour              [24]float64
	Power               float64
	Count               float64
	Supply              int
	HoursPerDay         float64
	Duty                float64
	YearlyEnergy        float64
	PowerFactor         float64
	SurgePower          float64
	ConverterEfficiency float64
	Coincident          bool
	AveragePower        float64
	AcAverage           float64
	DcAverage           float64
	AcAlone             float64
	DcAlone             float64
	AcStart             float64
	DcStart             float64
	AcStartAlone        float64
	DcStartAlone        float64
	AcTogether          float64
	DcTogether          float64
	AcStartTogether     float64
	DcStartTogether     float64
	ApparentAlone       float64
	ApparentTogether    float64
}
