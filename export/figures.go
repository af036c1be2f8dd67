package export

import (
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/unit"
)

// Sentences hold figures whose decimals follow from their values, by the rules
// of engine.Sentence and unit.DecimalsTogether. The sheet Figures works them out
// live, a column an item: what a sentence reads, how many decimals it needs, and
// the figure as it is written there.

const figuresName = "Figures"

// Names of the constants by which figures are written.
const (
	digitsName = "figure_digits"
	roundName  = "figure_round"
	leastName  = "figure_least"
	mostName   = "figure_most"
	baseName   = "figure_base"
	marginName = "figure_margin"
)

// writing are the constants of unit.DecimalsTogether, as cells.
var writing = []struct {
	name, label string
	value       float64
	format      string
}{
	{digitsName, "Digits of a figure in a sentence", 3, "0"},
	{roundName, "Share of a power of ten that is rounded up to it", 0.9995, "0.0000"},
	{leastName, "Smallest figure that is written in full", 0.0001, "0.0000"},
	{mostName, "Most decimals", 15, "0"},
	{baseName, "Base of powers", 10, "0"},
	{marginName, "What a logarithm may lack of a whole number", 1e-9, "0E+00"},
}

const writingRow = 5 // of the first constant

// drawWriting draws the constants by which figures are written.
func (pl *plan) drawWriting(s *Sheet) {
	s.text(writingRow-1, labelCol, "How figures are written", Section)
	for i, c := range writing {
		row := writingRow + i
		s.text(row, labelCol, c.label, Label)
		s.text(row, unitCol, numberWord, Unit)
		s.Set(row, itemCol, Cell{Value: c.value, Style: Plain, Format: c.format})
		pl.book.Names = append(pl.book.Names, Name{c.name, Range{Sheet: figuresName, Row: row, Col: itemCol}.String()})
	}
}

// figureLines are the lines of the sheet Figures that belong to a kind.
func (pl *plan) figureLines(k *check.Kind) []*line {
	var out []*line
	for _, l := range pl.writing.lines {
		if l.kind == k {
			out = append(out, l)
		}
	}
	return out
}

// figureLine puts a line on the sheet Figures.
func (s *scope) figureLine(l line) *line {
	l.kind, l.only = s.kind, own
	if l.look == Plain {
		l.look = Computed
	}
	out := s.pl.newLine(s.pl.writing, l)
	s.pl.writing.lines = append(s.pl.writing.lines, out)
	return out
}

// figures gives each number that a sentence reads a cell with its text.
func (s *scope) figures(parts []check.Part) map[*check.Expr]text {
	byUnit := map[string][]*check.Expr{}
	var units []string
	for _, p := range parts {
		if p.Read == nil || p.Read.Ref.Target.Type != decl.Number {
			continue
		}
		u := p.Read.Ref.Target.Unit.Name
		if byUnit[u] == nil {
			units = append(units, u)
		}
		byUnit[u] = append(byUnit[u], p.Read)
	}
	out := map[*check.Expr]text{}
	for _, u := range units {
		if list := byUnit[u]; len(list) == 1 {
			out[list[0]] = s.single(list[0])
		} else {
			l := s.together(list)
			for i, e := range list {
				out[e] = cell(&ref{to: l, item: own, row: i})
			}
		}
	}
	return out
}

// value is the formula of a cell with what a sentence reads, in the unit of the
// quantity; it is empty where there is no value.
func (s *scope) value(e *check.Expr) text {
	t := s.read(e)
	// A blank cell that is passed on is empty to some programs and 0 to others.
	return join("IFERROR(", guarded(join(t.paren(precSum), "+0"), t.needs), `,"")`)
}

// single is a number that is alone in its unit; sentences share it.
func (s *scope) single(e *check.Expr) text {
	q := e.Ref.Target
	value := s.value(e)
	key := s.kind.Name + " " + q.Unit.Name + " " + number(float64(q.Decimals)) + " " + value.key()
	if l := s.pl.figureTexts[key]; l != nil {
		return cell(&ref{to: l, item: own})
	}
	v := &ref{to: s.figureLine(line{label: labelOf(q), unit: s.pl.unitName(q.Unit), look: Pulled, step: func(int, int) text { return value }}), item: own}
	decimals := lit(number(float64(q.Decimals)))
	if q.Decimals > 1 {
		decimals = cell(s.asked(labelOf(q), q.Decimals))
	} else if q.Decimals < 0 {
		t := join("IF(", v, `="",0,IF(`, isWhole(v), ",0,", threeDigits(join("ABS(", v, ")")), "))")
		decimals = cell(&ref{to: s.figureLine(line{label: labelOf(q) + ": decimals", format: "0", step: func(int, int) text { return t }}), item: own})
	}
	written := s.written(v, decimals, q)
	l := s.figureLine(line{label: labelOf(q) + ": as written", look: ComputedText, step: func(int, int) text { return written }})
	s.pl.figureTexts[key] = l
	return cell(&ref{to: l, item: own})
}

// isWhole is the condition that a cell's number is whole but for rounding.
func isWhole(v *ref) text { return join("ABS(", v, "-ROUND(", v, ",0))<=tolerance*ABS(", v, ")") }

// threeDigits is how many decimals show three digits of a size above 0: what
// counts is the rounded number, so that 9.996 is 10.0.
func threeDigits(size text) text {
	return join("MAX(0,"+digitsName+"-1-INT(LOG10(", size, "/"+roundName+")+tolerance))")
}

// asked is a cell with the decimals that the rules ask for.
func (s *scope) asked(label string, decimals int) *ref {
	return &ref{to: s.figureLine(line{label: label + ": decimals that the rules ask for", format: "0",
		data: func(int, int) Cell { return Cell{Value: float64(decimals), Style: Plain, Format: "0"} }}), item: own}
}

// inFigures is the text of a number with decimals, in the way of the language of whoever opens
// the workbook: a format that is written into a formula would mean something else there.
// Halves round up even where programs calculate them a hair too small.
func inFigures(v *ref, decimals any) text { return join("FIXED(", v, "*(1+tolerance),", decimals, ")") }

// written is the text of a figure with decimals, its unit behind it.
func (s *scope) written(v *ref, decimals text, q *check.Quantity) text {
	if q.Decimals >= 0 {
		t := inFigures(v, decimals)
		one := lit("FALSE")
		if q.Decimals == 0 {
			one = join("ROUND(", v, ",0)=1")
		}
		return join("IF(", v, `="","no value",`, t, s.unitBehind(q.Unit, one), ")")
	}
	part := func(what string, t text) *ref {
		t = join("IF(", v, `="","",`, t, ")")
		return &ref{to: s.figureLine(line{label: labelOf(q) + ": " + what, look: ComputedText, step: func(int, int) text { return t }}), item: own}
	}
	powers := part("in powers of ten", join("ROUND(", v, "*"+baseName+"^(", decimals, "-"+digitsName+"+1),"+digitsName+`-1)&"e"&(`+digitsName+"-1-", decimals, ")"))
	plain := part("in full", inFigures(v, decimals))
	return join("IF(", v, `="","no value",IF(AND(`, v, "<>0,ABS(", v, ")<"+leastName+"),", powers, ",", plain, ")",
		s.unitBehind(q.Unit, join("AND(", decimals, "=0,ROUND(", v, ",0)=1)")), ")")
}

// together are the texts of numbers in one unit, a row each: they have the same
// decimals, but for whole ones, so that they can be compared, and enough of
// them to tell apart what differs.
func (s *scope) together(list []*check.Expr) *line {
	n := len(list)
	values, labels, declared := make([]text, n), make([]string, n), -1
	for i, e := range list {
		values[i], labels[i] = s.value(e), labelOf(e.Ref.Target)
		declared = max(declared, e.Ref.Target.Decimals)
	}
	all := labels[0] + ", " + lowerFirst(labels[1])
	if n > 2 {
		all = labels[0] + " and " + number(float64(n-1)) + " more"
	}
	v := s.figureLine(line{rows: n, labels: labels, unit: s.pl.unitName(list[0].Ref.Target.Unit), look: Pulled, step: func(_, i int) text { return values[i] }})
	at := func(i int) *ref { return &ref{to: v, item: own, row: i} }
	broken := s.figureLine(line{rows: n, labels: suffixed(labels, ": size, unless whole"), step: func(_, i int) text {
		return join("IF(", at(i), `="",0,IF(`, isWhole(at(i)), ",0,ABS(", at(i), ")))")
	}})
	sizes := &ref{to: broken, item: own, last: n - 1}
	least := join("IF(MAX(", sizes, ")=0,0,", threeDigits(join("MAX(", sizes, ")")), ")")
	if declared >= 0 {
		d := s.asked(all, declared)
		least = join("IF(COUNTIF(", sizes, `,">0")<=1,`, d, ",MAX(", d, ",", threeDigits(join("MAX(", sizes, ")")), "))")
	}
	three := s.figureLine(line{label: all + ": decimals to show them", format: "0", step: func(int, int) text { return least }})
	apart := s.apart(list, all, v, three)
	most := join("MIN("+mostName+",MAX(", &ref{to: three, item: own}, ",", &ref{to: apart, item: own, last: apart.rows - 1}, "))")
	d := &ref{to: s.figureLine(line{label: all + ": decimals", format: "0", step: func(int, int) text { return most }}), item: own}
	texts := make([]text, n)
	each := s.figureLine(line{rows: n, labels: suffixed(labels, ": decimals, unless whole"), format: "0", step: func(_, i int) text {
		if list[i].Ref.Target.Decimals < 0 {
			return join("IF(", &ref{to: broken, item: own, row: i}, ">0,", d, ",0)")
		}
		return join(d)
	}})
	for i, e := range list {
		texts[i] = s.shared(at(i), &ref{to: each, item: own, row: i}, e.Ref.Target)
	}
	return s.figureLine(line{rows: n, labels: suffixed(labels, ": as written"), look: ComputedText, step: func(_, i int) text { return texts[i] }})
}

// apart are the decimals that tell numbers apart, a row a pair, and each from 0.
func (s *scope) apart(list []*check.Expr, all string, v, three *line) *line {
	d, every := &ref{to: three, item: own}, &ref{to: v, item: own, last: len(list) - 1}
	equal := join("tolerance*MAX(MAX(", every, "),-MIN(", every, "))") // what differs by less is equal, rounding aside
	margin := &ref{to: s.figureLine(line{label: all + ": what differs by less is equal", format: "0E+00", step: func(int, int) text { return equal }}), item: own}
	var labels []string
	var texts []text
	for i, e := range list {
		a := &ref{to: v, item: own, row: i}
		labels = append(labels, labelOf(e.Ref.Target)+": decimals that tell it from 0")
		texts = append(texts, join("IF(", a, `="",0,IF(AND(ABS(`, a, ")>", margin, ",ROUND(", a, ",", d, ")=0),", firstDigit(join(a)), ",0))"))
		for j, o := range list[:i] {
			b := &ref{to: v, item: own, row: j}
			labels = append(labels, labelOf(e.Ref.Target)+": decimals that tell it from "+lowerFirst(labelOf(o.Ref.Target)))
			same := join("ABS(", a, "-", b, ")<=", margin)
			t := join("IF(", same, ",0,IF(ROUND(", a, ",", d, ")=ROUND(", b, ",", d, "),", firstDigit(join(a, "-", b)), ",0))")
			texts = append(texts, join("IF(OR(", a, `="",`, b, `=""),0,`, t, ")"))
		}
	}
	return s.figureLine(line{rows: len(texts), labels: labels, format: "0", step: func(_, i int) text { return texts[i] }})
}

// firstDigit is how many decimals a number below 1 has up to its first digit.
// The margin lets 0.0999999999 of a difference count as 0.1.
func firstDigit(t text) text { return join("-INT(LOG10(ABS(", t, "))+"+marginName+")") }

// shared is the text of a figure among others: a whole one without decimals,
// unless they are declared.
func (s *scope) shared(v, decimals *ref, q *check.Quantity) text {
	return join("IF(", v, `="","no value",`, inFigures(v, decimals), s.unitBehind(q.Unit, join("AND(", decimals, "=0,ROUND(", v, ",0)=1)")), ")")
}

func suffixed(list []string, suffix string) []string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = s + suffix
	}
	return out
}

// counted are the units that have a plural.
var counted = map[string]bool{"year": true, "month": true, "week": true, "day": true}

// unitBehind is the unit behind a figure, one holding where the figure reads 1.
func (s *scope) unitBehind(u unit.Unit, one text) text {
	name := s.pl.unitName(u)
	switch {
	case name == "":
		return nil
	case counted[name]:
		return join("&IF(", one, `," `+name+`"," `+name+`s")`)
	case name == "cycles":
		return join("&IF(", one, `," cycle"," cycles")`)
	}
	return lit("&" + quoteText(" "+strings.TrimPrefix(name, "1")))
}

// sentence is text with the values of quantities in it, alive.
func (s *scope) sentence(parts []check.Part) text {
	f := *s
	f.page = s.pl.writing
	first := len(f.page.lines)
	figures := f.figures(parts)
	var out []text
	for _, p := range parts {
		switch {
		case p.Read == nil:
			out = append(out, wordsOf(p.Text)...)
		case figures[p.Read] != nil:
			out = append(out, figures[p.Read])
		default:
			out = append(out, s.words(p.Read))
		}
	}
	t := s.pieces(out)
	if lines := f.page.lines; first < len(lines) {
		lines[first].head = s.src
	}
	return t
}

// words is a value that is no number, as a part of a sentence.
func (s *scope) words(e *check.Expr) text {
	t := s.read(e)
	out := t.text
	switch e.Type {
	case decl.Boolean:
		out = join("IF(", out, `,"yes","no")`)
	case decl.Text:
		out = join("SUBSTITUTE(", out, `,"_"," ")`)
	}
	if len(t.needs) > 0 {
		return join("IF(", t.needs[0], `,"-",`, out, ")")
	}
	return out
}

// drawFigures draws the sheet Figures, nil where no sentence has figures.
func (pl *plan) drawFigures() *Sheet {
	pg := pl.writing
	if len(pg.lines) == 0 {
		return nil
	}
	s := pl.head(pg)
	s.FreezeCols, s.FreezeRows, s.Print.RepeatRows = unitCol, 3, 3
	pl.drawWriting(s)
	widest := 1
	for _, k := range pl.prog.Kinds {
		lines := pl.figureLines(k)
		if len(lines) == 0 || len(k.Items) == 0 {
			continue
		}
		widest = max(widest, len(k.Items))
		top := lines[0].row - 1 - btoi(lines[0].head != "")
		pl.heads(s, pg, top, k)
		s.Set(top, itemCol+len(k.Items)+1, Cell{})
		for _, l := range lines {
			if l.head != "" {
				s.text(l.row-1, labelCol, l.head, Section)
			}
			l.rowsOf(pl)
			s.fold(l.row, l.row+l.rows-1)
		}
	}
	s.Widths = widths(widest)[:unitCol+widest]
	room := (readLandscape - labelWidth - unitWidth) / widest // sentences take fewer lines in wide columns
	for i := range widest {
		s.Widths[unitCol+i] = float64(min(2*itemWidth, max(itemWidth, room)))
	}
	s.onlyBegins(pg.lead)
	return s
}

// placeFigures gives the lines of the sheet Figures their rows.
func (pl *plan) placeFigures() {
	row := writingRow + len(writing) + 1
	for _, k := range pl.prog.Kinds {
		lines := pl.figureLines(k)
		if len(lines) == 0 || len(k.Items) == 0 {
			continue
		}
		row++
		for _, l := range lines {
			if l.head != "" {
				row++
			}
			l.row, l.col = row, itemCol
			row += l.rows
		}
		row++
	}
}
