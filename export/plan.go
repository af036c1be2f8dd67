package export

import (
	"fmt"
	"strings"
	"unicode"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
)

// page is a sheet in the making: lines in order, placed once all are known.
type page struct {
	name   string
	title  string
	lead   string      // sentence below the title
	kind   *check.Kind // of a page of rules
	axes   []*decl.Axis
	byRow  bool    // its formulas say where inputs stand, not what they are called
	counts []*line // of a page of series: a column of step numbers for each axis
	starts bool    // some series on the page has a start
	pulled []*line // what the formulas bring in from elsewhere
	points []*line // below the rules: the items' own tables in order
	lines  []*line
	width  int          // of a page of series: its last column
	bands  []int        // of a page of series: the first row of steps of each band of blocks
	rows   int          // of a page of series: how many rows of steps there are
	wide   float64      // of a page of series: the width of a column of values
	told   int          // of a page of series: how many of the first lines are meant for paper
	sheets bands        // of a page of series: how its bands stand on paper
	gaps   map[int]bool // of a page of series: columns between blocks
	sheet  *Sheet

	quoted  [2]string // its name, and how formulas write that
	written []byte    // room for the formula that is being written out
	spans   []span    // and for the rows that its references select
}

// quotedName is the page's name as formulas write it.
func (pg *page) quotedName() string {
	if pg.quoted[0] != pg.name {
		pg.quoted = [2]string{pg.name, quoteSheet(pg.name)}
	}
	return pg.quoted[1]
}

// plan lays a solved program out as a workbook.
type plan struct {
	model *engine.Model
	prog  *check.Program
	res   *eval.Result
	book  *Book
	found *engine.Studies // nil: no study was run

	inputs     *page
	tables     *page
	checks     *page
	unmet      *page // of the sheet of their sentences
	answer     *page
	writing    *page // of the sheet Figures
	rules      map[*check.Kind]*page
	apart      map[*check.Kind][]*page // further sheets of a kind, for sections that have one of their own
	series     []*page
	longSeries []*page               // those that are printed in short
	names      map[*check.Kind]*line // the names of the items, on the page of inputs
	extra      map[*check.Kind][]*line
	places     map[*check.Quantity]*line
	sorted     map[*check.Quantity]*points
	kept       map[influenceCell]*kept // recordings, by quantity and item
	keptOrder  []*kept
	catalogue  *catalogue          // all items, where only some go through the book
	columns    map[columnKey]*line // of tables, in base units
	pulls      map[string]*line
	inUse      map[inUseKey]*line

	namesTaken       map[string]bool // defined names, in capitals
	lists            lists
	missing          map[*check.Kind]*line // what is blank of each item
	limits           *page                 // of the sheet Limits
	mend             []mending             // what is to be mended, by kind
	unusualRow       int                   // of the sheet Limits: how many figures are unusual; 0: none have a usual range
	mendFrom, mendTo int                   // rows of the list of that
	warning          string                // the formula that says on other sheets what is missing
	lacking          map[*check.Kind]*line // what is blank of all that an item needs
	astray           map[*line]text        // 1 where a reference that must lead somewhere does not, by the line of its position

	computed   []computed
	sets       [][]int                   // of them that something follows from together
	followed   map[*check.Quantity][]int // which of them a quantity follows from
	reads      map[*check.Quantity][]*check.Quantity
	stands     []stand              // what they follow from
	pictures   []pictured           // sheets of drawings
	stale      string               // the formula that says on the first sheet that it has changed
	studiesRow int                  // of the first sheet: above what studies found
	studied    map[string]sinceThen // by study: whether the inputs that it reaches have changed; "" is all of them
	longest    string               // name of an input that studies reach
	blind      bool                 // studies were run, and it is not known what they found
	published  map[columnKey]*line  // of tables, as they can be changed

	sentences    map[*check.Check]text // what is said where it is not met
	answers      map[*check.Question]text
	asked        *Sheet           // of the questions that people ask, with their answers; nil: there are none
	figureTexts  map[string]*line // figures of sentences that stand alone in their unit
	summary      text             // the line above the comparison
	toleranceRow int
	lines        int
	fault        error
}

type columnKey struct {
	table *decl.Table
	col   int
}

func newPlan(m *engine.Model) *plan {
	pl := &plan{
		model: m, prog: m.Program, res: m.Result, book: &Book{Title: m.Model.Title},
		rules: map[*check.Kind]*page{}, apart: map[*check.Kind][]*page{}, names: map[*check.Kind]*line{}, extra: map[*check.Kind][]*line{},
		places: map[*check.Quantity]*line{}, sorted: map[*check.Quantity]*points{}, columns: map[columnKey]*line{}, pulls: map[string]*line{}, inUse: map[inUseKey]*line{}, namesTaken: map[string]bool{"TOLERANCE": true, "FIGURE_DIGITS": true, "FIGURE_ROUND": true, "FIGURE_LEAST": true, "FIGURE_MOST": true, "FIGURE_BASE": true, "FIGURE_MARGIN": true},
	}
	pl.inputs = &page{name: "Inputs", title: "Inputs"}
	pl.tables = &page{name: "Tables", title: "Tables"}
	pl.limits = &page{name: limitsName, byRow: true, title: "What inputs may be", lead: "Workings: what the rules allow of each input, a row for each row of the sheet Inputs, and what stands there against it."}
	pl.checks = &page{name: "Checks", title: "Checks"}
	pl.writing = &page{name: figuresName, title: "Figures in sentences", lead: "Workings: how many decimals the figures in the sentences of this workbook have, and how they are written."}
	pl.figureTexts, pl.followed, pl.reads = map[string]*line{}, map[*check.Quantity][]int{}, map[*check.Quantity][]*check.Quantity{}
	pl.answer = &page{name: "Answer", title: m.Model.Title}
	pl.sentences, pl.answers, pl.published = map[*check.Check]text{}, map[*check.Question]text{}, map[columnKey]*line{}
	pl.missing, pl.lacking, pl.astray = map[*check.Kind]*line{}, map[*check.Kind]*line{}, map[*line]text{}
	return pl
}

// newLine makes a line on a page; it still has to be put into the page's order.
func (pl *plan) newLine(pg *page, l line) *line {
	pl.lines++
	l.id, l.page = pl.lines, pg
	if l.rows == 0 {
		l.rows = 1
	}
	if l.across == 0 {
		l.across = 1
	}
	return &l
}

// fail keeps the first thing that cannot be written as a spreadsheet.
func (pl *plan) fail(format string, args ...any) {
	if pl.fault == nil {
		pl.fault = fmt.Errorf(format, args...)
	}
}

// seriesPage is the page of everything that runs over the axes.
func (pl *plan) seriesPage(axes []*decl.Axis) *page {
	for _, pg := range pl.series {
		if sameAxes(pg.axes, axes) {
			return pg
		}
	}
	var names, docs []string
	for _, a := range axes {
		title, doc := a.Title, a.Doc
		switch {
		case title == "":
			title = "By " + strings.ReplaceAll(a.Name, "_", " ")
		case a.Kind != nil:
			title, doc = "By "+lowerFirst(title), "For each of the "+lowerFirst(title)+"."
		}
		if len(names) > 0 {
			title = lowerFirst(title)
		}
		names = append(names, title)
		docs = append(docs, doc)
	}
	title := strings.Join(names, ", ")
	short := title
	if len([]rune(title)) > longestName {
		short = upperFirst(strings.Join(axisNames(axes), ", "))
	}
	pg := &page{name: pl.sheetName(short), title: title, lead: strings.TrimSpace(strings.Join(docs, " ")), axes: axes}
	for _, a := range axes {
		pg.counts = append(pg.counts, pl.newLine(pg, line{label: a.Name, only: own}))
	}
	pl.series = append(pl.series, pg)
	return pg
}

func axisNames(axes []*decl.Axis) []string {
	var out []string
	for _, a := range axes {
		out = append(out, strings.ReplaceAll(a.Name, "_", " "))
	}
	return out
}

func sameAxes(a, b []*decl.Axis) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// fixed are the sheets that every workbook has.
var fixed = []string{"Answer", contentsName, "Inputs", "Checks", unmetName, computedName, "Tables", sourcesName, figuresName, workingsName, sweepsName, reachedName, "Lists", "History", questionsName, limitsName, shortName}

// longestName is how many characters a sheet's name may have.
const longestName = 31

// sheetName makes a title a sheet's name: at most 31 characters, none of those
// that are not allowed, and unlike every other regardless of case.
func (pl *plan) sheetName(title string) string {
	clean := strings.Map(func(r rune) rune {
		if strings.ContainsRune(`[]:*?/\`, r) || r < ' ' {
			return ' '
		}
		return r
	}, title)
	clean = strings.Trim(strings.TrimSpace(clean), "'")
	if clean == "" {
		clean = "Sheet"
	}
	for n := 1; ; n++ {
		name := clean
		if n > 1 {
			name = fmt.Sprintf("%s %d", cut(clean, longestName-4), n)
		}
		name = strings.TrimRight(cut(name, longestName), " '")
		if !pl.taken(name) {
			return name
		}
	}
}

func (pl *plan) taken(name string) bool {
	for _, f := range fixed {
		if strings.EqualFold(f, name) {
			return true
		}
	}
	for _, pg := range pl.rulePages() {
		if strings.EqualFold(pg.name, name) {
			return true
		}
	}
	for _, pg := range pl.series {
		if strings.EqualFold(pg.name, name) {
			return true
		}
	}
	for _, k := range pl.keptOrder {
		if strings.EqualFold(k.page.name, name) {
			return true
		}
	}
	for _, p := range pl.pictures {
		if strings.EqualFold(p.name, name) {
			return true
		}
	}
	return false
}

func cut(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n])
	}
	return s
}

// rowOf is the row of a step within a line of a page of series. A page where
// some series has a start keeps a row for it before the first step of each run
// of the last axis, so that the step before is always the row above.
func (pg *page) rowOf(steps []int) int {
	n := len(pg.axes) - 1
	outer := 0
	for i, a := range pg.axes[:n] {
		outer = outer*a.Steps + steps[i]
	}
	if pg.starts {
		return outer*(pg.axes[n].Steps+1) + steps[n] + 1
	}
	return outer*pg.axes[n].Steps + steps[n]
}

// eachRow calls f for every row of a page of series, in order; the last step is
// -1 on a row of starts. The slice is reused.
func (pg *page) eachRow(f func(steps []int)) {
	steps := make([]int, len(pg.axes))
	for _, a := range pg.axes {
		if a.Steps == 0 {
			return
		}
	}
	n := len(steps) - 1
	for {
		first := 0
		if pg.starts {
			first = -1
		}
		for steps[n] = first; steps[n] < pg.axes[n].Steps; steps[n]++ {
			f(steps)
		}
		i := n - 1
		for ; i >= 0; i-- {
			if steps[i]++; steps[i] < pg.axes[i].Steps {
				break
			}
			steps[i] = 0
		}
		if i < 0 {
			return
		}
	}
}

func titleOf(k *check.Kind) string {
	if k.Title != "" {
		return k.Title
	}
	name := k.Plural
	if name == "" {
		name = k.Name
	}
	return upperFirst(strings.ReplaceAll(name, "_", " "))
}

func labelOf(q *check.Quantity) string {
	label := q.Label
	if label == "" {
		label = q.Name
	}
	return upperFirst(strings.ReplaceAll(label, "_", " "))
}

func itemLabel(it *decl.Item) string {
	if it.Label != "" {
		return it.Label
	}
	return it.Name
}

func upperFirst(s string) string {
	if s == "" {
		return s
	}
	r := []rune(s)
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}

// lowerFirst leaves abbreviations as they are.
func lowerFirst(s string) string {
	r := []rune(s)
	if len(r) == 0 || len(r) > 1 && unicode.IsUpper(r[1]) {
		return s
	}
	return strings.ToLower(string(r[:1])) + string(r[1:])
}
