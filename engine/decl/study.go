package decl

import (
	"slices"

	"bankwright/engine/diag"
)

// Limits of studies: far above what people ask for, and low enough that a
// hostile file is refused soon.
const (
	maxStudies     = 100 // of one sort
	MaxUncertain   = 50  // inputs of one doubt
	MaxShown       = 20  // entries of `show`
	defaultSamples = 8192
	defaultSeed    = 1
)

// Limits of the samples of a doubt, and of its seed.
const (
	MinSamples = 10
	MaxSamples = 1 << 24
	MaxSeed    = 1_000_000_000
)

// MaxPoints is how many values an input may take between two ends.
const MaxPoints = 1_000_000

// Study is what sweeps, doubts and break-evens have in common.
type Study struct {
	Name  string
	Title string // for people; by default the name as a heading
	At    diag.Pos
}

// Sweep asks what quantities come to while inputs are varied
// ([sweep.NAME] in a scenario).
type Sweep struct {
	Study
	Show []Named // quantities of the compared kind, or cells; none: what decides the comparison
	Vary []*Vary // every value of the one with every value of the others; the last runs fastest
}

// Vary says which values an input takes one after another. What the names and
// values mean is found by package check.
type Vary struct {
	Inputs []Named
	Scaled bool     // values are factors, by which all inputs are multiplied together
	Values []*Value // nil: from From to To
	From   *Value
	To     *Value
	Points int    // how many, both ends included; 0: by Step
	Step   *Value // from one to the next
	At     diag.Pos
}

// Doubt asks how sure the comparison is while inputs are uncertain
// ([doubt.NAME] in a scenario).
type Doubt struct {
	Study
	Samples    int
	Seed       int
	Inputs     []*Uncertain
	Correlated []Correlated
}

// DistKind is the form of the distribution of an uncertain input.
type DistKind int

const (
	// Triangular has the parameters least, most likely, most.
	Triangular DistKind = iota
	// Uniform has the parameters least and most.
	Uniform
	// Normal has the parameters mean and standard deviation.
	Normal
	// Lognormal has the parameters median and the standard deviation of the
	// natural logarithm, a plain number.
	Lognormal
	// Trials is the mean of which trials tell: Student's t with one degree of
	// freedom less than there are trials, around their mean and scaled by their
	// standard deviation over the square root of their number.
	Trials
)

// distKeys are the keys that scenarios use, by DistKind.
var distKeys = []string{"triangular", "uniform", "normal", "lognormal", "trials"}

// distParams says what the parameters of each are.
var distParams = [][]string{
	Triangular: {"least", "most likely", "most"},
	Uniform:    {"least", "most"},
	Normal:     {"mean", "standard deviation"},
	Lognormal:  {"median", "relative spread"},
	Trials:     {"mean", "deviation", "count"},
}

// String is the word that scenarios use.
func (k DistKind) String() string { return distKeys[k] }

// Parameters says what the parameters of the distribution are, in their order.
func (k DistKind) Parameters() []string { return slices.Clone(distParams[k]) }

// Uncertain is an input with its distribution. Params are its parameters in the
// order of DistKind; of Trials they are the cells Mean, Deviation and Count.
type Uncertain struct {
	Input  Named
	Kind   DistKind
	Params []*Value
	Cells  []Named // Trials: mean, deviation, count
	At     diag.Pos
}

// Correlated says how two uncertain inputs go together: By is the correlation
// of the normal variables from which both are drawn, within -1 and 1.
type Correlated struct {
	Inputs [2]Named
	By     float64
	At     diag.Pos
}

// BreakEven asks at which value of an input two items cost the same
// ([break_even.NAME] in a scenario).
type BreakEven struct {
	Study
	Between []Named // two items of the compared kind; none: the best and the next
	Input   Named
	From    *Value
	To      *Value
	Over    *Vary // a curve over a second input; may be nil
}

// studies reads the sweeps, doubts and break-evens of the scenario. Where items
// or quantities are at fault, names in studies cannot be judged, and none is
// kept.
func (l *loader) studies() {
	if l.header == nil || l.unread {
		return
	}
	m := l.model
	for _, n := range l.studiesOf("sweep") {
		if s := l.sweep(n); s != nil {
			m.Sweeps = append(m.Sweeps, s)
		}
	}
	for _, n := range l.studiesOf("doubt") {
		if d := l.doubt(n); d != nil {
			m.Doubts = append(m.Doubts, d)
		}
	}
	for _, n := range l.studiesOf("break_even") {
		if b := l.breakEven(n); b != nil {
			m.BreakEvens = append(m.BreakEvens, b)
		}
	}
	if len(l.partial)+len(l.broken)+len(l.presumed) > 0 || l.losesItems() {
		m.Sweeps, m.Doubts, m.BreakEvens = nil, nil, nil
	}
}

// losesItems reports whether a kind may lack items that the scenario means to give.
func (l *loader) losesItems() bool {
	return slices.ContainsFunc(l.model.Kinds, func(k *Kind) bool { return l.lost[k] })
}

// studiesOf are the tables [SORT.NAME] of the scenario.
func (l *loader) studiesOf(sort string) []*node {
	n := l.header.get(sort)
	if n == nil || n.bad {
		return nil
	}
	if n.kind != tableNode {
		l.diags.Errorf(n.keyAt, "wrong-type", "Write ["+sort+".NAME] for each.", "each `%s` has a name of its own", sort)
		return nil
	}
	var out []*node
	for _, kid := range n.kids {
		switch {
		case kid.bad:
		case kid.kind != tableNode:
			l.diags.Errorf(kid.keyAt, "wrong-type", "Write ["+sort+".NAME] above it.", "`%s` must belong to a %s with a name", shorten(kid.key, 60), words(sort))
		case len(out) == maxStudies:
			l.diags.Errorf(kid.keyAt, "limit", "Leave some out.", "the scenario has more than %d tables of `%s`", maxStudies, sort)
			return out
		case !l.taken(words(sort), kid):
			out = append(out, kid)
		}
	}
	return out
}

// study reads what all have in common.
func (f *fields) study() Study {
	s := Study{Name: f.n.key, Title: f.title("title"), At: f.n.keyAt}
	if s.Title == "" {
		s.Title = heading(s.Name)
	}
	return s
}

func (l *loader) sweep(n *node) *Sweep {
	f := l.fields(n, "a sweep")
	if f == nil {
		return nil
	}
	s := &Sweep{Study: f.study(), Show: f.names("show", 1, MaxShown)}
	for _, kid := range f.tables("vary", "{ input = \"…\", values = [\"…\", \"…\"] }") {
		if v := f.vary(kid, "`vary`"); v != nil {
			s.Vary = append(s.Vary, v)
		}
	}
	if !f.ok {
		return nil
	}
	return s
}

func (l *loader) doubt(n *node) *Doubt {
	f := l.fields(n, "a doubt")
	if f == nil {
		return nil
	}
	d := &Doubt{
		Study:   f.study(),
		Samples: f.integer("samples", MinSamples, MaxSamples, defaultSamples),
		Seed:    f.integer("seed", 0, MaxSeed, defaultSeed),
	}
	tables := f.tables("inputs", "{ input = \"…\", uniform = [\"…\", \"…\"] }")
	if len(tables) > MaxUncertain {
		f.fault(tables[MaxUncertain].at, "limit", "Leave out those that matter least.", "a doubt has at most %d inputs", MaxUncertain)
		return nil
	}
	for _, kid := range tables {
		if u := f.uncertain(kid); u != nil {
			d.Inputs = append(d.Inputs, u)
		}
	}
	if f.has("correlated") {
		for _, kid := range f.tables("correlated", "{ inputs = [\"…\", \"…\"], by = 0.5 }") {
			if c := f.correlation(kid); c != nil {
				d.Correlated = append(d.Correlated, *c)
			}
		}
	}
	if !f.ok {
		return nil
	}
	return d
}

func (l *loader) breakEven(n *node) *BreakEven {
	f := l.fields(n, "a break-even")
	if f == nil {
		return nil
	}
	b := &BreakEven{Study: f.study(), Between: f.names("between", 2, 2), Input: f.named("input"), From: f.value("from"), To: f.value("to")}
	if over := n.get("over"); over != nil {
		b.Over = f.vary(over, "`over`")
	}
	if !f.ok {
		return nil
	}
	return b
}
