package export

import (
	"slices"
	"strings"
)

// Sheets with cells to be filled in.
var inputSheets = map[string]bool{"Inputs": true}

func isInput(s Style) bool { return s == Input || s == InputText }

// inputsApart: cells that look like inputs stand on the sheets of inputs only
// and hold no formula; elsewhere no number stands without a formula, unless it
// counts steps or says that it is not live.
func (p *practice) inputsApart() {
	p.each(func(s *Sheet, r, c int, cell Cell) {
		_, isNumber := cell.Value.(float64)
		switch {
		case isInput(cell.Style) && !inputSheets[s.Name]:
			p.tell(s, r, c, "it looks like an input")
		case isInput(cell.Style) && cell.Formula != "":
			p.tell(s, r, c, "an input with the formula "+cell.Formula)
		case isNumber && cell.Formula == "" && slices.Contains([]Style{Computed, Pulled, Total, Sentence, Words}, cell.Style):
			p.tell(s, r, c, "a typed number looks calculated")
		}
	})
}

// legends: a sheet with inputs explains how they look, above what scrolls.
func (p *practice) legends() {
	for _, s := range p.book.Sheets {
		explained, first := false, 0
		for r, row := range s.Rows() {
			for _, cell := range row {
				switch {
				case !isInput(cell.Style):
				case r < s.FreezeRows:
					explained = explained || cell.Value == legendWord
				case first == 0:
					first = r + 1
				}
			}
		}
		if first > 0 && !explained {
			p.tell(s, first, 1, "no legend above it")
		}
	}
}

// errorValues are what spreadsheets show for what cannot be calculated.
var errorValues = []string{"#N/A", "#DIV/0!", "#VALUE!", "#REF!", "#NAME?", "#NUM!", "#NULL!"}

func (p *practice) noErrorValues() {
	p.each(func(s *Sheet, r, c int, cell Cell) {
		if v, ok := cell.Value.(string); ok && slices.Contains(errorValues, v) {
			p.tell(s, r, c, v+" of "+cell.Formula)
		}
	})
}

// noMerged: only a sentence may take several columns.
func (p *practice) noMerged() {
	p.each(func(s *Sheet, r, c int, cell Cell) {
		if cell.Span > 1 && !slices.Contains([]Style{Words, Sentence, Remark, Note, Lead, Alert, FrozenWords}, cell.Style) {
			p.tell(s, r, c, "it takes several columns")
		}
	})
}

// oneTotal: the first sheet adds up what every table of checks counts.
func (p *practice) oneTotal() {
	checks := p.book.Find("Checks")
	if checks == nil {
		return
	}
	var totals []string
	for r := range checks.Rows() {
		if checks.At(r+1, labelCol).Value == notMetInAll {
			totals = append(totals, cellName(r+1, checkItemCol))
		}
	}
	first := p.book.Sheets[0]
	for r := range first.Rows() {
		if first.At(r+1, labelCol).Value != notMetInAll {
			continue
		}
		var added []string
		for _, t := range tokens(first.At(r+1, itemCol).Formula) {
			if t.kind == 'r' && t.sheet == "Checks" {
				added = append(added, strings.ReplaceAll(t.text, "$", ""))
			}
		}
		slices.Sort(added)
		slices.Sort(totals)
		if !slices.Equal(added, totals) {
			p.tell(first, r+1, itemCol, "it adds up "+strings.Join(added, ", ")+" of "+strings.Join(totals, ", "))
		}
		return
	}
	if len(totals) > 0 {
		p.tell(first, 1, 1, "it has no total of checks")
	}
}

// figures are the looks of cells that hold numbers.
var figureLooks = map[Style]bool{Computed: true, Pulled: true, Input: true, Total: true, Frozen: true}

// labelled: beside figures stand what they are and their unit; in a series both
// stand above.
func (p *practice) labelled() {
	for _, s := range p.book.Sheets {
		if s.Name == "Tables" || s.Name == "Lists" || s.Name == sourcesName || s.Name == sweepsName || s.Name == reachedName {
			continue // their columns have heads, with units below
		}
		for r, row := range s.Rows() {
			for c, cell := range row {
				if !figureLooks[cell.Style] || c+1 < itemCol || p.series[s.Name] && r+1 < seriesRow || r < s.FreezeRows {
					continue
				}
				if !p.series[s.Name] {
					if s.At(r+1, labelCol).Value == nil {
						p.tell(s, r+1, labelCol, "no label")
					}
					if s.At(r+1, unitCol).Value == nil {
						p.tell(s, r+1, unitCol, "no unit")
					}
					break
				}
				p.aboveSeries(s, r+1, c+1)
			}
		}
	}
}

// aboveSeries looks for label and unit above the first column of a block, from the
// first row of its steps or of what stands before the first.
func (p *practice) aboveSeries(s *Sheet, row, col int) {
	head := row - 1
	if s.At(head, 1).Style != HeadText {
		head--
	}
	if s.At(head, 1).Style != HeadText {
		return
	}
	for c := col; c > 0 && s.At(head, c) != (Cell{}); c-- {
		if s.At(head-2, c).Value != nil {
			if s.At(head-1, c).Value == nil {
				p.tell(s, head-1, c, "no unit")
			}
			return
		}
	}
	p.tell(s, head-2, col, "no label")
}

// heads stay in sight, and are repeated on every page.
func (p *practice) heads() {
	for i, s := range p.book.Sheets {
		switch {
		case s.FreezeRows == 0 && i > 0: // the first sheet is one page
			p.tell(s, 1, 1, "its heads scroll away")
		case s.Print.RepeatRows == 0:
			p.tell(s, 1, 1, "its heads are not repeated on paper")
		case s.At(1, 1).Style != Title:
			p.tell(s, 1, 1, "it has no title")
		}
	}
}

// safeNames: no two names that differ by case only, none that reads as a cell.
func (p *practice) safeNames() {
	seen := map[string]bool{}
	for _, n := range p.book.Names {
		key := strings.ToUpper(n.Name)
		_, isCell := cornerOf(key)
		switch letters := strings.Trim(key, "0123456789"); {
		case seen[key]:
			p.tell(p.book.Sheets[0], 1, 1, "two names "+n.Name)
		case isCell || letters == "R" || letters == "C" || letters == "RC" || key == "TRUE" || key == "FALSE":
			p.tell(p.book.Sheets[0], 1, 1, "the name "+n.Name+" reads as a cell")
		case strings.Trim(key, "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_") != "" || key[0] >= '0' && key[0] <= '9':
			p.tell(p.book.Sheets[0], 1, 1, "the name "+n.Name+" is not plain")
		}
		seen[key] = true
	}
}

// welcome: the first sheet is the answer, with what it was made from.
func (p *practice) welcome() {
	first := p.book.Sheets[0]
	if first.Name != "Answer" {
		p.tell(first, 1, 1, "the first sheet is no answer")
		return
	}
	want := map[string]bool{"Scenario file": false, "Version of the rules": false}
	for r := range first.Rows() {
		if label := plainText(first.At(r+1, labelCol)); label != "" {
			if _, ok := want[label]; ok {
				want[label] = true
			}
		}
	}
	for label, there := range want {
		if !there {
			p.tell(first, 1, 1, "it does not say: "+label)
		}
	}
}

// stepsOf are the numbers of the steps of each row of a sheet of a series, by
// the names of its axes; nil on other sheets. A row of starts is step 0.
func (p *practice) stepsOf(s *Sheet) map[int]map[string]float64 {
	if !p.series[s.Name] {
		return nil
	}
	if p.steps == nil {
		p.steps = map[*Sheet]map[int]map[string]float64{}
	}
	if p.steps[s] == nil {
		p.steps[s] = readSteps(s)
	}
	return p.steps[s]
}

func readSteps(s *Sheet) map[int]map[string]float64 {
	out := map[int]map[string]float64{}
	for r := seriesRow; r <= len(s.Rows()); r++ {
		out[r] = map[string]float64{}
		for c := 1; c <= s.FreezeCols; c++ {
			head, cell := s.At(seriesRow-1, c), s.At(r, c)
			if n, ok := cell.Value.(float64); ok && cell.Style == Unit {
				out[r][head.Value.(string)] = n
			} else if cell.Value == "start" {
				if head.Value == "name" {
					head = s.At(seriesRow-1, c-1)
				}
				out[r][head.Value.(string)] = 0
			}
		}
	}
	return out
}

// isStep reports whether a row holds a step, not what stands before the first.
func isStep(steps map[string]float64) bool {
	for _, n := range steps {
		if n == 0 {
			return false
		}
	}
	return len(steps) > 0
}

func sortedSteps(steps map[string]float64) []string {
	var out []string
	for name := range steps {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}
