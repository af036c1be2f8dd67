// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

// Texts that formulas name.
const (
	textSameEnd  = 13
	textBusBar   = 15
	textSun      = 57
	textTimed    = 58
	textNeeded   = 59
	textAc       = 60
	textLand     = 62
	textBoat     = 63
	textIec      = 64
	text60       = 65
	text75       = 66
	text90       = 67
	textBySize   = 68
	textFlexible = 70
	textPvc      = 76
	textMeasured = 79
	textSum      = 82
	textEven     = 89
	textPeaked   = 90
)

// Columns of the tables that formulas read.
var (
	tableLandRow                = []float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18}
	tableBoatRow                = []float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15}
	tableIecRow                 = []float64{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16}
	tableFuseRating             = []float64{1, 3, 6, 10, 15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500, 600, 700, 800, 1000, 1200, 1600, 2000, 2500, 3000, 4000, 5000, 6000}
	tableIecFuseRating          = []float64{2, 4, 6, 10, 16, 20, 25, 32, 35, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250}
	tableFuseClassName          = []float64{71, 72, 73, 74, 75}
	tableFuseClassLargest       = []float64{500, 500, 300, 1200, 1250}
	tableFuseClassVoltage       = []float64{32, 58, 58, 125, 250}
	tableFuseClassInterrupting  = []float64{2000, 2000, 2000, 20000, 25000}
	tableLandArea               = []float64{2.081e-06, 3.309e-06, 5.261e-06, 8.366e-06, 1.3300000000000001e-05, 2.115e-05, 2.667e-05, 3.363e-05, 4.2409999999999995e-05, 5.3479999999999996e-05, 6.743000000000001e-05, 8.503e-05, 0.0001072, 0.0001267, 0.000152, 0.0001773, 0.0002027, 0.0002534}
	tableBoatArea               = []float64{8.231e-07, 1.3089999999999999e-06, 2.081e-06, 3.309e-06, 5.261e-06, 8.366e-06, 1.3300000000000001e-05, 2.115e-05, 2.667e-05, 3.363e-05, 4.2409999999999995e-05, 5.3479999999999996e-05, 6.743000000000001e-05, 8.503e-05, 0.0001072}
	tableIecArea                = []float64{1.5e-06, 2.5e-06, 4e-06, 6e-06, 1e-05, 1.6e-05, 2.5e-05, 3.5e-05, 5e-05, 7e-05, 9.5e-05, 0.00012, 0.00015, 0.000185, 0.00024, 0.0003}
	tableLandAmpacity60         = []float64{15, 20, 30, 40, 55, 70, 85, 95, 110, 125, 145, 165, 195, 215, 240, 260, 280, 320}
	tableLandAmpacity75         = []float64{20, 25, 35, 50, 65, 85, 100, 115, 130, 150, 175, 200, 230, 255, 285, 310, 335, 380}
	tableLandAmpacity90         = []float64{25, 30, 40, 55, 75, 95, 115, 130, 145, 170, 195, 225, 260, 290, 320, 350, 380, 430}
	tableBoatOutside            = []float64{20, 25, 35, 45, 60, 80, 120, 160, 180, 210, 245, 285, 330, 385, 445}
	tableBoatInside             = []float64{17, 21, 30, 38, 51, 68, 102, 136, 153, 178, 208, 242, 280, 327, 378}
	tableIecAmpacity            = []float64{25, 34, 46, 59, 81, 109, 143, 176, 228, 293, 355, 413, 476, 545, 644, 743}
	tableLandResistance         = []float64{0.010301837270341207, 0.006496062992125984, 0.004068241469816273, 0.00255249343832021, 0.0016108923884514436, 0.0010104986876640421, 0.0008038057742782153, 0.0006364829396325459, 0.0005052493438320211, 0.000400262467191601, 0.000317257217847769, 0.00025131233595800524, 0.0001994750656167979, 0.00016896325459317586, 0.000140748031496063, 0.00012040682414698164, 0.00010531496062992125, 8.464566929133858e-05}
	tableIecFlexible            = []float64{0.013300000000000001, 0.007980000000000001, 0.00495, 0.0033, 0.00191, 0.00121, 0.00078, 0.000554, 0.000386, 0.000272, 0.000206, 0.000161, 0.000129, 0.000106, 8.010000000000001e-05, 6.41e-05}
	tableIecStranded            = []float64{0.0121, 0.00741, 0.00461, 0.0030800000000000003, 0.00183, 0.00115, 0.000727, 0.000524, 0.00038700000000000003, 0.000268, 0.000193, 0.000153, 0.000124, 9.91e-05, 7.539999999999999e-05, 6.0100000000000004e-05}
	tableLandAmbientAmbient     = []float64{10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60}
	tableLandAmbientFactor60    = []float64{1.29, 1.22, 1.15, 1.08, 1, 0.91, 0.82, 0.71, 0.58, 0.41, 0}
	tableLandAmbientFactor75    = []float64{1.2, 1.15, 1.11, 1.05, 1, 0.94, 0.88, 0.82, 0.75, 0.67, 0.58}
	tableLandAmbientFactor90    = []float64{1.15, 1.12, 1.08, 1.04, 1, 0.96, 0.91, 0.87, 0.82, 0.76, 0.71}
	tableLandBundlingConductors = []float64{3, 6, 9, 20, 30, 40}
	tableLandBundlingFactor     = []float64{1, 0.8, 0.7, 0.5, 0.45, 0.4}
	tableBoatBundlingConductors = []float64{2, 3, 6, 24, 40}
	tableBoatBundlingFactor     = []float64{1, 0.7, 0.6, 0.5, 0.4}
	tableIecBundlingConductors  = []float64{2, 4, 6, 8, 10, 12, 14, 16, 18, 24, 32, 40}
	tableIecBundlingFactor      = []float64{1, 0.8, 0.7, 0.65, 0.6, 0.57, 0.54, 0.52, 0.5, 0.45, 0.41, 0.38}
	tableSmallConductorRow      = []float64{1, 2, 3}
	tableSmallConductorLimit    = []float64{15, 20, 30}
	tableDiffuseSunsetAngle     = []float64{1.4206980111233845, 3.141592653589793}
	tableDiffuseConstant        = []float64{1.391, 1.311}
	tableDiffuseLinear          = []float64{-3.56, -3.022}
	tableDiffuseSquare          = []float64{4.189, 3.427}
	tableDiffuseCube            = []float64{-2.137, -1.821}
	tableSunShapePart           = []float64{89, 90}
	tableSunShapeConstant       = []float64{0.409, 0.6609}
	tableSunShapeSwing          = []float64{0.5016, -0.4767}
)
