package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"bankwright/engine/sweep"
	"bankwright/export"
	"bankwright/export/picture"
	"bankwright/export/whole"
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
	err := whole.Write(path, func(w io.Writer) error { return picture.Write(w, p, format) })
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
