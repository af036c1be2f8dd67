// Package recording reads what an instrument wrote down: a file of comma, semicolon
// or tab separated values with a time and named columns that carry units. It
// streams over the rows, tells every fault and every repair with its row, and
// computes functionals such as integrals and crossings in one pass.
//
// Values are in base units (see package unit). Time is kept in whole nanoseconds
// while reading, so that steps are exact, and given in hours since the first row.
//
// Nothing is bridged silently. A step of time longer than a limit is a gap: it
// splits the recording, no functional counts anything across it, and the report
// says how much time is missing.
package recording

import (
	"io"
	"time"

	"bankwright/engine/unit"
)

// Column is a column that is wanted of a recording.
type Column struct {
	Name     string
	Unit     unit.Unit // its dimension holds; it is the file's unit where neither source nor header names one
	Optional bool      // the file may lack it; its values are then NaN
	Counter  bool      // it only grows: a fall is a reset
}

// Layout is what is wanted of a recording.
type Layout struct {
	Columns []Column
	Time    string // the name of the column that is the time; its unit is never taken for that of the file
}

// Field says where in the file a column stands. The zero Field is a header with
// the column's own name.
type Field struct {
	Header string     // the header's text, with or without its unit
	Number int        // the column of the file counted from 1, in place of a header
	Unit   *unit.Unit // the unit in which the file gives it, if the header does not say so or is wrong
}

// TimeForm is how a file writes times.
type TimeForm string

// The forms of time. A date may stand alone, or before a time of day of the form
// h:mm, h:mm:ss or with decimals of a second, with AM or PM, and with a zone (Z,
// UTC, GMT, +01:00). Years may have two digits where the day or the month stands first.
// A month may be a name, in English, in full or by its first three letters, a weekday
// may stand before it, and the year behind the time of day (Mon Mar  2 10:15:30 2026).
const (
	Recognised   TimeForm = ""        // found from the head of the file
	Number       TimeForm = "number"  // a count of seconds, hours ... (see Source.TimeUnit)
	YearFirst    TimeForm = "y-m-d"   // ISO 8601: 2026-03-02T10:15:30Z, also with . or / in the date and a space, or without signs: 20260302T101530
	DayFirst     TimeForm = "d-m-y"   // 02.03.2026 10:15, also with - or /, and 02-Mar-2026 10:15
	MonthFirst   TimeForm = "m-d-y"   // 03/02/2026 10:15 AM, and Mar 2, 2026 10:15
	Clock        TimeForm = "h:mm:ss" // without a date; hours may go beyond 24, or days be counted before: 1d 2:03:04, 1 days 02:03:04, 1.02:03:04
	HourMinute   TimeForm = "h:mm"
	MinuteSecond TimeForm = "mm:ss"
)

// Source is a file and how it is to be read. What is left out is recognised from
// the first 64 kB of the file.
type Source struct {
	File   string           // its name in messages
	Reader io.Reader        // the text; read once
	Fields map[string]Field // by the name of the column
	Date   *Field           // a column of its own for the date, where the time column has but the time of day

	Delimiter rune      // ',', ';' or '\t'
	Decimal   byte      // '.' or ','
	TimeForm  TimeForm  // of the time column; of the date where Date is given
	TimeUnit  unit.Unit // of times that are plain numbers
	FirstRow  int       // the line of the file where the values begin; the header is sought above it
	LastRow   int       // the line of the file behind which nothing is read; 0 where all of it is

	GapSteps float64       // a gap is a step longer than this many median steps; 0 means 5
	Gap      time.Duration // a gap is a step longer than this, whatever the median
}

// Row is one row of a recording.
type Row struct {
	Line    int       // its line in the file
	Time    int64     // nanoseconds since the first row
	Part    int       // how many times the clock was set back or started again before
	Values  []float64 // in base units, in the order of the layout; NaN where there is none; the time in hours since the first row
	Stretch int       // how many gaps and resets lie before it
}

// nanosPerHour turns nanoseconds to hours, the base unit of time.
const nanosPerHour = 3.6e12

// Hours turns nanoseconds to hours.
func hours(nanos int64) float64 { return float64(nanos) / nanosPerHour }
