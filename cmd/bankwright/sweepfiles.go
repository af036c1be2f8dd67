package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"bankwright/engine/check"
	"bankwright/engine/sweep"
	"bankwright/engine/unit"
	"bankwright/export"
	"bankwright/export/gridfile"
	"bankwright/export/picture"
	wholefile "bankwright/export/whole"
)

// draw draws the one study that was chosen; a doubt into two files, of which the
// second shows what makes it uncertain.
func (r *studying) draw(c *chosen) error {
	format, err := picture.FormatOf(r.s.plot)
	if err != nil {
		return usageError{err}
	}
	if err := mayWrite(r.s.plot, r.s.file); err != nil {
		return err
	}
	return r.each(c, func(f any) error {
		p, more, err := r.picture(f)
		if err != nil {
			return err
		}
		if err := r.drawing(r.s.plot, p, format); err != nil || more == nil {
			return err
		}
		ending := filepath.Ext(r.s.plot)
		return r.drawing(strings.TrimSuffix(r.s.plot, ending)+"_shares"+ending, more, format)
	})
}

// picture is the picture of a study, and a second one or nil.
func (r *studying) picture(f any) (p, more picture.Picture, err error) {
	switch f := f.(type) {
	case export.FoundSweep:
		p, err = export.SweepPicture(r.m, f)
	case export.FoundDoubt:
		p = export.DoubtPicture(r.m, f)
		if f.Found.Shares != nil {
			more = export.SharesPicture(r.m, f)
		}
	case export.FoundBreakEven:
		p, err = export.BreakEvenPicture(r.ctx, r.m, f)
	case *sweep.Effects:
		p = export.EffectsPicture(r.m, f, r.s.share)
	}
	return p, more, err
}

// drawing writes a picture and tells its name.
func (r *studying) drawing(path string, p picture.Picture, format picture.Format) error {
	err := wholefile.Write(path, func(w io.Writer) error { return picture.Write(w, p, format) })
	if err != nil {
		return unwritten("the picture "+path, err)
	}
	_, err = fmt.Fprintln(r.out, path)
	return err
}

// mayReplacePoints refuses to write points over a workbook: somebody may have worked
// on it.
func mayReplacePoints(path string) error {
	if !strings.EqualFold(filepath.Ext(path), ".xlsx") {
		return nil
	}
	if _, err := os.Stat(path); err == nil {
		return fmt.Errorf("%s is there already and may have been worked on; it stays as it is\nRemove it first, or write to another file with -o", path)
	}
	return nil
}

// points writes the points of a grid, or a part of them, to a file, which is there as
// a whole or not at all.
func (r *studying) points(s *check.Sweep) error {
	path := r.s.output
	if err := mayWrite(path, r.s.file); err != nil {
		return err
	}
	if err := mayReplacePoints(path); err != nil {
		return err
	}
	g, err := sweep.NewGrid(r.m.Program, r.m.Result, s.Axes, s.Show)
	if err != nil {
		return err
	}
	part := gridfile.Part{K: 1, N: 1}
	if r.s.part != "" {
		if part, err = gridfile.ParsePart(r.s.part); err != nil {
			return usageError{err}
		}
	}
	from, to := g.Part(part.K, part.N)
	format, err := gridfile.FormatOf(path)
	if err != nil {
		return usageError{err}
	}
	r.begin(path)
	err = wholefile.Write(path, func(w io.Writer) error {
		return gridfile.Write(r.ctx, w, format, r.m.Program, g, part)
	})
	r.progress.end()
	switch {
	case errors.Is(err, context.Canceled):
		return interrupted{fmt.Sprintf("interrupted; %s of %s points were computed, and %s is not written", unit.Format(float64(r.progress.done), 0), unit.Format(float64(to-from), 0), path)}
	case err != nil:
		return unwritten(path, err)
	}
	fmt.Fprintln(r.out, path)
	of := ""
	if part.N > 1 {
		of = fmt.Sprintf(" of %s, part %s", unit.Format(float64(g.Points()), 0), part)
	}
	fmt.Fprintf(r.err, "%s points%s\n", unit.Format(float64(to-from), 0), of)
	return nil
}
