package main

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// station is a year of mean days at a weather station: sun on level ground in
// Wh/m², by the hour that begins each row and by month, and of each day as a
// whole, global and diffuse. From the statistics files of NREL's TMY3 data sets,
// typical years; seen in a public reproduction, the place in part from memory.
type station struct {
	name                string
	latitude            float64
	longitude, meridian float64 // degrees west, of the station and of its standard time
	global, diffuse     [12]float64
	hourly              [][13]float64 // the hour that ends (standard time), then January to December
}

var stations = []station{
	{"Phoenix Sky Harbor, WMO 722780", 33.45, 111.98, 105,
		[12]float64{3287, 4162, 5336, 7086, 7844, 8318, 7616, 7127, 6340, 4823, 3773, 3070},
		[12]float64{999, 1282, 1653, 1779, 1996, 1946, 2207, 1965, 1580, 1271, 977, 874},
		[][13]float64{
			{6, 0, 0, 0, 1, 18, 25, 10, 0, 0, 0, 0, 0},
			{7, 0, 0, 2, 61, 124, 149, 101, 58, 40, 12, 1, 0},
			{8, 0, 37, 108, 238, 327, 346, 271, 227, 193, 133, 57, 3},
			{9, 101, 179, 287, 469, 537, 556, 451, 435, 404, 306, 216, 124},
			{10, 260, 354, 475, 663, 734, 754, 651, 635, 598, 485, 388, 272},
			{11, 385, 502, 611, 824, 854, 893, 816, 777, 747, 631, 512, 401},
			{12, 475, 593, 710, 905, 934, 981, 941, 897, 837, 703, 575, 475},
			{13, 549, 638, 711, 921, 972, 1001, 962, 947, 884, 721, 599, 488},
			{14, 518, 610, 714, 894, 946, 985, 943, 912, 826, 675, 557, 486},
			{15, 458, 530, 614, 788, 829, 887, 851, 786, 726, 547, 450, 387},
			{16, 313, 404, 531, 636, 696, 721, 729, 659, 563, 391, 287, 282},
			{17, 213, 238, 363, 427, 484, 537, 509, 469, 346, 192, 113, 152},
			{18, 15, 72, 205, 213, 289, 331, 270, 257, 151, 29, 19, 0},
			{19, 0, 5, 5, 48, 91, 131, 99, 66, 26, 0, 0, 0},
			{20, 0, 0, 0, 0, 9, 22, 10, 0, 0, 0, 0, 0},
		}},
	{"Miami, WMO 722020", 25.82, 80.3, 75,
		[12]float64{3484, 4235, 5157, 5924, 5806, 5540, 6007, 5487, 4883, 4317, 3549, 3215},
		[12]float64{1384, 1667, 2081, 2336, 2667, 2897, 3001, 2897, 2597, 1965, 1710, 1434},
		[][13]float64{
			{6, 0, 0, 0, 0, 9, 11, 5, 0, 0, 0, 0, 0},
			{7, 0, 1, 22, 38, 87, 76, 75, 49, 33, 16, 8, 0},
			{8, 30, 57, 140, 235, 247, 234, 227, 191, 167, 141, 85, 38},
			{9, 174, 215, 305, 428, 398, 395, 396, 359, 361, 308, 243, 164},
			{10, 339, 396, 483, 573, 559, 543, 576, 511, 504, 454, 371, 318},
			{11, 463, 510, 588, 717, 691, 659, 696, 620, 604, 551, 479, 412},
			{12, 523, 593, 652, 775, 733, 714, 786, 693, 700, 607, 550, 457},
			{13, 554, 622, 669, 749, 726, 733, 771, 705, 664, 619, 516, 534},
			{14, 496, 612, 699, 720, 708, 660, 758, 720, 638, 592, 515, 502},
			{15, 425, 514, 635, 643, 608, 577, 623, 631, 519, 491, 391, 395},
			{16, 292, 400, 499, 517, 503, 422, 495, 489, 371, 328, 258, 278},
			{17, 154, 233, 317, 348, 330, 320, 356, 328, 228, 175, 114, 116},
			{18, 32, 76, 127, 168, 167, 159, 190, 156, 81, 35, 19, 2},
			{19, 0, 6, 21, 14, 40, 35, 51, 34, 11, 0, 0, 0},
			{20, 0, 0, 0, 0, 0, 1, 2, 0, 0, 0, 0, 0},
		}},
}

// solve gives the rules' shares of the hours and of diffuse sun (in %) for the
// station's place and days.
func (s station) solve(t *testing.T) (share [12][24]float64, diffuse []float64) {
	var sun []string
	for _, v := range s.global {
		sun = append(sun, fmt.Sprintf("\"%v Wh/m²/day\"", v))
	}
	m := solvedText(t, aPlace+fmt.Sprintf("latitude = \"%v deg\"\nhorizontal_irradiation = [%s]\n", s.latitude, strings.Join(sun, ", ")))
	for i := range share {
		for h := range share[i] {
			c, err := m.ParseCell(fmt.Sprintf("site.sun_share[%d,%d]", i+1, h+1))
			if err != nil {
				t.Fatal(err)
			}
			share[i][h] = m.Result.At(c.Quantity, c.Item, c.Row)
		}
	}
	return share, stepsOf(t, m, "site.diffuse_share", "%")
}

// middle is the mean time of a day's sun, and how far it spreads to both sides.
func middle(sun [24]float64) (mean, spread float64) {
	total := 0.0
	for h, v := range sun {
		mean += v * (float64(h) + 0.5)
		total += v
	}
	mean /= total
	for h, v := range sun {
		spread += v * math.Pow(float64(h)+0.5-mean, 2)
	}
	return mean, math.Sqrt(spread / total)
}

// measured are the hours of a month as shares of its day.
func (s station) measured(month int) (sun [24]float64) {
	total := 0.0
	for _, row := range s.hourly {
		total += row[month+1]
	}
	for _, row := range s.hourly {
		sun[int(row[0])-1] = row[month+1] / total
	}
	return sun
}

// TestSunByHour compares the shape of the day with measured hours, as
// plausibility: weather makes single months uneven, and the stations keep clock
// time, up to three quarters of an hour off the sun's. So what is compared is how
// far the sun spreads around its middle, the strongest hour, and the middle
// itself against solar noon.
func TestSunByHour(t *testing.T) {
	t.Parallel()
	for _, s := range stations {
		share, _ := s.solve(t)
		for i := range share {
			sum, top, seenTop := 0.0, 0.0, 0.0
			seen := s.measured(i)
			for h, v := range share[i] {
				sum += v
				top, seenTop = max(top, v), max(seenTop, seen[h])
			}
			agree(t, "sum of the day", sum, 1, 1e-12)
			mean, spread := middle(share[i])
			agree(t, "noon", mean, 12, 1e-12)
			seenMean, seenSpread := middle(seen)
			if !(math.Abs(spread/seenSpread-1) <= 0.04) {
				t.Errorf("%s, month %d: the sun spreads %.2f h around its middle, measured %.2f h", s.name, i+1, spread, seenSpread)
			}
			if !(math.Abs(top-seenTop) <= 0.01) {
				t.Errorf("%s, month %d: the strongest hour has %.3f of the day, measured %.3f", s.name, i+1, top, seenTop)
			}
			// The equation of time is up to 0.27 h, mornings and afternoons differ.
			if noon := 12 + (s.longitude-s.meridian)/15; !(math.Abs(seenMean-noon) <= 0.35) {
				t.Errorf("%s, month %d: the middle of the measured sun is %.2f h, solar noon %.2f h by the clock", s.name, i+1, seenMean, noon)
			}
		}
	}
}

// TestDiffuseShare compares the diffuse share with that of the typical years, as
// plausibility: the correlation is from places with the weather of middle
// latitudes, so that it is close in the desert (3 points of a hundred) and less so
// under the showers of a subtropical coast (12 points).
func TestDiffuseShare(t *testing.T) {
	t.Parallel()
	for i, s := range stations {
		_, diffuse := s.solve(t)
		for month, got := range diffuse {
			seen, within := 100*s.diffuse[month]/s.global[month], []float64{3, 12}[i]
			if !(math.Abs(got-seen) <= within) {
				t.Errorf("%s, month %d: %.1f %% diffuse, measured %.1f %%", s.name, month+1, got, seen)
			}
		}
	}
}
