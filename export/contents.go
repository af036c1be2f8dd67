package export

import (
	"slices"
	"strings"
)

// contentsName is the sheet that says what each sheet holds.
const contentsName = "Contents"

// holds is what the sheets hold that every workbook has, where the sentence below the
// title is not said for who looks for something. Of others the rules say it.
var holds = map[string]string{
	"Answer":      "On one page: the recommendation, what decides it side by side, what would change it, which checks are not met, what was assumed.",
	"Inputs":      "All that the scenario says, to be changed in the yellow cells; all else follows.",
	"Checks":      "Each check of each: whether it passes, and what it rests on.",
	unmetName:     "What the checks that are not met say, in sentences.",
	questionsName: "What people ask, with an answer for each.",
	sweepsName:    "What studies found: who is best where, which inputs matter most, how sure the answer is, where two are level.",
	reachedName:   "The inputs that studies follow from, live and as they were then.",
	"Lists":       "Workings: what may be chosen in cells of the sheet Inputs.",
}

const contentsRow = 4 // of its heads

// putContents puts the contents behind the first sheet.
func (pl *plan) putContents() {
	s := pl.head(&page{name: contentsName, title: contentsName, lead: "What each sheet of this workbook holds; its name leads to it."})
	s.Widths = []float64{34, 95}
	s.FreezeRows, s.Print.RepeatRows = contentsRow, contentsRow
	s.text(contentsRow, 1, "sheet", HeadText)
	s.text(contentsRow, 2, "what it holds", HeadText)
	sections := pl.sections()
	for i, of := range pl.book.Sheets {
		words, ok := holds[of.Name]
		if !ok {
			words, _ = of.At(2, 1).Value.(string)
		}
		if words == "" {
			words, _ = of.At(1, 1).Value.(string)
		}
		if in := sections[of.Name]; len(in) > 0 {
			words += " Sections: " + strings.Join(in, ", ") + "."
		}
		row := contentsRow + 1 + i
		s.Set(row, 1, Cell{Value: of.Name, Style: Link, Link: quoteSheet(of.Name) + "!A1"})
		s.text(row, 2, words, Remark)
	}
	pl.warn(s)
	pl.book.Sheets = slices.Insert(pl.book.Sheets, 1, s)
}

// sections are the sections of the rules on each sheet that shows some, in their order.
// Sheets of one sentence are told apart by them.
func (pl *plan) sections() map[string][]string {
	out := map[string][]string{}
	for _, pg := range slices.Concat(pl.series, pl.rulePages()) {
		for _, l := range pg.lines {
			if l.q == nil || l.q.Section == "" {
				continue
			}
			if name := lowerFirst(l.q.Section); !slices.Contains(out[pg.name], name) {
				out[pg.name] = append(out[pg.name], name)
			}
		}
	}
	return out
}
