package export

import (
	"strconv"
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/unit"
)

// decimals is how many digits after the point a quantity is shown with: as the
// rules say, else as many as decide something at the size of its values.
func (pl *plan) decimals(q *check.Quantity) int {
	if q.Decimals >= 0 {
		return q.Decimals
	}
	var values []float64
	for i := range q.Kind.Items {
		for row := range q.Rows() {
			values = append(values, q.Unit.FromBase(pl.res.At(q, i, row)))
		}
	}
	return unit.DecimalsFor(values)
}

// format is the number format of a quantity's cells.
func (pl *plan) format(q *check.Quantity) string {
	switch q.Type {
	case decl.Boolean, decl.Set:
		return TruthFormat
	case decl.Number:
	default:
		return ""
	}
	return decimalFormat(pl.decimals(q))
}

func decimalFormat(n int) string {
	if n <= 0 {
		return "#,##0"
	}
	return "#,##0." + strings.Repeat("0", n)
}

// exactFormat is a format that shows published or typed values as they are
// written, to four decimals.
func exactFormat(values []float64) string {
	most := 0
	for _, v := range values {
		s := strconv.FormatFloat(round15(v), 'f', -1, 64)
		if i := strings.IndexByte(s, '.'); i >= 0 {
			most = max(most, min(len(s)-i-1, 4))
		}
	}
	return decimalFormat(most)
}

// textFormat keeps what is typed as text: a choice may look like a number.
const textFormat = "@"

// TruthFormat shows a truth value as a word in programs that keep it as a number;
// others pay no heed to it. LibreOffice 7.4 gives cells without
// a format one of its own when they turn out to be true or false, and then ends
// in a crash when a sheet with conditional colours is printed.
const TruthFormat = `"TRUE";"TRUE";"FALSE"`

// unitName is a unit as people of the scenario's currency read it.
func (pl *plan) unitName(u unit.Unit) string { return u.In(pl.prog.Model.Currency) }

func baseUnit(d unit.Dim) unit.Unit { return unit.Base(d) }

// content is what the cell of a quantity holds, nil where there is no value.
func (pl *plan) content(q *check.Quantity, item, row int) any {
	v := pl.res.At(q, item, row)
	if v != v {
		return nil
	}
	switch q.Type {
	case decl.Boolean, decl.Set:
		return v != 0
	case decl.Text:
		return pl.prog.Texts[int(v)]
	case decl.Reference:
		return q.To.Items[int(v)].Name
	}
	return round15(q.Unit.FromBase(v))
}

// round15 rounds to the 15 digits that workbooks keep.
func round15(v float64) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 15, 64), 64)
	if err != nil {
		return v
	}
	return r
}
