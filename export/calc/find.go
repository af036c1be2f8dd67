package calc

import (
	"strconv"
	"strings"
)

// criterion is the condition of COUNTIF and its kin: a value, or text that
// begins with a comparison.
func criterion(v Value) func(Value) bool {
	if v.T == Text {
		for _, op := range []string{"<>", "<=", ">=", "<", ">", "="} {
			if !strings.HasPrefix(v.S, op) {
				continue
			}
			rest := v.S[len(op):]
			want := Str(rest)
			if x, err := strconv.ParseFloat(rest, 64); err == nil {
				want = Num(x)
			}
			return func(c Value) bool { return meets(op, c, want) }
		}
	}
	return func(c Value) bool { return c.T == v.T && order(c, v) == 0 }
}

func meets(op string, c, want Value) bool {
	if op == "<>" {
		return c.T != want.T || order(c, want) != 0
	}
	if c.T != want.T {
		return false
	}
	o := order(c, want)
	switch op {
	case "<":
		return o < 0
	case "<=":
		return o <= 0
	case ">":
		return o > 0
	case ">=":
		return o >= 0
	}
	return o == 0
}

// sumIf is SUMIF and AVERAGEIF with a range of their own to add up.
func sumIf(a []block, done func(sum float64, n int) Value) block {
	want := criterion(a[1].single())
	what := a[0]
	if len(a) > 2 {
		what = a[2]
	}
	sum, n := 0.0, 0
	for r := range a[0].rows {
		for c := range a[0].cols {
			if !want(a[0].at(r, c)) {
				continue
			}
			v := what.at(r, c)
			if v.T == Error {
				return one(v)
			}
			if v.T == Number {
				sum += v.N
				n++
			}
		}
	}
	return one(done(sum, n))
}

// countIfs is COUNTIFS: ranges and conditions in turn.
func countIfs(a []block) block {
	n := 0
	wants := make([]func(Value) bool, len(a)/2)
	for i := range wants {
		wants[i] = criterion(a[2*i+1].single())
	}
	for r := range a[0].rows {
		for c := range a[0].cols {
			ok := true
			for i, want := range wants {
				ok = ok && want(a[2*i].at(r, c))
			}
			if ok {
				n++
			}
		}
	}
	return one(Num(float64(n)))
}

// index is INDEX(block, row, column); 0 stands for all of them. With one
// number, a single row or column is counted along.
func index(a []block) block {
	k := a[0]
	var at [2]int
	for i := range a[1:] {
		x, err := a[i+1].single().number()
		if err.T == Error {
			return one(err)
		}
		at[i] = int(x)
	}
	if len(a) == 2 && k.rows == 1 {
		at = [2]int{1, at[0]}
	} else if len(a) == 2 {
		at[1] = 1
	}
	r, c := at[0], at[1]
	if r < 0 || c < 0 || r > k.rows || c > k.cols {
		return one(errRef)
	}
	out := block{rows: 1, cols: 1, isArea: k.isArea, area: k.area, book: k.book}
	if r == 0 {
		r, out.rows = 1, k.rows
	}
	if c == 0 {
		c, out.cols = 1, k.cols
	}
	if k.book == nil {
		out.from = func(i, j int) Value { return k.at(r-1+i, c-1+j) }
	}
	out.area.row, out.area.col = k.area.row+int32(r-1), k.area.col+int32(c-1)
	out.area.lastRow, out.area.lastCol = out.area.row+int32(out.rows-1), out.area.col+int32(out.cols-1)
	return out
}

// match is MATCH with 0 (the first equal) or 1 (the last that is not above, in
// rising order); values of another type are passed over.
func match(a []block) block {
	v := a[0].single()
	if v.T == Error {
		return one(v)
	}
	exact := len(a) > 2 && a[2].single().N == 0
	found, i := 0, 0
	a[1].each(func(c Value) {
		i++
		if c.T != v.T {
			return
		}
		switch o := order(c, v); {
		case exact && o == 0 && found == 0, !exact && o <= 0:
			found = i
		}
	})
	if found == 0 {
		return one(errNA)
	}
	return one(Num(float64(found)))
}
