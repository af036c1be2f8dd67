// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

// Source is what is kept of an item of the kind source. A series that has a value before its
// first step holds it in front.
type Source struct {
	Equalises              float64
	TemperatureCompensated float64
	UnsuitedCharge         float64
	Price                  float64
	EnergyPrice            float64
	Efficiency             float64
	Share                  float64
	GivenShare             float64
	OpenPart               float64
	PriceAtBank            float64
	CountedPower           float64
	SunBankPower           float64
	TimedBankPower         float64
	NeededBankPower        float64
	SunHour                [12][24]float64
	OnEnd                  float64
	TimedHour              [24]float64
	NeededHour             [24]float64
	TimedHourCost          [24]float64
	NeededHourCost         [24]float64
	SunHours               [12]float64
	Tilt                   float64
	Azimuth                float64
	TiltToEquator          float64
	SlopeFixed             float64
	SlopeTurning           float64
	SlopeWest              float64
	SlopeSun               [12][24]float64
	SlopeSum               [12]float64
	SkyPart                [12]float64
	GroundPart             [12]float64
	Runs                   int
	Power                  float64
	HoursAvailable         float64
	StartHour              float64
	ControllerCurrent      float64
	ControllerVoltage      float64
	ColdVoltage            float64
	AbsorptionVoltage      float64
	FuelUse                float64
	FuelPrice              float64
	FuelEnergyPrice        float64
	BankPower              float64
	PeakPower              float64
	DayEnergy              [12]float64
	CheckedArray           bool
	KnownColdVoltage       float64
	ArrayVoltageShare      float64
	SetVoltage             float64
}
