package recording

import (
	"fmt"
	"strings"
	"time"

	"bankwright/engine/diag"
	"bankwright/engine/unit"
)

// Form is how a file turned out to be written.
type Form struct {
	Delimiter rune
	Decimal   byte
	Time      TimeForm
	TimeUnit  unit.Unit // where times are numbers
	Header    int       // the line of the header, 0 where there is none
	First     int       // the line from which rows are values
	Columns   []Found   // in the order of the layout
}

// Found says where a column was found and in which unit.
type Found struct {
	Number int       // the column of the file from 1; 0 where the file lacks it
	Header string    // its header
	Unit   unit.Unit // of the file's values
}

// String is the form in a line, for people.
func (f Form) String() string {
	var b strings.Builder
	name := map[rune]string{',': "comma", ';': "semicolon", '\t': "tab"}[f.Delimiter]
	fmt.Fprintf(&b, "separated by %s, decimal %c, time %s", name, f.Decimal, f.Time)
	if f.Time == Number {
		fmt.Fprintf(&b, " in %s", f.TimeUnit)
	}
	if f.Header > 0 {
		fmt.Fprintf(&b, ", header in line %d", f.Header)
	}
	return fmt.Sprintf("%s, values from line %d", b.String(), f.First)
}

// Report says what was read and what was not. Times are in hours.
type Report struct {
	File      string
	Form      Form
	Lines     int       // rows that the file has from the first with values
	Rows      int       // rows that were used
	FirstLine int       // line of the first and of the last row that was used
	LastLine  int       // both 0 where there is none
	Start     time.Time // of the first row, where the file has dates; in UTC, or as the clock on the wall where no zone is written
	Span      float64   // from the first to the last row, pauses of unknown length not counted; rows left out before and behind these count as the median step each
	Missing   float64   // what of it lies in gaps or is that of such rows
	Step      float64   // the median step of the first rows
	Limit     float64   // a longer step is a gap; 0 where there were too few rows to say
	Stretches int       // runs of rows without gap or reset
	Faults    []Fault   // the first ten of each kind, in the order of the kinds
	Count     map[Kind]int
	Problems  diag.List // all that is to be told; with errors, no result is to be used
}

// Usable reports whether results may be used: the faults, if any, are repaired.
func (r *Report) Usable() bool { return !r.Problems.HasErrors() }
