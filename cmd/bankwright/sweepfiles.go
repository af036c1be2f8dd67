package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/sweep"
	"bankwright/engine/unit"
	"bankwright/export"
	"bankwright/export/gridfile"
	"bankwright/export/picture"
)

// draw draws the one study that was chosen; a doubt into two files, of which the
// second shows what makes it uncertain. Both are asked after before anything is
// computed.
func (r *studying) draw(c *chosen) error {
	ending := filepath.Ext(r.s.plot)
	paths := []string{r.s.plot}
	if len(c.doubts) > 0 {
		paths = append(paths, strings.TrimSuffix(r.s.plot, ending)+"_shares"+ending)
	}
	for _, path := range paths {
		if err := r.mayReplace(path, r.s.file, r.s.force, oursPicture(r.s.picture)); err != nil {
			return err
		}
	}
	return r.each(c, func(f any) error {
		p, more, err := r.picture(f)
		if err == nil {
			err = r.writePicture(paths[0], p, r.s.picture)
		}
		if err != nil || more == nil {
			return err
		}
		return r.writePicture(paths[1], more, r.s.picture)
	})
}

// picture is the picture of a study, and a second one or nil.
func (r *studying) picture(f any) (p, more picture.Picture, err error) {
	switch f := f.(type) {
	case engine.FoundSweep:
		p, err = export.SweepPicture(r.m, f)
	case engine.FoundDoubt:
		p = export.DoubtPicture(r.m, f)
		if f.Found.Shares != nil {
			more = export.SharesPicture(r.m, f)
		}
	case engine.FoundBreakEven:
		p, err = export.BreakEvenPicture(r.ctx, r.m, f)
	case *sweep.Effects:
		p = export.EffectsPicture(r.m, f, r.s.share)
	}
	return p, more, err
}

// points writes the points of a grid, or a part of them, to a file, which is there as
// a whole or not at all.
func (r *studying) points(s *check.Sweep) error {
	path := r.s.output
	if err := r.mayReplace(path, r.s.file, r.s.force, oursPoints(r.s.format)); err != nil {
		return err
	}
	g, err := sweep.NewGrid(r.m.Program, r.m.Result, s.Axes, s.Show)
	if err != nil {
		return err
	}
	from, to := g.Part(r.s.piece.K, r.s.piece.N)
	r.begin(path)
	err = r.writeWhole(path, path, func(w io.Writer) error {
		defer r.progress.end()
		return gridfile.Write(r.ctx, w, r.s.format, r.m.Program, g, r.s.piece)
	})
	switch {
	case errors.Is(err, context.Canceled):
		return interrupted{fmt.Sprintf("interrupted; %s of %s points were computed, and %s is not written", unit.Format(float64(r.progress.done), 0), unit.Format(float64(to-from), 0), path)}
	case err != nil:
		return err
	}
	of := ""
	if r.s.piece.N > 1 {
		of = fmt.Sprintf(" of %s, part %s", unit.Format(float64(g.Points()), 0), r.s.piece)
	}
	fmt.Fprintln(r.err, plural(to-from, "point", "points")+of)
	return nil
}
