package decl

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// given reads what a file says of a quantity, or is nil where that is at
// fault, which is then told. scenario tells whether the file is one: rules
// count in no currency. The same value is read once, however many
// combinations have it.
func (l *loader) given(n *node, q *Quantity, scenario bool) *Given {
	if g, done := l.parsed[n]; done {
		return g
	}
	g := &Given{At: n.at, Written: n.shown()}
	if n.bad || l.broken[q] || !l.read(g, n, q, scenario) {
		g = nil
	}
	l.parsed[n] = g
	return g
}

// read fills in a value by the type of its quantity.
func (l *loader) read(g *Given, n *node, q *Quantity, scenario bool) (ok bool) {
	if n.kind == textNode && isFormula(strings.TrimSpace(n.text)) {
		return l.ownFormula(g, n, q)
	}
	switch q.Type {
	case Number:
		g.Values, ok = l.values(n, q, q.Over, func(n *node) (float64, bool) {
			v, ok := l.number(n, q.Unit, q.Name, scenario)
			return v, ok && l.inBounds(n, q, v, scenario)
		})
	case Boolean:
		g.Values, ok = l.values(n, q, q.Over, func(n *node) (float64, bool) { return l.boolean(n, q) })
	case Text:
		g.Texts, ok = l.choice(n, q)
	case Reference:
		g.Texts, ok = l.reference(n, q)
	case Set:
		g.Texts, ok = l.set(n, q)
	case Points:
		g.Points, ok = l.points(n, q, scenario)
	case Recording:
		g.Recording, ok = l.log(n, q)
	}
	return ok
}

// ownFormula reads a formula in the place of a value.
func (l *loader) ownFormula(g *Given, n *node, q *Quantity) bool {
	if q.Type != Number && q.Type != Boolean {
		l.diags.Errorf(n.at, "formula", "Write the value itself, without a leading equals sign.",
			"`%s` is %s and cannot be given by a formula", q.Name, q.takes())
		return false
	}
	g.Formula = n.formula()
	if g.Formula.Text == "" {
		l.diags.Errorf(n.at, "missing", "Write a formula behind the equals sign.", "the formula is empty")
		return false
	}
	return true
}

// takes says in words what values of a quantity are.
func (q *Quantity) takes() string {
	switch q.Type {
	case Boolean:
		return "true or false"
	case Text:
		return "text"
	case Reference:
		return "the name of one " + q.Refers.Name
	case Set:
		return "a list of " + q.Refers.Plural
	case Recording:
		return "a recording with " + strings.Join(columnNames(q.Columns), ", ")
	case Points:
		return "a table of " + strings.Join(columnNames(q.Columns), " and ")
	}
	return "a number"
}

// values reads a single value or, for a series, a list with one value for each
// step. Where axes nest, the list has a list for each step of the first.
func (l *loader) values(n *node, q *Quantity, axes []*Axis, one func(*node) (float64, bool)) ([]float64, bool) {
	if n.kind != listNode {
		v, ok := one(n)
		return []float64{v}, ok
	}
	if len(axes) == 0 {
		what := "not a list"
		if len(q.Over) > 0 {
			what = "and this is a list within the list"
		}
		l.diags.Errorf(n.at, "wrong-type", "Write one value without brackets.", "`%s` takes a single value, %s", q.Name, what)
		return nil, false
	}
	if ok := l.oneEach(n, q, axes[0]); !ok {
		return nil, false
	}
	inner := 1
	for _, a := range axes[1:] {
		inner *= a.Steps
	}
	var out []float64
	ok := true
	for _, kid := range n.kids {
		if kid.kind == textNode && isFormula(strings.TrimSpace(kid.text)) {
			l.diags.Errorf(kid.at, "formula", "Write the value, or one formula in the place of the list.", "a formula cannot stand for a single step")
			ok = false
			continue
		}
		if kid.bad {
			ok = false
			continue
		}
		v, good := l.values(kid, q, axes[1:], one)
		ok = ok && good
		for len(v) == 1 && inner > 1 && len(v) < inner {
			v = repeat(v[0], inner)
		}
		out = append(out, v...)
	}
	for rest := axes[0].Steps * inner; ok && len(out) < rest; {
		out = append(out, l.beyond(q))
	}
	return out, ok
}

// beyond is what a list that is shorter than its axis has in the steps left
// over: the default where that is one value, else nothing.
func (l *loader) beyond(q *Quantity) float64 {
	if d := q.Default; d != nil && len(d.Values) == 1 {
		return d.Values[0]
	}
	return math.NaN()
}

func repeat(v float64, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = v
	}
	return out
}

// oneEach reports whether a list has one entry for each step of an axis.
func (l *loader) oneEach(n *node, q *Quantity, a *Axis) bool {
	if a.Kind != nil && !l.collected {
		l.diags.Errorf(n.at, "wrong-type", "Write one value, which then counts for all.",
			"`%s` runs over the %s of a scenario, which rules do not know", q.Name, a.Kind.Plural)
		return false
	}
	if a.Active != nil && len(n.kids) > 0 && len(n.kids) < a.Steps {
		return true // only so many steps may be in use; values fills up
	}
	if len(n.kids) == a.Steps || a.Kind != nil && (l.unread || l.partial[l.kinds[a.Name]]) {
		return len(n.kids) > 0 && len(n.kids) == a.Steps
	}
	steps := "`" + a.Name + "` has " + count(a.Steps, "step")
	if a.Kind != nil {
		steps = "there are " + strconv.Itoa(a.Steps) + " " + a.Kind.Plural
	}
	l.diags.Errorf(n.at, "length", "Write one value for each step, or a single one without brackets for all.",
		"`%s` has %s, but %s", q.Name, count(len(n.kids), "value"), steps)
	return false
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + what + "s"
}

// single reports whether a value is of a kind, and says what belongs there
// otherwise.
func (l *loader) single(n *node, q *Quantity, kind nodeKind, mend string) bool {
	if n.bad {
		return false
	}
	if n.kind == kind {
		return true
	}
	l.diags.Errorf(n.at, "wrong-type", mend, "`%s` is %s, not %s", q.Name, q.takes(), n.what())
	return false
}

func (l *loader) boolean(n *node, q *Quantity) (float64, bool) {
	if !l.single(n, q, boolNode, "Write true or false, without quotes.") {
		return 0, false
	}
	if n.truth {
		return 1, true
	}
	return 0, true
}

func (l *loader) choice(n *node, q *Quantity) ([]string, bool) {
	mend := "Put it between quotes."
	if len(q.Choices) > 0 {
		mend = "Write one of " + quotedList(q.Choices) + "."
	}
	if !l.single(n, q, textNode, mend) {
		return nil, false
	}
	if len(q.Choices) == 0 {
		return []string{n.text}, true
	}
	for _, c := range q.Choices {
		if c == n.text {
			return []string{c}, true
		}
	}
	if near := l.near(n.text, q.Choices); near != "" {
		mend = "Did you mean \"" + near + "\"? " + mend
	}
	l.diags.Errorf(n.at, "choice", mend, "`%s` cannot be \"%s\"", q.Name, shorten(n.text, 60))
	return nil, false
}

func quotedList(texts []string) string {
	var out []string
	for i, s := range texts {
		if i == 12 {
			out = append(out, "…")
			break
		}
		out = append(out, quoted(s))
	}
	return strings.Join(out, ", ")
}

func (l *loader) reference(n *node, q *Quantity) ([]string, bool) {
	mend := "Write its name between quotes."
	if n.kind == listNode {
		mend = "Write one name between quotes, without brackets."
	}
	if !l.single(n, q, textNode, mend) || !l.exists(n, q) {
		return nil, false
	}
	return []string{n.text}, true
}

func (l *loader) set(n *node, q *Quantity) ([]string, bool) {
	mend := "Write the names between [ and ]."
	if n.kind == textNode {
		mend = "Write [" + n.quoted() + "]."
	}
	if !l.single(n, q, listNode, mend) {
		return nil, false
	}
	names, ok := []string{}, true
	seen := map[string]bool{}
	for _, kid := range n.kids {
		switch {
		case kid.bad:
			ok = false
		case kid.kind != textNode:
			l.diags.Errorf(kid.at, "wrong-type", "Put a name between quotes.", "`%s` is %s, and this is %s", q.Name, q.takes(), kid.what())
			ok = false
		case seen[kid.text]:
			l.diags.Errorf(kid.at, "duplicate", "Leave it out.", "`%s` is named twice", shorten(kid.text, 60))
			ok = false
		default:
			seen[kid.text] = true
			ok = l.exists(kid, q) && ok
			names = append(names, kid.text)
		}
	}
	return names, ok
}

// exists reports whether a text names an item of the kind that a quantity
// refers to. In rules, where items are not known, every name passes.
func (l *loader) exists(n *node, q *Quantity) bool {
	return !l.collected || l.isItem(n, q.Refers)
}

// isItem reports whether a text names an item of a kind, and says so where it
// does not.
func (l *loader) isItem(n *node, k *Kind) bool {
	if l.unread || l.items[k][n.text] != nil {
		return true
	}
	if it := l.groups[k][n.text]; it != nil {
		l.diags.Errorf(n.at, "reference", "Name one of them, such as "+it.Name+".",
			"`%s` stands for several %s", n.text, k.Plural)
		return false
	}
	if l.partial[k] {
		return true // it may be one of the combinations that are not made, which is told
	}
	if slices.Contains(k.Dropped, n.text) {
		l.diags.Errorf(n.at, "reference", "Name another one, or loosen the condition.", "there is no %s `%s`, since `keep` leaves it out", k.Name, n.text)
		return false
	}
	names := l.itemNames(k)
	mend := l.didYouMean(n.text, names)
	if _, name, ok := strings.Cut(n.text, "."); ok && l.items[k][name] != nil {
		mend = "Write \"" + name + "\", without the kind."
	} else if l.lost[k] && l.near(n.text, names) == "" || l.presumed[k][n.text] {
		return true // it may stand in a table that is at fault, which is told
	}
	if len(names) == 0 {
		mend = "Add [" + k.Name + "." + suggestName(n.text) + "] to the scenario."
	}
	l.diags.Errorf(n.at, "reference", mend, "there is no %s `%s`", k.Name, shorten(n.text, 60))
	return false
}

// itemNames are the names of all items of a kind.
func (l *loader) itemNames(k *Kind) []string {
	if names, ok := l.names[k]; ok {
		return names
	}
	var names []string
	for _, it := range k.Items {
		names = append(names, it.Name)
	}
	l.names[k] = names
	return names
}

func columnNames(columns []Column) []string {
	var names []string
	for _, c := range columns {
		names = append(names, c.Name)
	}
	return names
}
