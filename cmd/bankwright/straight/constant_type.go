// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

// Constant is what is kept of an item of the kind constant. A series that has a value before its
// first step holds it in front.
type Constant struct {
	DayLength                    float64
	YearLength                   float64
	FaultResistanceFactor        float64
	FaultResistanceVoltage       float64
	AbsoluteZero                 float64
	CalendarActivation           float64
	CopperResistivity            float64
	CopperTemperatureCoefficient float64
	CopperReferenceTemperature   float64
	LandTemperatureCoefficient   float64
	LandReferenceTemperature     float64
	StrandingFactor              float64
	AmpacityAmbient              float64
	CoolestAmbient               float64
	EngineSpaceAmbient           float64
	BoatInsulation               float64
	IecInsulation                float64
	CoolTerminalsArea            float64
	SixtyColumn                  float64
	SeventyFiveColumn            float64
	NinetyColumn                 float64
	OpenShare                    float64
	SquareSum                    float64
	MostStrings                  float64
	PvcLimit                     float64
	XlpeLimit                    float64
	CopperHeatDensity            float64
	CopperHeatZero               float64
	WithstandTime                float64
	HourLength                   float64
	FullCircle                   float64
	SolarConstant                float64
	DistanceSwing                float64
	LargestDeclination           float64
	DeclinationLead              float64
	StandardIrradiance           float64
	LeastClearness               float64
	MostClearness                float64
	ShapeAngle                   float64
	RunSort                      float64
	StringSort                   float64
	LinkSort                     float64
	BothPoles                    float64
	CableEnds                    float64
}
