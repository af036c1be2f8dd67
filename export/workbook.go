package export

import (
	"path"
	"path/filepath"

	"bankwright/engine"
	"bankwright/engine/arith"
	"bankwright/engine/decl"
	"bankwright/engine/diag"
)

const tolerance = arith.Tolerance

// NewBook lays a computed model out as a workbook with live formulas. The error
// says which part of the rules has no spreadsheet form, or which cell gives an
// error value. Found is what studies of the model found, nil where none were run.
func NewBook(m *engine.Model, found *engine.Studies) (*Book, error) {
	pl := plotBook(m, found)
	if pl.fault != nil {
		return nil, pl.fault
	}
	err := pl.book.fill()
	pl.formatWorkings()
	pl.book.wrapWords()
	return pl.book, err
}

// wrapWords makes workings that turn out to be words look like words: these take several
// lines, where figures would run into each other.
func (b *Book) wrapWords() {
	for _, s := range b.Sheets {
		for _, row := range s.rows {
			for i := range row {
				if c := &row[i]; c.Style == Computed && c.Formula != "" {
					if said, ok := c.Value.(string); ok && said != "" {
						c.Style = ComputedText
					}
				}
			}
		}
	}
}

// plotBook makes the sheets; values that the engine does not compute are still
// missing.
func plotBook(m *engine.Model, found *engine.Studies) *plan {
	few, cat, err := shortlisted(m)
	pl := newPlan(few)
	pl.found = found
	if pl.catalogue = cat; err != nil {
		pl.fault = err
		return pl
	}
	if len(pl.prog.Model.Tables) > 0 {
		pl.drawTables()
	}
	pl.keepRecordings()
	pl.layOut()
	pl.markFollowers()
	pl.placeInputs()
	pl.placeFigures()
	pl.nameInputs()
	for _, pg := range pl.rulePages() {
		pg.placeRules()
	}
	for _, pg := range pl.series {
		if pl.placeSeries(pg); pg.width > MostColumns {
			pl.fail("the sheet %s would need %d columns, but a sheet has %d: compare fewer items in one workbook", pg.name, pg.width, MostColumns)
			return pl
		}
	}
	if cat != nil {
		cat.name = pl.sheetName("All " + lowerFirst(titleOf(cat.c.Kind)))
	}
	pl.draw()
	if cat != nil {
		pl.putCatalogue()
	}
	pl.putContents()
	for i, s := range pl.book.Sheets {
		s.typed()
		if i > 0 && s.Print.Wide == 0 && len(s.Pictures)+len(s.Charts) == 0 {
			s.paper()
		}
	}
	return pl
}

// draw draws all sheets, in the order of the book.
func (pl *plan) draw() {
	pl.drawInputs()
	var sheets []*Sheet
	for _, pg := range pl.rulePages() {
		if len(pg.lines)+len(pg.pulled)+len(pg.points) > 0 && len(pg.kind.Items) > 0 {
			pl.drawRules(pg)
			sheets = append(sheets, pg.sheet)
		}
	}
	for _, pg := range pl.series {
		pl.drawSeries(pg)
		sheets = append(sheets, pg.sheet)
	}
	if short := pl.drawShort(); short != nil {
		sheets = append(sheets, short)
	}
	pl.nameDrawings()
	checks := pl.drawChecks()
	computed := pl.drawComputed()
	sweeps := pl.drawSweeps()
	work := pl.drawWorkings(checks)
	work.drawQuestions()
	pl.book.Sheets = append(pl.book.Sheets, pl.drawAnswer(checks, work), pl.inputs.sheet)
	pl.book.Sheets = append(pl.book.Sheets, sheets...)
	pl.book.Sheets = append(pl.book.Sheets, checks.sheet)
	if len(checks.unmet) > 0 {
		pl.book.Sheets = append(pl.book.Sheets, checks.words)
	}
	pl.book.Sheets = append(pl.book.Sheets, pl.drawPictures(checks)...)
	if pl.asked != nil {
		pl.book.Sheets = append(pl.book.Sheets, pl.asked)
	}
	pl.book.Sheets = append(pl.book.Sheets, sweeps...)
	if computed != nil {
		pl.book.Sheets = append(pl.book.Sheets, computed)
	}
	for _, k := range pl.keptOrder {
		pl.finishKept(k)
		pl.book.Sheets = append(pl.book.Sheets, k.page.sheet)
	}
	if pl.tables.sheet != nil {
		pl.book.Sheets = append(pl.book.Sheets, pl.tables.sheet)
	}
	pl.book.Sheets = append(pl.book.Sheets, pl.drawSources(checks))
	if work.told() {
		pl.book.Sheets = append(pl.book.Sheets, work.s)
	}
	if figures := pl.drawFigures(); figures != nil {
		pl.book.Sheets = append(pl.book.Sheets, figures)
	}
	pl.limits.sheet.onlyBegins(pl.limits.lead)
	pl.book.Sheets = append(pl.book.Sheets, pl.limits.sheet, pl.lists.sheet())
	for _, s := range pl.book.Sheets[1:] {
		pl.warn(s)
	}
	pl.leadToStudies()
}

// footer is what every printed page says.
func (pl *plan) footer() string {
	f := scenarioFile(pl.prog.Model)
	if d := pl.prog.Model.Date; d != "" {
		f += "  " + d
	}
	return f
}

// scenarioFile is the name of the scenario's file.
func scenarioFile(m *decl.Model) string {
	if len(m.Files) == 0 {
		return ""
	}
	return diag.Upright(path.Base(filepath.ToSlash(m.Files[0].Name)))
}
