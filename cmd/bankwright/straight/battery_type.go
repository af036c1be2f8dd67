// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

// Battery is what is kept of an item of the kind battery. A series that has a value before its
// first step holds it in front.
type Battery struct {
	Capacity               float64
	NominalVoltage         float64
	Price                  float64
	MaxSeries              float64
	MaxParallel            float64
	FullVoltage            float64
	CutoffVoltage          float64
	RestedVoltage          float64
	ChargedVoltage         float64
	EmptyVoltage           float64
	OpenCircuitVoltage     float64
	MeasuredEnergy         float64
	Tests                  float64
	TypedTests             float64
	FoundEnergy            float64
	RatedEnergy            float64
	TestedEnergy           float64
	MaxDischargeCurrent    float64
	MaxChargeCurrent       float64
	SurgeCurrent           float64
	InternalResistance     float64
	ShortCircuitResistance float64
	IdlePower              float64
	SurgeLimit             float64
	ShortCircuitCurrent    float64
	Length                 float64
	Width                  float64
	Height                 float64
	MayLie                 bool
	MinChargeTemperature   float64
	LowTemperatureCutoff   bool
	RoundTripEfficiency    float64
	CycleLifeDepth         []float64
	CycleLifeCycles        []float64
	EndOfLife              float64
	CalendarLife           float64
	Warranty               float64
	SinglePoint            bool
	LifetimeCycles         float64
	CalendarWear           float64
	CalendarTemperature    float64
	MonthHeat              [12]float64
	LongInLength           float64
	WideInLength           float64
	HighInLength           float64
	LongInWidth            float64
	WideInWidth            float64
	HighInWidth            float64
	Places                 float64
	TrialCount             float64
	TrialEnergy            float64
	TrialError             float64
	Energy                 float64
}
