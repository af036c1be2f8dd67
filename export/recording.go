package export

import "bankwright/engine/check"

// recordingLine is the place of a recording: its file's name, and how many of its
// rows were used. No formula follows them, since a workbook cannot read the file;
// the sheet Computed tells where they were changed.
func (pl *plan) recordingLine(q *check.Quantity, l line) *line {
	l.rows, l.look, l.unit = 2, InputText, ""
	l.labels = []string{labelOf(q) + ": file", labelOf(q) + ": rows used"}
	l.data = func(item, row int) Cell {
		c := Cell{Style: InputText}
		rec := pl.res.RecordingOf(q, item)
		switch {
		case rec == nil:
		case row == 0:
			c.Value = rec.Source.File
		default:
			c.Value = number(float64(rec.Report().Rows))
		}
		return c
	}
	in := pl.newLine(pl.inputs, l)
	pl.inputs.lines = append(pl.inputs.lines, in)
	return in
}

// unrecorded reports whether the formulas of a rule are not live for recordings
// alone, of which none is given: then it has no value, and that can be said live.
func (pl *plan) unrecorded(q *check.Quantity) bool {
	none := true
	see := func(e *check.Expr) {
		if e.Op != check.Call || e.Fn.Live() {
			return
		}
		if e.Fn.Measure == nil {
			none = false
			return
		}
		of := e.Args[0].Ref.Target
		for item := range of.Kind.Items {
			none = none && pl.res.RecordingOf(of, item) == nil
		}
	}
	q.Value.Walk(see)
	q.Start.Walk(see)
	return none
}

// unrecorded is what a function of a recording gives where there is no recording:
// nothing. One that is typed in later cannot be read, and gives no value.
func (s *scope) unrecorded(e *check.Expr) term {
	r := e.Args[0].Ref
	return term{lit("NA()"), precAtom, []text{emptiness(s.cells(r, nil), r)}}
}
