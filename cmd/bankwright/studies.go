package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
	"slices"
	"strings"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/diag"
	"bankwright/engine/sweep"
	"bankwright/engine/unit"
	"bankwright/export"
	"bankwright/export/text"
)

// study is a study of a scenario, by its sort as a scenario writes it before a name.
type study struct {
	sort, name string
	put        func(c *chosen) // chooses it
}

// full is the name with the sort before it.
func (s study) full() string { return s.sort + "." + s.name }

// studiesOf are all studies of a scenario.
func studiesOf(m *engine.Model) (out []study) {
	for _, s := range m.Sweeps {
		out = append(out, study{"sweep", s.Name, func(c *chosen) { c.sweeps = append(c.sweeps, s) }})
	}
	for _, d := range m.Doubts {
		out = append(out, study{"doubt", d.Name, func(c *chosen) { c.doubts = append(c.doubts, d) }})
	}
	for _, b := range m.BreakEvens {
		out = append(out, study{"break_even", b.Name, func(c *chosen) { c.breakEvens = append(c.breakEvens, b) }})
	}
	return out
}

// add finds the studies of a name, of which there must be one.
func (c *chosen) add(m *engine.Model, name string) error {
	var found []study
	var matching, names, full []string
	for _, s := range studiesOf(m) {
		names, full = append(names, s.name), append(full, s.full())
		if s.full() == name || s.name == name {
			found, matching = append(found, s), append(matching, s.full())
		}
	}
	switch {
	case len(found) > 1:
		return usagef("there are several studies named %s; write %s", name, strings.Join(matching, " or "))
	case len(found) == 0 && len(full) == 0:
		return usagef("there is no study named %s: the scenario has none", name)
	case len(found) == 0:
		if near := diag.Nearest(name, append(names, full...)); near != "" {
			return usagef("there is no study named %s; did you mean %s?", name, near)
		}
		return usagef("there is no study named %s; there are %s", name, strings.Join(full, ", "))
	case slices.Contains(c.named, matching[0]):
		return usagef("%s is named twice", name)
	}
	c.named = append(c.named, matching[0])
	found[0].put(c)
	return nil
}

// names are the names of all studies that are chosen.
func (c *chosen) names() (out []string) {
	for _, s := range c.sweeps {
		out = append(out, s.Name)
	}
	for _, d := range c.doubts {
		out = append(out, d.Name)
	}
	for _, b := range c.breakEvens {
		out = append(out, b.Name)
	}
	return out
}

// listed puts names into parentheses; nothing where there are none.
func listed(names []string) string {
	if len(names) == 0 {
		return ""
	}
	return " (" + strings.Join(names, ", ") + ")"
}

// interrupted says what was finished when a run was ended from outside.
type interrupted struct{ text string }

func (e interrupted) Error() string { return e.text }

// studying runs studies and tells how far it is.
type studying struct {
	*app
	m        *engine.Model
	s        *sweeping
	ctx      context.Context
	progress *progress
	winner   int // the best item where nothing is moved, or the first one where there is none
	finished []string
	left     []string
	shown    bool // whether what is finished has been printed
}

// study runs what was chosen, until it is done or interrupted.
func (a *app) study(m *engine.Model, s *sweeping, c *chosen) error {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	r := &studying{app: a, m: m, s: s, progress: a.progress()}
	r.ctx = sweep.WithProgress(ctx, r.progress.told)
	if k := m.Compared(); k != nil {
		if len(k.Items) == 0 {
			return fmt.Errorf("the scenario names no %s to compare", k.Plural)
		}
		r.winner = m.Compare().Ranked[0].Item
	}
	defer r.progress.end()
	switch {
	case s.output != "":
		return r.points(c.sweeps[0])
	case s.plot != "":
		return r.draw(c)
	case s.json:
		return r.document(c)
	}
	return r.show(c)
}

// begin begins with a study; the one before it is finished.
func (r *studying) begin(name string) {
	r.progress.begin(name)
	r.left = slices.DeleteFunc(r.left, func(s string) bool { return s == name })
}

// failed is what to tell of an error in a study: where the run was interrupted, what
// is finished and what is not.
func (r *studying) failed(name string, err error) error {
	r.progress.end()
	if !errors.Is(err, context.Canceled) {
		return fmt.Errorf("%s: %w", name, err)
	}
	parts := []string{fmt.Sprintf("%s is not finished%s", name, r.howFar())}
	if len(r.left) > 0 {
		parts = append(parts, strings.Join(r.left, ", ")+" not begun")
	}
	if len(r.finished) > 0 {
		done := "finished and shown: "
		if !r.shown {
			done = "finished, but not shown: "
		}
		parts = append(parts, done+strings.Join(r.finished, ", "))
	}
	return interrupted{"interrupted; " + strings.Join(parts, "; ")}
}

// howFar says at which point a study was interrupted.
func (r *studying) howFar() string {
	if r.progress.total == 0 {
		return ""
	}
	return fmt.Sprintf(" (%s of %s points)", unit.Format(float64(r.progress.done), 0), unit.Format(float64(r.progress.total), 0))
}

// called is what a study is called while it runs.
func called(sort, name string) string {
	if name == "" {
		return "the grid"
	}
	return sort + " " + name
}

const matterName = "what matters"

// each runs studies one after the other and hands each to one of the functions.
func (r *studying) each(c *chosen, found func(any) error) error {
	type job struct {
		name string
		run  func() (any, error)
	}
	var jobs []job
	for _, s := range c.sweeps {
		jobs = append(jobs, job{called("sweep", s.Name), func() (any, error) { return r.grid(s) }})
	}
	for _, d := range c.doubts {
		jobs = append(jobs, job{called("doubt", d.Name), func() (any, error) {
			f, err := sweep.Doubt(r.ctx, r.m.Program, r.m.Result, d, r.winner)
			return export.FoundDoubt{Doubt: d, Found: f}, err
		}})
	}
	for _, b := range c.breakEvens {
		jobs = append(jobs, job{called("break-even", b.Name), func() (any, error) { return r.breakEven(b) }})
	}
	if c.matters {
		jobs = append(jobs, job{matterName, func() (any, error) {
			return sweep.OneAtATime(r.ctx, r.m.Program, r.m.Result, r.winner, sweep.Around(r.m.Program, r.m.Result, r.s.share))
		}})
	}
	for _, j := range jobs {
		r.left = append(r.left, j.name)
	}
	for _, j := range jobs {
		r.begin(j.name)
		f, err := j.run()
		r.progress.end()
		if err == nil {
			err = found(f)
		}
		if err != nil {
			return r.failed(j.name, err)
		}
		r.finished = append(r.finished, j.name)
	}
	return nil
}

// mostShown is how many points a grid has that is shown or drawn.
const mostShown = 10_000_000

// grid finds a sweep.
func (r *studying) grid(s *check.Sweep) (export.FoundSweep, error) {
	f := export.FoundSweep{Sweep: s}
	g, err := sweep.NewGrid(r.m.Program, r.m.Result, s.Axes, s.Show)
	if err != nil {
		return f, err
	}
	if g.Points() > mostShown {
		return f, fmt.Errorf("%s points are more than can be shown; write them to a file with -o, or take fewer values", unit.Format(float64(g.Points()), 0))
	}
	f.Table, err = g.Collect(r.ctx)
	return f, err
}

// breakEven finds a break-even; where none are named, it is between the best and the
// next.
func (r *studying) breakEven(b *check.BreakEven) (export.FoundBreakEven, error) {
	f := export.FoundBreakEven{BreakEven: b}
	between := b.Between
	if between == nil {
		ranked := r.m.Compare().Ranked
		if len(ranked) < 2 {
			return f, fmt.Errorf("it takes two to break even, and there is only one")
		}
		between = []int{ranked[0].Item, ranked[1].Item}
	}
	var err error
	f.Ties, err = sweep.Ties(r.ctx, r.m.Program, r.m.Result, between[0], between[1], b.Input, b.From, b.To, b.Over)
	return f, err
}

// show writes each study as soon as it is found.
func (r *studying) show(c *chosen) error {
	r.shown = true
	st := r.style()
	st.All = r.s.all
	text.Title(r.out, r.m, st)
	if c.studies() == 0 && len(r.s.vary) == 0 && !r.s.matters {
		fmt.Fprintln(r.out)
		text.NoStudies(r.out, st)
	}
	return r.each(c, func(f any) error {
		fmt.Fprintln(r.out)
		switch f := f.(type) {
		case export.FoundSweep:
			return text.Sweep(r.ctx, r.out, r.m, f.Sweep, f.Table, st)
		case export.FoundDoubt:
			text.Doubt(r.out, r.m, f.Doubt, f.Found, st)
		case export.FoundBreakEven:
			text.BreakEven(r.out, r.m, f.BreakEven, f.Ties, st)
		case *sweep.Effects:
			text.Effects(r.out, r.m, f, r.s.share, st)
		}
		return nil
	})
}

// document writes all studies as one JSON document.
func (r *studying) document(c *chosen) error {
	all := &export.Studies{Share: r.s.share}
	err := r.each(c, func(f any) error {
		switch f := f.(type) {
		case export.FoundSweep:
			all.Sweeps = append(all.Sweeps, f)
		case export.FoundDoubt:
			all.Doubts = append(all.Doubts, f)
		case export.FoundBreakEven:
			all.BreakEvens = append(all.BreakEvens, f)
		case *sweep.Effects:
			all.Effects = f
		}
		return nil
	})
	if err != nil {
		return err
	}
	return export.StudiesJSON(r.out, r.m, all)
}
