package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"slices"
	"strings"

	"bankwright/engine"
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
	finished []string
	left     []string
	shown    bool // whether what is finished has been printed
}

// study runs what was chosen, until it is done or interrupted.
func (a *app) study(m *engine.Model, s *sweeping, c *chosen) error {
	if k := m.Compared(); k != nil && len(k.Items) == 0 {
		return fmt.Errorf("the scenario names no %s to compare", k.Plural)
	}
	r, end := a.studying(m)
	defer end()
	r.s = s
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

// studying is ready to run studies of a model. It is to be ended.
func (a *app) studying(m *engine.Model) (r *studying, end func()) {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	r = &studying{app: a, m: m, progress: a.progress()}
	r.ctx = sweep.WithProgress(ctx, r.progress.told)
	return r, func() { r.progress.end(); stop() }
}

// declared runs all studies of a scenario.
func (a *app) declared(m *engine.Model) (*engine.Studies, error) {
	r, end := a.studying(m)
	defer end()
	all := &engine.Studies{Share: engine.Share}
	return all, r.run(m.Declared(), func(f any) error { all.Add(f); return nil })
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
func called(s engine.Study) string {
	switch {
	case s.Sort == "":
		return "what matters"
	case s.Name == "":
		return "the grid"
	}
	return strings.ReplaceAll(s.Sort, "_", "-") + " " + s.Name
}

// each runs studies one after the other and hands each to one of the functions.
func (r *studying) each(c *chosen, found func(any) error) error {
	var studies []engine.Study
	for _, s := range c.sweeps {
		studies = append(studies, engine.OfSweep(s))
	}
	for _, d := range c.doubts {
		studies = append(studies, engine.OfDoubt(d))
	}
	for _, b := range c.breakEvens {
		studies = append(studies, engine.OfBreakEven(b))
	}
	if c.matters {
		studies = append(studies, engine.OfEffects(r.s.share))
	}
	return r.run(studies, found)
}

// run runs studies one after the other and hands what each found on.
func (r *studying) run(studies []engine.Study, found func(any) error) error {
	for _, s := range studies {
		r.left = append(r.left, called(s))
	}
	for _, s := range studies {
		name := called(s)
		r.begin(name)
		f, err := s.Run(r.ctx, r.m)
		r.progress.end()
		if err == nil {
			err = found(f)
		}
		if err != nil {
			return r.failed(name, err)
		}
		r.finished = append(r.finished, name)
	}
	return nil
}

// show writes each study as soon as it is found.
func (r *studying) show(c *chosen) error {
	for _, s := range c.sweeps { // before anything is written
		if err := engine.Shown(s); err != nil {
			return fmt.Errorf("%s: %w", called(engine.OfSweep(s)), err)
		}
	}
	r.shown = true
	st := r.style()
	st.All = r.s.all
	before := r.s.last
	r.s.last = map[string]string{}
	if before == nil {
		text.Title(r.out, r.m, st)
	}
	if c.studies() == 0 && len(r.s.vary) == 0 && !r.s.matters {
		fmt.Fprintln(r.out)
		text.NoStudies(r.out, st)
	}
	var same []string
	err := r.each(c, func(f any) error {
		var b strings.Builder
		if err := r.write(&b, f, st); err != nil {
			return err
		}
		name := r.progress.name
		if r.s.last[name] = b.String(); before[name] == b.String() {
			same = append(same, name)
			return nil
		}
		_, err := fmt.Fprintf(r.out, "\n%s", &b)
		return err
	})
	if err == nil {
		text.AsBefore(r.out, same, st)
	}
	return err
}

// write writes what a study found.
func (r *studying) write(w io.Writer, f any, st text.Style) error {
	switch f := f.(type) {
	case engine.FoundSweep:
		return text.Sweep(r.ctx, w, r.m, f.Sweep, f.Table, st)
	case engine.FoundDoubt:
		text.Doubt(w, r.m, f.Doubt, f.Found, st)
	case engine.FoundBreakEven:
		text.BreakEven(w, r.m, f.BreakEven, f.Ties, st)
	case *sweep.Effects:
		text.Effects(w, r.m, f, r.s.share, st)
	}
	return nil
}

// document writes all studies as one JSON document.
func (r *studying) document(c *chosen) error {
	all := &engine.Studies{Share: r.s.share}
	if err := r.each(c, func(f any) error { all.Add(f); return nil }); err != nil {
		return err
	}
	return export.StudiesJSON(r.out, r.m, all)
}
