// Package reading keeps recordings and what was found in them. A recording is
// read in one pass for all measures that are asked for together; what was found
// is kept, so that nothing is read again for a measure that is known.
package reading

import (
	"bufio"
	"bytes"
	"io"
	"math"
	"slices"
	"sync"

	"bankwright/engine/diag"
	"bankwright/engine/recording"
)

// Recording is a file and how it is to be read. It may be used by several
// goroutines at once.
type Recording struct {
	Layout recording.Layout
	Name   string           // as the scenario names the file, from its own folder: for whatever leaves this machine
	Source recording.Source // without a reader; File is its name in messages, from where the program was called
	Open   func() (io.ReadCloser, error)
	Ahead  []recording.Measure // found in the first pass, whatever that is made for

	mu     sync.Mutex
	known  map[recording.Measure]recording.Result
	report *recording.Report
	passes int
}

// Read finds those of some measures that are not known, all in one pass. Without
// any it reads a recording that was not read yet, so that its faults are told.
func (r *Recording) Read(measures ...recording.Measure) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.read(measures)
}

func (r *Recording) read(measures []recording.Measure) {
	if r.report == nil {
		measures = append(slices.Clone(measures), r.Ahead...)
	}
	var open []recording.Measure
	for _, m := range measures {
		if _, ok := r.known[m]; !ok {
			if r.known == nil {
				r.known = map[recording.Measure]recording.Result{}
			}
			r.known[m] = recording.Result{Value: math.NaN(), At: math.NaN()}
			open = append(open, m)
		}
	}
	if len(open) == 0 && r.report != nil {
		return
	}
	results, report := r.pass(open)
	r.passes++
	for i, m := range open {
		if i < len(results) {
			r.known[m] = results[i]
		}
	}
	if r.report == nil {
		r.report = report
	}
}

// pass reads the recording once.
func (r *Recording) pass(measures []recording.Measure) ([]recording.Result, *recording.Report) {
	file, err := r.Open()
	if err != nil {
		report := &recording.Report{File: r.Source.File}
		report.Problems.Errorf(diag.Pos{File: r.Source.File}, "file", "Check the name and the folder.", "the recording cannot be opened")
		return nil, report
	}
	defer file.Close()
	source := r.Source
	source.Reader = file
	return recording.Run(r.Layout, source, measures...)
}

// Result is what a measure finds in the recording, which is read for it where
// it is not known.
func (r *Recording) Result(m recording.Measure) recording.Result {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.read([]recording.Measure{m})
	return r.known[m]
}

// Report says how the recording was read, which it is where it was not yet.
func (r *Recording) Report() *recording.Report {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.read(nil)
	return r.report
}

// Passes is how often the recording was read.
func (r *Recording) Passes() int {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.passes
}

// The most that Lines returns: of the file's lines, and of each of them.
const (
	mostLines = 1 << 21
	mostWidth = 400 // bytes
)

// Lines is the file's text as far as diagnostics show it: the lines that the
// report's problems name, all others empty.
func (r *Recording) Lines() []byte {
	wanted, last := map[int]bool{}, 0
	for _, p := range r.Report().Problems {
		if p.At.Line > 0 && p.At.Line < mostLines {
			wanted[p.At.Line] = true
			last = max(last, p.At.Line)
		}
	}
	var out bytes.Buffer
	file, err := r.Open()
	if err != nil {
		return nil
	}
	defer file.Close()
	in := bufio.NewReader(file)
	for line := 1; line <= last; line++ {
		rest := mostWidth
		for {
			part, more, err := in.ReadLine()
			if wanted[line] {
				part = part[:min(len(part), rest)]
				rest -= len(part)
				out.Write(part)
			}
			if err != nil || line == last && rest == 0 { // a line may be longer than anybody waits for
				return out.Bytes()
			}
			if !more {
				break
			}
		}
		out.WriteByte('\n')
	}
	return out.Bytes()
}

// Shelf holds recordings, so that one that is declared again, in the same way, is
// not read again. The zero Shelf is empty.
type Shelf struct {
	// Ahead says what will be asked of a recording besides what the formulas ask, so
	// that it is found in the same pass; may be nil.
	Ahead func(recording.Layout) []recording.Measure

	mu   sync.Mutex
	kept map[string]*Recording
}

// Keep is the recording that was kept under a key before, else r.
func (s *Shelf) Keep(key string, r *Recording) *Recording {
	s.mu.Lock()
	defer s.mu.Unlock()
	if old := s.kept[key]; old != nil {
		return old
	}
	if s.kept == nil {
		s.kept = map[string]*Recording{}
	}
	if s.Ahead != nil {
		r.Ahead = s.Ahead(r.Layout)
	}
	s.kept[key] = r
	return r
}
