package engine

import (
	"fmt"
	"slices"
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/diag"
	"bankwright/engine/eval"
	"bankwright/engine/reading"
	"bankwright/engine/recording"
	"bankwright/engine/unit"
)

// recordingProblems is what is to be told of the recordings that a model names,
// and their files as far as that shows them.
func recordingProblems(declared *decl.Model) (list diag.List, files []*decl.File) {
	recordings, named := declared.Recordings()
	for i, rec := range recordings {
		problems := rec.Report().Problems
		if len(problems) == 0 {
			continue
		}
		for _, d := range problems {
			if d.Severity == diag.Error {
				d.Related = append(slices.Clone(d.Related), diag.Related{At: named[i], Text: "the recording is named here"})
			}
			if d.Mend == "" {
				d.Mend = "Nothing need be done if that is right."
			}
			list.Add(d)
		}
		files = append(files, &decl.File{Name: rec.Source.File, Text: rec.Lines(), Recording: true})
	}
	return list, files
}

// recordingText is a recording in a few words.
func recordingText(rec *reading.Recording) string {
	return fmt.Sprintf("%s, %s", rec.Name, countOf(rec.Report().Rows, "row", "rows"))
}

func countOf(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return unit.Format(float64(n), 0) + " " + many
}

// notRecorded says that a recording has not what a formula looks for in it.
func (m *Model) notRecorded(cause eval.Cause) string {
	for _, f := range m.Result.Findings(cause.Cell) {
		if f.Call == cause.Expr {
			names := make([]string, 0, 2)
			for _, a := range f.Call.Args[:f.Call.Columns()] {
				names = append(names, a.Ref.Target.Columns[a.Col].Name)
			}
			return fmt.Sprintf("%s has no %s of %s", f.Recording.Name, f.Call.Fn.Name, strings.Join(names, " and "))
		}
	}
	return cause.Expr.Fn.Name + " finds nothing in the recording"
}

// recorded says where in recordings the value of a cell was found: for each
// measure the rows, and what is missing between them.
func (m *Model) recorded(c eval.Cell) []string {
	var out []string
	var seen []*reading.Recording
	for _, f := range m.Result.Findings(c) {
		source := m.source(c, f.Call)
		if r := f.Result; r.Rows == 0 {
			out = append(out, source+": nothing found in "+f.Recording.Name)
		} else {
			s := fmt.Sprintf("%s: lines %d to %d of %s, %s", source, r.First, r.Last, f.Recording.Name, countOf(r.Rows, "row", "rows"))
			if r.First == r.Last {
				s = fmt.Sprintf("%s: line %d of %s", source, r.First, f.Recording.Name)
			}
			if r.At == r.At {
				s += ", at " + lasting(r.At) + " after the first row"
			}
			if r.Missing > 0 {
				s += ", " + lasting(r.Missing) + " of it missing"
			}
			if r.Unsure > 0 {
				s += ", the true value may be larger by up to " + unit.Base(r.Dim).Show(r.Unsure, -1, m.Model.Currency)
			}
			out = append(out, s)
		}
		if !slices.Contains(seen, f.Recording) {
			seen = append(seen, f.Recording)
		}
	}
	for _, rec := range seen {
		out = append(out, repaired(rec)...)
	}
	return out
}

// source is a part of a cell's formula as it is written.
func (m *Model) source(c eval.Cell, e *check.Expr) string {
	text := []rune(m.FormulaAt(c).Text)
	from := min(max(e.At.Start, 0), len(text))
	return string(text[from:min(from+e.At.Len, len(text))])
}

// recordingAbout says how a recording was read: its form, its rows and time, and
// what was repaired.
func recordingAbout(rec *reading.Recording) []string {
	r := rec.Report()
	if !r.Usable() {
		return nil
	}
	return append([]string{r.Form.String(), RowsRead(r)}, repaired(rec)...)
}

// RowsRead says which rows of a usable recording were read, and over what time.
func RowsRead(r *recording.Report) string {
	s := fmt.Sprintf("%s in lines %d to %d, over %s", countOf(r.Rows, "row", "rows"), r.FirstLine, r.LastLine, lasting(r.Span))
	if r.Missing > 0 {
		s += ", " + lasting(r.Missing) + " of it missing"
	}
	return s
}

// Silent says for how much of the time of a usable recording a column has no value, in
// hours, gaps of all columns included; "" where it lacks no more than these.
func Silent(r *recording.Report, column string, missing float64) string {
	if !(missing > r.Missing*(1+1e-9)) {
		return ""
	}
	return column + " has no value for " + lasting(missing) + " of it"
}

// repaired says what was found amiss in a recording, in a line; nothing where all
// was well.
func repaired(rec *reading.Recording) []string {
	r := rec.Report()
	var parts []string
	for _, k := range []struct {
		kind      recording.Kind
		one, many string
	}{
		{recording.Gap, "gap", "gaps"},
		{recording.Silence, "time without a value", "times without a value"},
		{recording.Reset, "new start of the clock", "new starts of the clock"},
		{recording.Rollover, "midnight passed", "midnights passed"},
		{recording.Backward, "row out of order left out", "rows out of order left out"},
		{recording.RepeatedTime, "repeated time", "repeated times"},
		{recording.RepeatedRow, "repeated row left out", "repeated rows left out"},
		{recording.CounterReset, "reset of a counter", "resets of a counter"},
		{recording.BadTime, "row without a time left out", "rows without a time left out"},
		{recording.BadNumber, "cell that is no number", "cells that are no number"},
		{recording.NoNumber, "empty cell", "empty cells"},
		{recording.BadRow, "broken row left out", "broken rows left out"},
		{recording.SpreadRow, "row over several lines left out", "rows over several lines left out"},
		{recording.SecondHeader, "repeated header left out", "repeated headers left out"},
		{recording.Cut, "cut line left out", "cut lines left out"},
	} {
		if n := r.Count[k.kind]; n > 0 {
			parts = append(parts, countOf(n, k.one, k.many))
		}
	}
	if len(parts) == 0 {
		return nil
	}
	return []string{rec.Name + ": " + strings.Join(parts, ", ")}
}

// lasting is a length of time in a unit of its size.
func lasting(hours float64) string {
	name := "h"
	switch {
	case hours < 2.0/60:
		name = "s"
	case hours < 2:
		name = "min"
	}
	u, _ := unit.Parse(name)
	return u.Show(hours, -1, "")
}

// Brief shortens what is told of recordings: in the place of many warnings of one
// file it has one, and whatever is not a warning of a recording stays.
func Brief(list diag.List, files []*decl.File, more string) diag.List {
	count, first := map[string]int{}, map[string]diag.Diagnostic{}
	recorded := func(d diag.Diagnostic) bool {
		return d.Severity == diag.Warning && slices.ContainsFunc(files, func(f *decl.File) bool { return f.Recording && f.Name == d.At.File })
	}
	for _, d := range list {
		if recorded(d) {
			if count[d.At.File]++; count[d.At.File] == 1 {
				first[d.At.File] = d
			}
		}
	}
	var out diag.List
	told := map[string]bool{}
	for _, d := range list {
		switch n := count[d.At.File]; {
		case !recorded(d):
			out.Add(d)
		case !told[d.At.File]:
			told[d.At.File] = true
			text := d.Summary
			if n > 1 {
				text += fmt.Sprintf("; and %s", countOf(n-1, "more message", "more messages"))
			}
			out.Add(diag.Diagnostic{Code: d.Code, Severity: d.Severity, At: diag.Pos{File: d.At.File, Line: d.At.Line}, Summary: text, Mend: more})
		}
	}
	return out
}
