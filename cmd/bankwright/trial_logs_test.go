package main

import (
	"fmt"
	"regexp"
	"strings"
	"testing/fstest"
)

// benchLog is a log of rows 10 s apart: rest for a minute, then a current until the
// end. The voltage falls in a straight line with time and by 10 mV for each
// ampere; the temperature rises in a straight line.
type benchLog struct {
	current        func(second int) float64
	seconds        int
	full, fall     float64                             // V at the start, V over the whole time
	warm, rise     float64                             // °C
	gapFrom, gapTo int                                 // s
	meter          float64                             // what the instrument's own counter counts of each watt-hour
	dead           int                                 // s; from then on the BMS has disconnected, 0: never
	mend           func(second int, row string) string // what the recorder made of a row; may be nil
}

func (b benchLog) csv() []byte {
	var out strings.Builder
	out.WriteString("Time (s),Voltage (V),Current (A),Temperature (°C),Energy (Wh)\n")
	energy, before := 0.0, 0.0
	for s := 0; s <= b.seconds; s += 10 {
		current, share := b.current(s), float64(s)/float64(b.seconds)
		voltage := b.full - b.fall*share - 0.01*current
		if b.dead > 0 && s >= b.dead {
			voltage, current = 0.1, 0
		}
		power := voltage * current
		if s > 0 {
			energy += b.meter * (before + power) / 2 / 360
		}
		before = power
		if s <= b.gapFrom || s >= b.gapTo {
			row := fmt.Sprintf("%d,%.9f,%.9f,%.9f,%.9f\n", s, voltage, current, b.warm+b.rise*share, energy)
			if b.mend != nil {
				row = b.mend(s, row)
			}
			out.WriteString(row)
		}
	}
	return []byte(out.String())
}

func steady(current float64) func(int) float64 { return func(int) float64 { return current } }

// from is what a recorder did to rows from a time on; until likewise.
func from(second int, mend func(row string) string) func(int, string) string {
	return func(s int, row string) string {
		if s >= second {
			return mend(row)
		}
		return row
	}
}

func until(second int, mend func(row string) string) func(int, string) string {
	return func(s int, row string) string {
		if s <= second {
			return mend(row)
		}
		return row
	}
}

// overload writes OL in the column of current, or of voltage.
func overload(row string) string {
	return regexp.MustCompile(`^(\d+,[^,]+),[^,]+`).ReplaceAllString(row, "$1,OL")
}
func overloadVoltage(row string) string {
	return regexp.MustCompile(`^(\d+),[^,]+`).ReplaceAllString(row, "$1,OL")
}

// shorn lacks its last cells, and timeless its time.
func shorn(row string) string    { return row[:strings.IndexByte(row, ',')+3] + "\n" }
func timeless(row string) string { return "--" + row[strings.IndexByte(row, ','):] }

// clockBack sets the clock back in the middle, by so many seconds.
func clockBack(by int) func(int, string) string {
	return from(9000, func(row string) string {
		var at int
		fmt.Sscanf(row, "%d", &at)
		return fmt.Sprint(at-by) + row[strings.IndexByte(row, ','):]
	})
}

// stepped is a current that rises at a time.
func stepped(from, to float64, at int) func(int) float64 {
	return func(s int) float64 {
		if s < at {
			return from
		}
		return to
	}
}

// trialLogs stand in the folder logs beside every scenario that tests write.
var trialLogs = map[string]benchLog{
	"even":        {current: steady(20), seconds: 18000, full: 13.7, fall: 1, warm: 15, rise: 6, meter: 1},
	"gap_90":      {current: steady(20), seconds: 18000, full: 13.7, fall: 1, gapFrom: 5000, gapTo: 5090, meter: 1},
	"gap_100":     {current: steady(20), seconds: 18000, full: 13.7, fall: 1, gapFrom: 5000, gapTo: 5100, meter: 1},
	"meter_2":     {current: steady(20), seconds: 18000, full: 13.7, fall: 1, meter: 1.0199},
	"meter_3":     {current: steady(20), seconds: 18000, full: 13.7, fall: 1, meter: 1.0201},
	"step_10":     {current: stepped(10, 20.001, 9000), seconds: 18000, full: 13.7, fall: 0, meter: 1},
	"step_9":      {current: stepped(10, 19.999, 9000), seconds: 18000, full: 13.7, fall: 0, meter: 1},
	"cut_off":     {current: steady(20), seconds: 18000, full: 13.7, fall: 2.5, meter: 1},
	"by_bms":      {current: steady(20), seconds: 18000, full: 13.7, fall: 2.2, meter: 1},
	"gone":        {current: stepped(20, 0, 17990), seconds: 18000, full: 13.7, fall: 13, meter: 1},
	"silent_90":   {current: steady(20), seconds: 18000, full: 13.7, fall: 2.5, meter: 1, mend: from(17920, overload)},
	"silent_100":  {current: steady(20), seconds: 18000, full: 13.7, fall: 2.5, meter: 1, mend: from(17910, overload)},
	"mute_90":     {current: steady(20), seconds: 18000, full: 13.7, fall: 2.5, meter: 1, mend: until(80, overloadVoltage)},
	"mute_100":    {current: steady(20), seconds: 18000, full: 13.7, fall: 2.5, meter: 1, mend: until(90, overloadVoltage)},
	"shorn_90":    {current: steady(20), seconds: 18000, full: 13.7, fall: 2.5, meter: 1, mend: from(17920, shorn)},
	"shorn_100":   {current: steady(20), seconds: 18000, full: 13.7, fall: 2.5, meter: 1, mend: from(17910, shorn)},
	"timeless_90": {current: steady(20), seconds: 18000, full: 13.7, fall: 2.5, meter: 1, mend: from(17920, timeless)},
	"timeless":    {current: steady(20), seconds: 18000, full: 13.7, fall: 2.5, meter: 1, mend: from(17910, timeless)},
	"set_back":    {current: steady(20), seconds: 18000, full: 13.7, fall: 2.5, meter: 1, mend: clockBack(3600)},
	"one_behind":  {current: steady(20), seconds: 18000, full: 13.7, fall: 2.5, meter: 1, mend: clockBack(20)},
	"high":        {current: stepped(0, 169, 60), seconds: 960, full: 13.7, fall: 0, warm: 22, rise: 17, meter: 1},
	"rested":      {current: stepped(0, 20, 60), seconds: 18000, full: 13.32, fall: 2, meter: 1},
	"tired":       {current: stepped(0, 20, 60), seconds: 18000, full: 13.31, fall: 2, meter: 1},
	"loaded":      {current: steady(20), seconds: 18000, full: 13.51, fall: 2, meter: 1},
	"knee":        {current: steady(20), seconds: 18000, full: 13.7, fall: 1.5, meter: 1},
	"no_knee":     {current: steady(20), seconds: 18000, full: 13.7, fall: 1.49, meter: 1},
	"tripped":     {current: steady(20), seconds: 18000, full: 13.7, fall: 1, meter: 1, dead: 9000},
	"emptied":     {current: steady(20), seconds: 18000, full: 13.7, fall: 2, meter: 1, dead: 17000},
	"back_0":      {current: stepped(20, -0.19, 9000), seconds: 18000, full: 13.7, fall: 2.5, meter: 1},
	"back_1":      {current: stepped(20, -0.2, 9000), seconds: 18000, full: 13.7, fall: 2.5, meter: 1},
	"flipped":     {current: stepped(0, -20, 60), seconds: 18000, full: 13.7, fall: 2, meter: 1},
	"stopped":     {current: stepped(0, 169, 60), seconds: 960, full: 13.7, fall: 0, meter: 1, dead: 900},
	"short":       {current: func(s int) float64 { return map[bool]float64{true: 169, false: 120}[s < 300] }, seconds: 900, full: 13.7, fall: 0, meter: 1},
}

// withLogs are the files of a scenario, the logs among them.
func withLogs(name, text string) fstest.MapFS {
	files := fstest.MapFS{name: {Data: []byte(text)}}
	for log, b := range trialLogs {
		if strings.Contains(text, "logs/"+log+".csv") {
			files["logs/"+log+".csv"] = &fstest.MapFile{Data: b.csv()}
		}
	}
	return files
}
