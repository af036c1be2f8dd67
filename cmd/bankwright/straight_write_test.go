package main

import (
	"fmt"
	"go/format"
	"go/token"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// straightHead stands at the beginning of every file that is written out.
const straightHead = `// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

`

// write is the Go text of an outline, by the name of its file.
func (o *outline) write() (map[string][]byte, error) {
	w := &writer{outline: o, tables: map[string]bool{}, texts: map[int]bool{}}
	files := map[string]string{}
	var fix, run strings.Builder
	for _, p := range o.passes {
		name := w.pass(p, files)
		if p.varies {
			fmt.Fprintf(&run, "m.%s()\n", name)
		} else {
			fmt.Fprintf(&fix, "m.%s()\n", name)
		}
	}
	files["run.go"] = fmt.Sprintf(`// Fix computes what no number that is given reaches; it is called once, before Run.
func (m *Model) Fix() {
%s}

// Run computes all that follows from the numbers that are given.
func (m *Model) Run() {
%s}
`, fix.String(), run.String())
	w.structs(files)
	files["tables.go"] = w.constants()
	out := map[string][]byte{}
	for name, text := range files {
		head := straightHead
		if strings.Contains(text, "math.") {
			head += "import \"math\"\n\n"
		}
		formatted, err := format.Source([]byte(head + text))
		if err != nil {
			return nil, fmt.Errorf("%s: %v\n%s", name, err, text)
		}
		out[name] = formatted
	}
	return out, nil
}

type writer struct {
	*outline
	tables map[string]bool
	texts  map[int]bool
	listed []string // tables in order

	// of the function that is being written
	p      *pass
	text   strings.Builder
	self   string
	taken  map[string]int
	local  map[*check.Quantity]string
	reach  []string // pointers that references lead to, by name
	fold   map[*decl.Axis]string
	steps  []*decl.Axis // current ones
	before bool         // a start is being written
}

// exported is a name of the rules as Go writes it.
func exported(name string) string {
	var b strings.Builder
	up := true
	for _, r := range name {
		if r == '_' {
			up = true
			continue
		}
		if up {
			r = unicode.ToUpper(r)
		}
		up = false
		b.WriteRune(r)
	}
	return b.String()
}

// field is the name of a quantity's field.
func field(q *check.Quantity) string {
	if q.Kind.Quantity(q.Name) != q {
		return "Check" + exported(q.Name)
	}
	return exported(q.Name)
}

// spoken are names that a variable cannot have.
var spoken = strings.Fields(`m each absent truth over near below atMost floor abs power discount lookup atLeast rowAtLeast entry lastEntry interpolate interpolateLog inUse natural deviation tQuantile
	min max len math float64 bool int string true false nil any`)

func (w *writer) variable(name string) string {
	v := exported(name)
	v = strings.ToLower(v[:1]) + v[1:]
	if token.IsKeyword(v) || slices.Contains(spoken, v) || v == w.self || w.m.Kind(v) != nil || slices.ContainsFunc(w.m.Axes, func(a *decl.Axis) bool { return axisName(a) == v }) {
		v += "Now"
	}
	return v
}

// fresh is a name for something in between.
func (w *writer) fresh(name string) string {
	n := w.taken[name]
	if w.taken[name]++; n > 0 || slices.Contains(spoken, name) {
		return name + strconv.Itoa(n+1)
	}
	return name
}

func axisName(a *decl.Axis) string { return a.Name + "At" }

func (w *writer) say(form string, args ...any) { fmt.Fprintf(&w.text, form+"\n", args...) }

// pass writes the function of a pass, adds it to the file of its kind, and returns
// its name.
func (w *writer) pass(p *pass, files map[string]string) string {
	w.p, w.self, w.taken, w.local, w.reach = p, p.kind.Name[:1], map[string]int{}, map[*check.Quantity]string{}, nil
	w.fold, w.steps = map[*decl.Axis]string{}, nil
	if w.self == "m" {
		w.self = "k"
	}
	w.text.Reset()
	w.loops(p)
	body := w.text.String()
	name := p.kind.Name + field(p.members[0].q)
	var b strings.Builder
	fmt.Fprintf(&b, "// %s computes %s.\n", name, said(p))
	fmt.Fprintf(&b, "func (m *Model) %s() {\n", name)
	if p.kind.Many {
		fmt.Fprintf(&b, "for i := range m.%s {\n%s := &m.%s[i]\n", exported(p.kind.Name), w.self, exported(p.kind.Name))
	} else {
		fmt.Fprintf(&b, "%s := &m.%s\n", w.self, exported(p.kind.Name))
	}
	for _, r := range w.reach {
		b.WriteString(r + "\n")
	}
	b.WriteString(body)
	if p.kind.Many {
		b.WriteString("}\n")
	}
	b.WriteString("}\n\n")
	file := p.kind.Name + ".go"
	for n := 2; strings.Count(files[file], "\n")+strings.Count(b.String(), "\n") > 340 && files[file] != ""; n++ { // gofmt adds lines
		file = p.kind.Name + strconv.Itoa(n) + ".go"
	}
	files[file] += b.String()
	return name
}

// said are the quantities of a pass, in words.
func said(p *pass) string {
	var names []string
	for _, f := range p.members {
		names = append(names, f.q.Name)
	}
	text := strings.Join(names, ", ")
	var lines []string
	for len(text) > 84 {
		cut := strings.LastIndex(text[:84], " ")
		lines, text = append(lines, text[:cut]), text[cut+1:]
	}
	return strings.Join(append(lines, text), "\n// ")
}

// loops writes the loops over steps and what stands in them.
func (w *writer) loops(p *pass) {
	for i, a := range p.axes {
		if i == len(p.axes)-1 {
			w.starts(p)
		}
		limit := strconv.Itoa(a.Steps)
		if e := p.kind.Active[a]; e != nil {
			limit = w.limit(e, a)
		}
		w.say("for %s := range %s {", axisName(a), limit)
		w.steps = append(w.steps, a)
	}
	for _, f := range p.members {
		if f.q.Start != nil && !w.stored[f.q] {
			w.say("%sBefore := %s", w.variable(f.q.Name), w.variable(f.q.Name))
		}
	}
	for _, f := range p.members {
		w.formula(f)
	}
	for range p.axes {
		w.say("}")
	}
}

// limit is how many steps of an axis are in use.
func (w *writer) limit(e *check.Expr, a *decl.Axis) string {
	return fmt.Sprintf("inUse(%s, %d)", w.number(e).text, a.Steps)
}

// starts writes what stands before the first step.
func (w *writer) starts(p *pass) {
	for _, f := range p.members {
		if f.q.Start == nil {
			continue
		}
		w.before = true
		if w.stored[f.q] {
			w.assign(w.place(f.q, w.self, true), "=", f.q.Start, f.q)
		} else {
			w.assign(w.variable(f.q.Name), ":=", f.q.Start, f.q)
		}
		w.before = false
	}
}

// formula writes one quantity.
func (w *writer) formula(f *formulaOf) {
	v := w.variable(f.q.Name)
	if f.items != nil {
		var cond []string
		for _, i := range f.items {
			cond = append(cond, fmt.Sprintf("i == %d", i))
		}
		w.say("if %s {", strings.Join(cond, " || "))
		w.assign(w.place(f.q, w.self, false), "=", f.value, f.q)
		w.say("}")
		return
	}
	how := ":="
	if f.q.Start != nil && !w.stored[f.q] {
		how = "="
	}
	if w.stored[f.q] && !w.readHere(f.q) {
		w.assign(w.place(f.q, w.self, false), "=", f.value, f.q)
		return
	}
	w.assign(v, how, f.value, f.q)
	w.local[f.q] = v
	if w.stored[f.q] {
		w.say("%s = %s", w.place(f.q, w.self, false), v)
	}
}

// readHere reports whether a quantity is read again in its own pass.
func (w *writer) readHere(q *check.Quantity) bool {
	for _, f := range w.p.members {
		found := false
		w.readsOf(f.value, func(r *check.Ref) { found = found || r.Target == q && !r.Prev && w.beside(r, f.q) })
		if found {
			return true
		}
	}
	return false
}

// place is the field of a quantity at the current steps, or before the first.
func (w *writer) place(q *check.Quantity, item string, first bool) string {
	out := item + "." + field(q)
	for i, a := range q.Axes {
		last := i == len(q.Axes)-1
		switch {
		case last && first:
			out += "[0]"
		default:
			at := w.stepAt(a)
			if last && q.Start != nil {
				at = after(at)
			}
			out += "[" + at + "]"
		}
	}
	return out
}

// after is the index of a step where a start stands in front.
func after(at string) string {
	if n, err := strconv.Atoi(at); err == nil {
		return strconv.Itoa(n + 1)
	}
	return at + "+1"
}

// stepAt is the variable of the current step of an axis, 0 where it is not current.
func (w *writer) stepAt(a *decl.Axis) string {
	if v, ok := w.fold[a]; ok {
		return v
	}
	if slices.Contains(w.steps, a) {
		return axisName(a)
	}
	return "0"
}
