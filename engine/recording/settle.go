package recording

import (
	"strings"
	"unicode"

	"bankwright/engine/diag"
	"bankwright/engine/unit"
)

// unitRow adds the units that stand in a row of their own to the header.
func (h *head) unitRow(cells []string) {
	joined := append([]string(nil), h.header...)
	for i, c := range cells {
		symbol := strings.Trim(cell(c), "()[]")
		if symbol == "" || i >= len(joined) {
			continue
		}
		if unicode.IsDigit(rune(symbol[0])) {
			return
		}
		if _, ok := written(symbol); !ok {
			if i == h.at[h.time] {
				continue // such as hh:mm:ss
			}
			return
		}
		if _, has := split(cell(joined[i])); has == "" {
			joined[i] += " (" + symbol + ")"
		}
	}
	h.header = joined
}

// units finds the unit of each column: that of the source, else of the header,
// else of the layout.
func (h *head) units() {
	for i, c := range h.layout.Columns {
		found := Found{Number: h.at[i] + 1, Unit: c.Unit}
		if at := h.at[i]; at >= 0 && at < len(h.header) {
			found.Header = cell(h.header[at])
		}
		switch f := h.fieldOf(i); {
		case i == h.time:
			found.Unit = h.timeUnit(found.Header)
		case f.Unit != nil:
			u, ok := f.Unit.As(c.Unit.Dim)
			if !ok {
				h.fail(0, "unit", "Name the unit in which the file gives it.",
					"%s is %s, but its unit in the recording is said to be %s", c.Name, c.Unit.Dim.Describe(), f.Unit)
			}
			found.Unit = u
		default:
			found.Unit = h.headerUnit(c, found)
		}
		h.form.Columns = append(h.form.Columns, found)
	}
}

// headerUnit is the unit of a header, or of the layout where it has none. One that
// is not understood is told.
func (h *head) headerUnit(c Column, found Found) unit.Unit {
	u, symbol, err := headed(found.Header, c.Unit.Dim)
	if symbol == "" {
		return c.Unit
	}
	switch err {
	case errDim:
		h.fail(h.form.Header, "unit", "Name the column that is meant, or say in which unit the file gives it.",
			"%s is %s, but its header reads %q", c.Name, c.Unit.Dim.Describe(), found.Header)
	case errUnit:
		in := c.Unit.String()
		if in == "" {
			in = "a number without unit"
		}
		h.list.Warnf(diag.Pos{File: h.source.File, Line: h.form.Header}, "unit",
			"Say in which unit the file gives it, if that is wrong.",
			"%q in the header %q is no unit; %s is read as %s", symbol, found.Header, c.Name, in)
		return c.Unit
	}
	return u
}

// timeUnit is the unit of times that are numbers; one without size where nothing
// says so.
func (h *head) timeUnit(header string) unit.Unit {
	if u := h.source.TimeUnit; u.Mul != 0 {
		return u
	}
	if f := h.fieldOf(h.time); f.Unit != nil {
		return *f.Unit
	}
	if u, symbol, err := headed(header, unit.Hour); err == nil && symbol != "" {
		return u
	}
	return unit.Unit{} // that of the layout tells nothing of the file
}

// sample are the cells of a column of the file in the head's rows.
func (h *head) sample(at int) []string {
	list := []string{}
	for _, r := range h.rows {
		if at >= 0 && at < len(r.cells) {
			list = append(list, r.cells[at])
		}
	}
	return list
}

// decimal finds the decimal sign.
func (h *head) decimal() {
	if h.form.Decimal = h.source.Decimal; h.form.Decimal != 0 {
		return
	}
	var cells []string
	for _, at := range h.at {
		cells = append(cells, h.sample(at)...)
	}
	if h.form.Decimal = decimalSign(cells); h.form.Decimal == 0 {
		h.fail(h.form.First, "number", `Say which is the decimal sign: "." or ",".`,
			"some numbers have a decimal point and some a decimal comma")
	}
	if h.form.Delimiter == ',' && h.form.Decimal == ',' && grouped(cells) {
		h.fail(h.form.First, "number", `Say which is the decimal sign. If it is ".", save the recording without commas in its numbers.`,
			"every comma in a number has three digits behind it, so that it may part thousands in place of decimals")
	}
	if h.form.Delimiter == ',' && h.wider() {
		h.fail(h.form.First, "row", "Save the recording with semicolons between the columns, or with decimal points.",
			"most rows have more cells than the header; a comma seems to stand for both the decimal sign and the end of a cell")
	}
}

// wider reports whether most rows have more cells than the header, up to a second one.
func (h *head) wider() bool {
	n := 0
	for _, r := range h.rows {
		cells := r.cells
		if alike(cells, h.header, h.at[h.time]) {
			break
		}
		for len(cells) > 0 && trim(cells[len(cells)-1]) == "" {
			cells = cells[:len(cells)-1]
		}
		if len(cells) > len(h.header) {
			n++
		}
	}
	return len(h.header) > 0 && 2*n > len(h.rows)
}

// times finds the form of the times.
func (h *head) times() {
	h.form.Time, h.form.TimeUnit = h.source.TimeForm, h.form.Columns[h.time].Unit
	if h.form.Time == Recognised {
		h.timeForm()
	}
	if h.list.HasErrors() || h.form.Time != Number {
		return
	}
	const mend = `Say the unit of the times, such as "s" or "h".`
	switch u := h.form.TimeUnit; {
	case u.Mul == 0:
		h.fail(h.form.First, "unit", mend, "the times are numbers, and nothing says whether these are seconds, minutes or hours")
	case u.Dim != unit.Hour:
		h.fail(0, "unit", mend, "the unit of the times is said to be %s, which is no unit of time", u)
	case u.Mul/u.Div*nanosPerHour < 1:
		h.fail(0, "unit", mend, "the unit of the times is too small")
	}
}

// timeForm recognises the form of the times.
func (h *head) timeForm() {
	var dates []string
	times := h.sample(h.at[h.time])
	if h.date >= 0 {
		if dates = h.sample(h.date); len(dates) != len(times) {
			n := min(len(dates), len(times))
			dates, times = dates[:n], times[:n]
		}
	}
	found := timeForms(times, dates, h.form.Decimal)
	switch {
	case len(found) == 1:
		h.form.Time = found[0]
	case len(found) > 1:
		h.fail(h.form.First, "clock", `Say which it is: the time form "`+string(found[0])+`" or "`+string(found[1])+`".`,
			"the times, such as %q, can be read in two ways", first(times, dates))
	default:
		h.noTimes(h.form.First, first(times, dates))
	}
}

// noTimes tells that the times are not understood.
func (h *head) noTimes(line int, example string) {
	h.fail(line, "clock", "Write times such as 2026-03-02 10:15:30, 02-Mar-2026 10:15, 10:15:30, or a number of seconds, or say the form of the times.",
		"the times, such as %s, are of no form that is known", clip(example))
}

// first is the first time, for a message.
func first(times, dates []string) string {
	switch {
	case len(times) == 0:
		return ""
	case dates != nil:
		return trim(dates[0]) + " " + trim(times[0])
	}
	return trim(times[0])
}
