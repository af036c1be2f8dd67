package engine

import (
	"context"
	"fmt"

	"bankwright/engine/check"
	"bankwright/engine/sweep"
	"bankwright/engine/unit"
)

// Studies are what was found by sweeps, doubts and break-evens, and by moving one
// input at a time; any of them may be missing.
type Studies struct {
	Sweeps     []FoundSweep
	Doubts     []FoundDoubt
	BreakEvens []FoundBreakEven
	Effects    *sweep.Effects // nil: not asked for
	Share      float64        // by which inputs were moved for it
}

// FoundSweep is a sweep and what was found at its points.
type FoundSweep struct {
	*check.Sweep
	Table *sweep.Table
}

// FoundDoubt is a doubt and what was found.
type FoundDoubt struct {
	*check.Doubt
	Found *sweep.Doubted
}

// FoundBreakEven is a break-even and what was found, at each step of its second
// input.
type FoundBreakEven struct {
	*check.BreakEven
	Ties []sweep.Tie
}

// Share is by how much inputs are moved where nothing else is asked for.
const Share = 0.1

// mostShown is how many points a grid has that is kept to be shown or drawn.
const mostShown = 10_000_000

// Study is one of the studies of a model, to be run.
type Study struct {
	Sort, Name string // as a scenario writes them; without a name for what is not declared
	run        func(ctx context.Context, m *Model) (any, error)
}

// Run gives a FoundSweep, FoundDoubt, FoundBreakEven or *sweep.Effects. The error is
// the context's where that ends first.
func (s Study) Run(ctx context.Context, m *Model) (any, error) { return s.run(ctx, m) }

// OfSweep is the study of a sweep.
func OfSweep(s *check.Sweep) Study {
	return Study{"sweep", s.Name, func(ctx context.Context, m *Model) (any, error) {
		f := FoundSweep{Sweep: s}
		g, err := sweep.NewGrid(m.Program, m.Result, s.Axes, s.Show)
		if err != nil {
			return f, err
		}
		if err := Shown(s); err != nil {
			return f, err
		}
		f.Table, err = g.Collect(ctx)
		return f, err
	}}
}

// Shown is an error where a sweep has more points than can be shown.
func Shown(s *check.Sweep) error {
	points := 1.0
	for _, a := range s.Axes {
		points *= float64(a.Steps())
	}
	if points > mostShown {
		return fmt.Errorf("%s points are more than can be shown; write them to a file with -o, or take fewer values", unit.Format(points, 0))
	}
	return nil
}

// OfDoubt is the study of a doubt.
func OfDoubt(d *check.Doubt) Study {
	return Study{"doubt", d.Name, func(ctx context.Context, m *Model) (any, error) {
		f, err := sweep.Doubt(ctx, m.Program, m.Result, d, m.leader())
		return FoundDoubt{Doubt: d, Found: f}, err
	}}
}

// OfBreakEven is the study of a break-even; where none are named, it is between the
// best and the next.
func OfBreakEven(b *check.BreakEven) Study {
	return Study{"break_even", b.Name, func(ctx context.Context, m *Model) (any, error) {
		f := FoundBreakEven{BreakEven: b}
		between := b.Between
		if between == nil {
			ranked := m.Compare().Ranked
			if len(ranked) < 2 {
				return f, fmt.Errorf("it takes two to break even, and there is only one")
			}
			between = []int{ranked[0].Item, ranked[1].Item}
		}
		var err error
		f.Ties, err = sweep.Ties(ctx, m.Program, m.Result, between[0], between[1], b.Input, b.From, b.To, b.Over)
		return f, err
	}}
}

// OfEffects is the study of what matters when every number given is moved by a share
// of it, each alone.
func OfEffects(share float64) Study {
	return Study{"", "", func(ctx context.Context, m *Model) (any, error) {
		return sweep.OneAtATime(ctx, m.Program, m.Result, m.leader(), sweep.Around(m.Program, m.Result, share))
	}}
}

// leader is the best item, or the first one where there is none.
func (m *Model) leader() int { return m.Compare().Ranked[0].Item }

// Add keeps what a study found.
func (s *Studies) Add(found any) {
	switch f := found.(type) {
	case FoundSweep:
		s.Sweeps = append(s.Sweeps, f)
	case FoundDoubt:
		s.Doubts = append(s.Doubts, f)
	case FoundBreakEven:
		s.BreakEvens = append(s.BreakEvens, f)
	case *sweep.Effects:
		s.Effects = f
	}
}

// Declared are all studies of a scenario, and what matters where all that is compared
// is shown in full: of a catalogue of hundreds it takes minutes, and moves thousands of
// inputs that no item at the top knows.
func (m *Model) Declared() (out []Study) {
	for _, s := range m.Sweeps {
		out = append(out, OfSweep(s))
	}
	for _, d := range m.Doubts {
		out = append(out, OfDoubt(d))
	}
	for _, b := range m.BreakEvens {
		out = append(out, OfBreakEven(b))
	}
	if c := m.Compare(); c != nil && len(c.Ranked) > 0 && len(c.Rest()) == 0 {
		out = append(out, OfEffects(Share))
	}
	return out
}

// Study runs all studies that a scenario declares.
func (m *Model) Study(ctx context.Context) (*Studies, error) {
	all := &Studies{Share: Share}
	for _, s := range m.Declared() {
		f, err := s.Run(ctx, m)
		if err != nil {
			return nil, err
		}
		all.Add(f)
	}
	return all, nil
}
