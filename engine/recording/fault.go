package recording

import (
	"fmt"

	"bankwright/engine/diag"
)

// Kind is a kind of fault in the rows of a recording.
type Kind int

// The kinds of faults. What is said to be left out takes no part in any result.
const (
	Gap          Kind = iota // a step of time beyond the limit: nothing is counted across it
	Silence                  // a column without value for longer than the limit, in rows that have a time
	Reset                    // the time starts again or is set back: a new stretch begins
	Rollover                 // a clock without date passes midnight: a day is added
	Backward                 // a row is earlier than the one before: left out
	RepeatedTime             // two rows have the same time and other values: both are kept
	RepeatedRow              // a row says the same as the one before: left out
	CounterReset             // a counter falls
	BadTime                  // a time cannot be read: the row is left out
	BadNumber                // a number cannot be read: the value is missing
	NoNumber                 // a cell is empty: the value is missing
	BadRow                   // a row with too few or too many cells or a stray quote: left out
	SpreadRow                // a row goes over several lines because of a quote: left out
	SecondHeader             // the header stands again in the middle: left out
	Cut                      // the last line is not whole: left out
	kinds
)

// kindOf says how the kinds are told: a code of package diag, and what "and N
// more" counts.
var kindOf = [kinds]struct{ code, more string }{
	Gap:          {"gap", "gaps"},
	Silence:      {"gap", "times without a value"},
	Reset:        {"clock", "times at which the clock starts again"},
	Rollover:     {"clock", "times at which the clock passes midnight"},
	Backward:     {"clock", "rows that are earlier than the row before"},
	RepeatedTime: {"clock", "rows with the time of the row before"},
	RepeatedRow:  {"row", "rows that repeat the row before"},
	CounterReset: {"counter", "falls of a counter"},
	BadTime:      {"clock", "rows whose time cannot be read"},
	BadNumber:    {"number", "cells that are not a number"},
	NoNumber:     {"missing", "empty cells"},
	BadRow:       {"row", "rows that cannot be taken apart"},
	SpreadRow:    {"row", "rows that go over several lines"},
	SecondHeader: {"row", "repeated headers"},
	Cut:          {"row", "lines that are not whole"},
}

// mostFaults is how many faults of a kind are told one by one.
const mostFaults = 10

// Fault is one fault with its place.
type Fault struct {
	Kind     Kind
	Line     int     // in the file
	Col, Len int     // of the cell, in characters; 0 where the row is meant
	Column   string  // where one column is meant
	Before   float64 // the value before and the value found; for faults of time, hours since the first row
	After    float64
	Text     string // one sentence without a full stop
	Mend     string
}

// faults are the first faults of each kind, and the number of all.
type faults struct {
	list  [kinds][]Fault
	count [kinds]int
}

// room reports whether the next fault of the kind is to be told, and counts it.
func (f *faults) room(k Kind) bool {
	f.count[k]++
	return f.count[k] <= mostFaults
}

// tell keeps a fault for which there is room.
func (f *faults) tell(fault Fault, mend, format string, args ...any) {
	fault.Text, fault.Mend = fmt.Sprintf(format, args...), mend
	f.list[fault.Kind] = append(f.list[fault.Kind], fault)
}

// diagnostics are the faults as warnings in the order of the file, the rest of
// each kind in one sentence at the end.
func (f *faults) diagnostics(file string) diag.List {
	var list, rest diag.List
	for k := range kinds {
		for _, x := range f.list[k] {
			at := diag.Pos{File: file, Line: x.Line, Col: x.Col, Len: x.Len}
			list.Warnf(at, kindOf[k].code, x.Mend, "%s", x.Text)
		}
		if more := f.count[k] - len(f.list[k]); more > 0 {
			rest.Warnf(diag.Pos{File: file}, kindOf[k].code, "", "and %d more %s", more, kindOf[k].more)
		}
	}
	list.Sort()
	return append(list, rest...)
}
