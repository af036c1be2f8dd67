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

// sinceCell is the row in which a study says whether its inputs have changed; 0: none on
// the sheet does.
type sinceCell struct {
	row  int
	name string // of the study
	of   *reach
}

// sinceThen are the cells that say whether inputs of a study have changed, and which.
type sinceThen struct{ state, which string }

// movedAlone is what the first sheet tells of inputs that move one by one.
const movedAlone = "one input moved alone"

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

// inputs draws the sheet of the inputs that studies reach, and says beside each study
// whether those that it reaches have changed.
func (x *studies) inputs() {
	stands := x.standing()
	l := newReached(x, len(stands))
	l.states()
	l.list(stands)
	x.pl.studied, x.pl.longest = map[string]sinceThen{"": l.since(nil)}, longest(stands)
	for _, c := range x.since {
		if x.pl.studied[c.name] = l.since(c.of); c.row == 0 {
			continue
		}
		x.s.Set(c.row, studyFirstCol, Cell{Formula: l.stateOf(c.of), Style: Sentence})
	}
	x.s.Set(studyStateRow, 1, Cell{Formula: l.stateOf(nil), Style: Lead})
	x.reached = l.s
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
