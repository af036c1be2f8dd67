package export

import (
	"slices"
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// reach are the inputs that studies reach: what they show follows from them.
type reach struct {
	names []string // of the studies
	all   []*influence
	cells []influenceCell
	row   int  // of the group in the list of them
	whole bool // they are all inputs that any study reaches
}

// sinceCell is the row in which a study says whether its inputs have changed.
type sinceCell struct {
	row int
	of  *reach
}

// judged are the deciding figures and the checks of all that are compared.
func (x *studies) judged() (out []influenceCell) {
	list := []*check.Quantity{x.by}
	for _, c := range x.m.Checks {
		if c.Result.Kind == x.kind && c.Severity != decl.Caution {
			list = append(list, c.Result)
		}
	}
	for _, q := range list {
		for item := range x.kind.Items {
			out = append(out, influenceCell{q, item})
		}
	}
	return out
}

// reaching is the group of a study that follows from cells, as one that moves axes.
// Where one of these chooses items, what each of them has is reached as well.
func (x *studies) reaching(name string, cells []influenceCell, moved []*check.Axis) *reach {
	var chosen []check.Place
	for _, a := range moved {
		if a.Inputs[0].Quantity.Type == decl.Reference {
			chosen = append(chosen, a.Inputs...)
		}
	}
	for _, g := range x.groups {
		if len(chosen) == 0 && slices.Equal(g.cells, cells) {
			g.names = append(g.names, name)
			return g
		}
	}
	g := &reach{names: []string{name}, cells: cells, all: []*influence{influenceOn(x.m.Result, cells...)}}
	for _, a := range moved {
		for _, c := range a.Inputs {
			if c.Quantity.Type == decl.Reference {
				g.cells = nil
				for _, v := range a.Values {
					g.all = append(g.all, influenceOn(x.m.With(c, v).Result, cells...))
				}
			}
		}
	}
	if x.pl.catalogue != nil {
		for i, in := range g.all {
			g.all[i] = in.among(x.pl.prog)
		}
	}
	x.groups = append(x.groups, g)
	return g
}

// inputs lists the inputs that studies reach, live and as they were, and says what has
// changed: for all studies, and for each group of them that reaches the same.
func (x *studies) inputs() {
	stands := x.standing()
	x.newPage()
	x.s.text(x.row, labelCol, "Inputs that they follow from", Heading)
	state := x.row + 2
	first := state + 1 + len(x.groups) + 8
	last := x.list(first, stands)
	x.row = state
	x.states(first, last)
	x.tell(state)
	for _, c := range x.since {
		row := c.of.row
		if c.of.whole {
			row = state + 1
		}
		x.s.Set(c.row, studyFirstCol, Cell{Formula: x.stateOf(row), Style: Sentence})
	}
	x.s.Set(studyStateRow, 1, Cell{Formula: x.stateOf(state + 1), Style: Lead})
	x.s.Marks = append(x.s.Marks, Mark{cellName(first, thenStateCol) + ":" + cellName(last, thenStateCol), changed, Unfit})
}

// standing are the inputs that any study reaches, with the groups that reach each;
// groups that reach the same become one.
func (x *studies) standing() []stand {
	var all []*influence
	for _, g := range x.groups {
		all = append(all, g.all...)
	}
	stands := x.pl.standing(all...)
	reached := map[string]*reach{}
	var groups []*reach
	of := make([][]bool, len(stands))
	from := 0
	for _, g := range x.groups {
		to := from + len(g.all)
		var key strings.Builder
		some := make([]bool, len(stands))
		for i, st := range stands {
			some[i] = slices.Contains(st.of[from:to], true)
			key.WriteByte("01"[btoi(some[i])])
		}
		from = to
		if same := reached[key.String()]; same != nil {
			same.names = append(same.names, g.names...)
			for i := range x.since {
				if x.since[i].of == g {
					x.since[i].of = same
				}
			}
			continue
		}
		reached[key.String()] = g
		if g.whole = !strings.Contains(key.String(), "0"); g.whole {
			continue // it is the same as all of them
		}
		groups = append(groups, g)
		for i := range stands {
			of[i] = append(of[i], some[i])
		}
	}
	for i := range stands {
		stands[i].of = of[i]
	}
	x.groups = groups
	return stands
}

// list draws the inputs as rows of an outline, heads again on each page, and gives the
// last row.
func (x *studies) list(first int, stands []stand) int {
	var of []string
	for i := range x.groups {
		of = append(of, groupName(i))
	}
	for len(x.s.Widths) < thenStateCol+len(of) {
		x.s.Widths = append(x.s.Widths, x.columnWidth())
	}
	standHeads(x.s, first-1, of)
	row := first
	for _, st := range stands {
		if row-x.top >= x.page {
			x.row = row
			x.newPage()
			standHeads(x.s, row, of)
			row++
		}
		drawStand(x.s, row, st, len(of))
		row++
	}
	last := max(first, row-1)
	x.s.fold(first, last)
	return last
}

// states says, for all studies and for each group of them, which is the first input that
// has changed.
func (x *studies) states(first, last int) {
	for i, h := range []string{"studies", "", "place in the list", "inputs since", "the first that changed"} {
		look := HeadText
		if i == 2 || i == 3 {
			look = Head
		}
		x.s.text(x.row, i+1, h, look)
	}
	state := func(label string, col int) {
		x.row++
		x.s.text(x.row, 1, label, Label)
		at := cellName(x.row, 3)
		x.s.Set(x.row, 3, Cell{Formula: `IFERROR(MATCH("` + changed + `",` + standCells(col, first, last) + ",0),0)", Style: Computed, Format: "0"})
		x.s.Set(x.row, 4, Cell{Formula: "IF(" + at + `=0,"` + unchanged + `","` + changed + `")`, Style: ComputedText})
		x.s.Set(x.row, 5, Cell{Formula: "IF(" + at + `=0,"",INDEX(` + standCells(thenInputCol, first, last) + "," + at + `)&" ("&INDEX(` + standCells(thenOwnerCol, first, last) + "," + at + `)&")")`, Style: Sentence})
	}
	state("All of them", thenStateCol)
	for i, g := range x.groups {
		state(groupName(i)+": "+strings.Join(g.names, ", "), thenStateCol+1+i)
		g.row = x.row
	}
}

// groupName is what a group of studies is called in the list of inputs.
func groupName(i int) string { return "Group " + number(float64(i+1)) }

// stateOf is the formula that says "unchanged", or names the first input that changed,
// by the row of a group.
func (x *studies) stateOf(row int) string {
	at := func(col int) string { return "$" + columnName(col) + "$" + number(float64(row)) }
	return "IF(" + at(4) + `="` + unchanged + `","` + unchanged + `","` + changed + `: "&` + at(5) + ")"
}

// tell writes what the first sheet says when inputs have changed, behind what it says of
// other computed figures; state is the row above that of all studies.
func (x *studies) tell(state int) {
	put := func(label, formula string) string {
		x.row++
		x.s.text(x.row, 1, label, Label)
		x.s.Set(x.row, studyFirstCol, Cell{Formula: formula, Style: Sentence})
		return cellName(x.row, studyFirstCol)
	}
	x.row++
	at := func(col int) string { return cellName(state+1, col) }
	own := put("Said on the first sheet", "IF("+at(4)+`="`+unchanged+`","","Studies are of other inputs: "&`+at(5)+`&" changed (sheet `+sweepsName+`).")`)
	if x.pl.stale != "" {
		other := put("Said there of other computed figures", x.pl.stale)
		own = put("Both", "IF(OR("+own+`="",`+other+`=""),`+other+"&"+own+","+other+`&" "&`+own+")")
	}
	x.pl.stale = sweepsName + "!" + own
}
