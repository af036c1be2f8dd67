package export

import "strings"

// typed notes where numbers stand that are shown as they are typed: their
// format has the decimals that were needed when the workbook was written.
func (s *Sheet) typed() {
	type run struct {
		first, last, col, end, decimals int
	}
	var open, done []run
	for r := range len(s.rows) + 1 {
		var now []run
		for c := 1; r < len(s.rows) && c <= len(s.rows[r]); c++ {
			d, ok := typedDecimals(s.At(r+1, c))
			switch n := len(now); {
			case !ok:
			case n > 0 && now[n-1].end == c-1 && now[n-1].decimals == d:
				now[n-1].end = c
			default:
				now = append(now, run{r + 1, r + 1, c, c, d})
			}
		}
		for _, above := range open {
			joined := false
			for i, b := range now {
				if b.col == above.col && b.end == above.end && b.decimals == above.decimals {
					now[i].first, joined = above.first, true
				}
			}
			if !joined {
				done = append(done, above)
			}
		}
		open = now
	}
	for _, d := range done {
		s.Typed = append(s.Typed, Typed{cellName(d.first, d.col) + ":" + cellName(d.last, d.end), d.decimals})
	}
}

// typedDecimals are the decimals of a cell's format, if it is one of those that
// are shown as they are typed.
func typedDecimals(c Cell) (int, bool) {
	if !c.Typed || !strings.HasPrefix(c.Format, "#,##0") {
		return 0, false
	}
	_, decimals, _ := strings.Cut(c.Format, ".")
	return len(decimals), true
}
