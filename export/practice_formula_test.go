package export

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// token is a part of a formula.
type token struct {
	kind     byte // 's' text, 'n' number, 'f' function, 'r' cells, 'w' name, 'o' anything else
	text     string
	sheet    string // of cells elsewhere
	from, to corners
}

// corners is one corner of a block of cells.
type corners struct {
	row, col       int
	fixRow, fixCol bool
}

// tokens takes a formula apart.
func tokens(f string) []token {
	var out []token
	for i := 0; i < len(f); {
		t, n := nextToken(f[i:])
		out = append(out, t)
		i += n
	}
	return out
}

func nextToken(f string) (token, int) {
	switch c := f[0]; {
	case c == '"':
		n := quotedLength(f, '"')
		return token{kind: 's', text: f[:n]}, n
	case c == '\'':
		n := quotedLength(f, '\'')
		if n < len(f) && f[n] == '!' {
			t, m := wordToken(f[n+1:])
			t.sheet = strings.ReplaceAll(f[1:n-1], "''", "'")
			return t, n + 1 + m
		}
		return token{kind: 'o', text: f[:n]}, n
	case c >= '0' && c <= '9':
		n := numberLength(f)
		return token{kind: 'n', text: f[:n]}, n
	case c == '$' || c == '_' || isLetter(c):
		t, n := wordToken(f)
		if n < len(f) && f[n] == '!' && t.kind != 'f' {
			sheet := f[:n]
			t, m := wordToken(f[n+1:])
			t.sheet = sheet
			return t, n + 1 + m
		}
		return t, n
	}
	return token{kind: 'o', text: f[:1]}, 1
}

func isLetter(c byte) bool { return c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' }

func quotedLength(f string, q byte) int {
	for i := 1; i < len(f); i++ {
		if f[i] == q {
			if i+1 == len(f) || f[i+1] != q {
				return i + 1
			}
			i++
		}
	}
	return len(f)
}

func numberLength(f string) int {
	n := 0
	for n < len(f) && (f[n] >= '0' && f[n] <= '9' || f[n] == '.') {
		n++
	}
	if n+1 < len(f) && f[n] == 'E' {
		m := n + 1
		if f[m] == '-' || f[m] == '+' {
			m++
		}
		for m < len(f) && f[m] >= '0' && f[m] <= '9' {
			m++
			n = m
		}
	}
	return n
}

// wordToken reads a function, a name, or cells with both corners.
func wordToken(f string) (token, int) {
	n := wordLength(f)
	word := f[:n]
	if n < len(f) && f[n] == '(' {
		return token{kind: 'f', text: word}, n
	}
	from, ok := cornerOf(word)
	if !ok {
		return token{kind: 'w', text: word}, max(n, 1)
	}
	t := token{kind: 'r', text: word, from: from, to: from}
	if n < len(f) && f[n] == ':' {
		m := wordLength(f[n+1:])
		if to, ok := cornerOf(f[n+1 : n+1+m]); ok {
			t.to, n = to, n+1+m
			t.text = f[:n]
		}
	}
	return t, n
}

func wordLength(f string) int {
	n := 0
	for n < len(f) && (f[n] == '$' || f[n] == '_' || f[n] == '.' || isLetter(f[n]) || f[n] >= '0' && f[n] <= '9') {
		n++
	}
	return n
}

func cornerOf(s string) (c corners, ok bool) {
	s, c.fixCol = strings.CutPrefix(s, "$")
	n := 0
	for n < len(s) && s[n] >= 'A' && s[n] <= 'Z' {
		c.col = c.col*26 + int(s[n]-'A') + 1
		n++
	}
	if n == 0 || n > 3 {
		return c, false
	}
	s, c.fixRow = strings.CutPrefix(s[n:], "$")
	row, err := strconv.Atoi(s)
	c.row = row
	return c, err == nil && row > 0
}

// readable is how long a formula is that can be read in one go.
const readable = 150

func (p *practice) shortFormulas() {
	p.each(func(s *Sheet, r, c int, cell Cell) {
		if n := len(cell.Formula); n > readable {
			p.tell(s, r, c, fmt.Sprintf("%d characters: %s", n, cell.Formula))
		}
	})
}

// volatile are functions whose result changes without any input changing, and
// those that reach cells which nobody can trace.
var volatile = map[string]bool{"NOW": true, "TODAY": true, "RAND": true, "RANDBETWEEN": true, "OFFSET": true, "INDIRECT": true, "CELL": true, "INFO": true}

func (p *practice) noVolatile() {
	p.eachToken(func(s *Sheet, r, c int, cell Cell, t token) {
		if t.kind == 'f' && volatile[t.text] {
			p.tell(s, r, c, t.text+" in "+cell.Formula)
		}
	})
}

func (p *practice) eachToken(f func(s *Sheet, r, c int, cell Cell, t token)) {
	p.each(func(s *Sheet, r, c int, cell Cell) {
		for _, t := range tokens(cell.Formula) {
			f(s, r, c, cell, t)
		}
	})
}

// reachingOut are functions that read something else than cells.
var reachingOut = map[string]bool{"HYPERLINK": true, "WEBSERVICE": true, "DDE": true, "RTD": true, "IMPORTDATA": true, "IMPORTXML": true, "FILTERXML": true, "CALL": true}

func (p *practice) nothingOutside() {
	p.eachToken(func(s *Sheet, r, c int, cell Cell, t token) {
		switch {
		case t.kind == 'f' && reachingOut[t.text], t.kind == 'o' && strings.ContainsAny(t.text, "[]|{}"),
			t.sheet != "" && p.book.Find(t.sheet) == nil:
			p.tell(s, r, c, t.sheet+" "+t.text+" in "+cell.Formula)
		}
	})
	for _, n := range p.book.Names {
		for _, t := range tokens(n.RefersTo) {
			if t.kind != 'r' || p.book.Find(t.sheet) == nil {
				p.tell(p.book.Sheets[0], 1, 1, "the name "+n.Name+" refers to "+n.RefersTo)
			}
		}
	}
}

// literals looks for figures in formulas: 0 and 1 may stand there, and what converts
// between the units of the formula's own cells, in the direction in which it does.
func (p *practice) literals() {
	p.each(func(s *Sheet, r, c int, cell Cell) {
		list := tokens(cell.Formula)
		known := false
		var units conversions
		for i, t := range list {
			if t.kind != 'n' || t.text == "0" || t.text == "1" {
				continue
			}
			if !known {
				known, units = true, p.conversions(s, r, c, list)
			}
			if !units.allowed(list, i) {
				p.tell(s, r, c, behind(list, i)+t.text+" in "+cell.Formula)
			}
		}
	})
}

// behind is the sign in front of the figure at i.
func behind(list []token, i int) string {
	if i > 0 && list[i-1].kind == 'o' {
		return list[i-1].text
	}
	return ""
}

// sameFormula compares neighbours: cells of one look side by side, and on a
// sheet of a series those of a column.
func (p *practice) sameFormula() {
	for _, s := range p.book.Sheets {
		if listSheets[s.Name] {
			continue
		}
		steps := p.stepsOf(s)
		for r, row := range s.Rows() {
			for c := range row {
				a, right := s.At(r+1, c+1), s.At(r+1, c+2)
				if c+1 >= itemCol && a.Style == right.Style {
					p.compare(s, r+1, c+1, r+1, c+2)
				}
				if p.series[s.Name] && r+1 >= seriesRow && isStep(steps[r+1]) && isStep(steps[r+2]) {
					p.compare(s, r+1, c+1, r+2, c+1)
				}
			}
		}
	}
}

// listSheets are sheets whose columns say one thing each of what stands in the rows.
var listSheets = map[string]bool{limitsName: true, computedName: true, reachedName: true}

// compare tells the second of two neighbours that do not have one formula.
func (p *practice) compare(s *Sheet, r, c, nextR, nextC int) {
	a, b := s.At(r, c).Formula, s.At(nextR, nextC).Formula
	if a == "" || b == "" {
		for _, one := range []Cell{s.At(r, c), s.At(nextR, nextC)} {
			_, words := one.Value.(string)
			_, truth := one.Value.(bool)
			if a != b && one.Formula == "" && (words || truth) && one.Style != Head {
				p.tell(s, nextR, nextC, fmt.Sprintf("%v beside %s", one.Value, a+b))
			}
		}
		return
	}
	if s.At(r, c).Style == Head && strings.Contains(a+b, `&": "&`) {
		return // heads that name a part of what an item has, in words
	}
	if p.relativeAt(s, r, c, a) != p.relativeAt(s, nextR, nextC, b) {
		p.tell(s, nextR, nextC, b+"; beside it "+a)
	}
}

// manyRanges reports whether a finding is about one function over many ranges
// of the sheet of a series.
func manyRanges(what string) bool {
	ranges := 0
	for _, t := range tokens(what[strings.Index(what, ": ")+2:]) {
		switch t.kind {
		case 'r':
			if t.sheet == "" {
				return false
			}
			ranges++
		case 'f':
			if !slices.Contains([]string{"SUM", "MAX", "MIN", "COUNT", "COUNTIF", "AVERAGE"}, t.text) {
				return false
			}
		case 'n', 's':
			return false
		}
	}
	return ranges > 3
}

// relativeAt is the relative form of a cell's formula, worked out once.
func (p *practice) relativeAt(s *Sheet, row, col int, f string) string {
	if p.seen != s {
		p.seen, p.forms = s, map[[2]int]string{}
	}
	at := [2]int{row, col}
	if _, ok := p.forms[at]; !ok {
		p.forms[at] = p.relative(s, row, col, f)
	}
	return p.forms[at]
}

// relative is a formula with its cells told from where it stands: columns and
// rows by their distance, rows of a series by the steps from its own.
func (p *practice) relative(s *Sheet, row, col int, f string) string {
	var b strings.Builder
	for _, t := range tokens(f) {
		if t.kind != 'r' {
			b.WriteString(t.text)
			continue
		}
		to := s
		if t.sheet != "" {
			b.WriteString(t.sheet + "!")
			to = p.book.Find(t.sheet)
		}
		for i, k := range []corners{t.from, t.to} {
			if i == 0 || k != t.from {
				b.WriteString(p.rowFrom(s, row, to, k) + columnFrom(col, k))
			}
		}
	}
	return b.String()
}

func columnFrom(col int, k corners) string {
	if k.fixCol {
		return fmt.Sprint("C", k.col)
	}
	return "C[" + strconv.Itoa(k.col-col) + "]"
}

func (p *practice) rowFrom(s *Sheet, row int, to *Sheet, k corners) string {
	if k.fixRow {
		return fmt.Sprint("R", k.row)
	}
	here, there := p.stepsOf(s)[row], map[string]float64(nil)
	if to != nil {
		there = p.stepsOf(to)[k.row]
	}
	if here == nil || there == nil {
		return "R[" + strconv.Itoa(k.row-row) + "]"
	}
	var out []string
	for _, name := range sortedSteps(there) {
		if at, ok := here[name]; ok {
			out = append(out, fmt.Sprintf("%s%+g", name, there[name]-at))
		} else {
			out = append(out, fmt.Sprintf("%s=%g", name, there[name]))
		}
	}
	return "R<" + strings.Join(out, ",") + ">"
}
