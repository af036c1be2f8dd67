// Package diag is how every part of the engine tells what is wrong: where it
// stands in a file, one sentence a practitioner understands, and the mend.
// Collecting diagnostics and writing them out are kept apart (see Write).
package diag

import (
	"fmt"
	"sort"
)

// Pos is a place in a file. Line and Col count from 1, Col and Len in
// characters (runes); Line 0 means that only the file is known, an empty File
// that no place is known at all.
type Pos struct {
	File      string
	Line, Col int
	Len       int
}

// String is the place as file:line:column, shortened to what is known.
func (p Pos) String() string {
	switch {
	case p.Line == 0:
		return p.File
	case p.Col == 0:
		return fmt.Sprintf("%s:%d", p.File, p.Line)
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Col)
}

// Severity tells whether work can go on.
type Severity int

const (
	// Error means that the files cannot be used as they are.
	Error Severity = iota
	// Warning means that something looks like a slip, and work goes on.
	Warning
)

// String is "error" or "warning".
func (s Severity) String() string {
	if s == Warning {
		return "warning"
	}
	return "error"
}

// Related is a further place that a diagnostic speaks of.
type Related struct {
	At   Pos
	Text string
}

// Diagnostic is one thing that is wrong or looks wrong.
type Diagnostic struct {
	Code     string // stable and short, such as "unknown-name"; documented in codes.go
	Severity Severity
	Summary  string // one sentence without a full stop
	Mend     string // what to do; may be empty
	At       Pos
	Related  []Related
}

// Error lets a single diagnostic travel as an error.
func (d Diagnostic) Error() string {
	if at := d.At.String(); at != "" {
		return at + ": " + d.Severity.String() + ": " + d.Summary
	}
	return d.Severity.String() + ": " + d.Summary
}

// List collects diagnostics in the order they were found.
type List []Diagnostic

// Add appends a diagnostic.
func (l *List) Add(d Diagnostic) { *l = append(*l, d) }

// Errorf appends an error with a mend (which may be empty).
func (l *List) Errorf(at Pos, code, mend, format string, args ...any) {
	l.Add(Diagnostic{Code: code, At: at, Mend: mend, Summary: fmt.Sprintf(format, args...)})
}

// Warnf appends a warning with a mend (which may be empty).
func (l *List) Warnf(at Pos, code, mend, format string, args ...any) {
	l.Add(Diagnostic{Code: code, Severity: Warning, At: at, Mend: mend, Summary: fmt.Sprintf(format, args...)})
}

// HasErrors reports whether any entry is an error.
func (l List) HasErrors() bool {
	for _, d := range l {
		if d.Severity == Error {
			return true
		}
	}
	return false
}

// Sort puts the list in file order: files in the order in which they first
// occur, then by line and column. Equal places keep their order.
func (l List) Sort() {
	rank := map[string]int{}
	for _, d := range l {
		if _, ok := rank[d.At.File]; !ok {
			rank[d.At.File] = len(rank)
		}
	}
	sort.SliceStable(l, func(i, j int) bool {
		a, b := l[i].At, l[j].At
		if a.File != b.File {
			return rank[a.File] < rank[b.File]
		}
		if a.Line != b.Line {
			return a.Line < b.Line
		}
		return a.Col < b.Col
	})
}
