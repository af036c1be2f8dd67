package schema

import (
	"strings"

	"bankwright/engine/decl"
)

// kind is a kind with its inputs, as all scenarios that are described have it.
type kind struct {
	*decl.Kind
	models int // that have the kind
	inputs []*input
}

// input is an input of a kind, as those declare it that have it.
type input struct {
	*decl.Quantity
	models int // that have it
	needed int // those in which an item must give it
	others []*decl.Quantity
}

// merge adds a kind of one more model.
func (k *kind) merge(from *decl.Kind) {
	k.models++
	for _, q := range from.Quantities {
		if q.Computed() {
			continue
		}
		in := k.input(q.Name)
		if in == nil {
			in = &input{Quantity: q}
			k.inputs = append(k.inputs, in)
		} else {
			in.others = append(in.others, q)
		}
		in.models++
		if q.Default == nil && !q.Optional && q.Unless == nil {
			in.needed++
		}
	}
}

func (k *kind) input(name string) *input {
	for _, in := range k.inputs {
		if in.Name == name {
			return in
		}
	}
	return nil
}

// items is what stands at the top of a scenario for a kind.
func (b *builder) items(k *kind) *node {
	id := "kind_" + k.Name
	b.define(id, func() *node { return b.item(k) })
	if !k.Many {
		return ref(id).told(k.Doc)
	}
	return tables(ref(id)).told(k.Doc)
}

// item is one table of a kind.
func (b *builder) item(k *kind) *node {
	n := &node{Type: types{"object"}, Others: &others{}}
	each := &node{Type: types{"object"}, LeastKeys: 1, Others: &others{}, Description: "Every combination of these values makes one " + k.Name + "."}
	for _, in := range k.inputs {
		value := b.input(in)
		n.Properties = append(n.Properties, member{in.Name, value})
		varied := list(ref("kind_"+k.Name+"/properties/"+in.Name), 1, 0)
		if in.Type == decl.Reference {
			varied.Type, varied.Pattern = types{"array", "string"}, "^all$"
		}
		each.Properties = append(each.Properties, member{in.Name, varied})
	}
	b.needs(k, n)
	n.Properties = append(n.Properties, member{"label", upTo(decl.MaxLabel).told("What people call it.")})
	if k.Many {
		n.Properties = append(n.Properties, member{"each", each},
			member{"keep", sentence().told("A condition: only combinations that meet it stay.")})
	}
	return n
}

// needs says which inputs an item must give, itself or among those that it varies.
func (b *builder) needs(k *kind, n *node) {
	var must words
	varied := &node{}
	for _, in := range k.inputs {
		alternatives := []string{in.Name}
		switch {
		case in.needed == k.models:
		case in.Unless != nil && in.models == k.models && len(in.others) == in.models-1:
			alternatives = append(alternatives, in.Unless.Name)
		default:
			continue
		}
		var any []*node
		for _, name := range alternatives {
			any = append(any, &node{Required: words{name}})
		}
		if len(any) == 1 {
			must = append(must, in.Name)
		} else {
			n.AllOf = append(n.AllOf, &node{AnyOf: append(any[:len(any):len(any)], underEach(alternatives)...)})
			continue
		}
		varied.AllOf = append(varied.AllOf, &node{AnyOf: append(any, underEach(alternatives)...)})
	}
	switch {
	case len(must) == 0:
	case !k.Many:
		n.Required = must
	default:
		n.If, n.Then, n.Else = &node{Required: words{"each"}}, varied, &node{Required: must}
	}
}

// underEach are the conditions that `each` gives one of some inputs.
func underEach(names []string) (out []*node) {
	for _, name := range names {
		out = append(out, &node{Properties: members{{"each", &node{Required: words{name}}}}, Required: words{"each"}})
	}
	return out
}

// input is the value of an input. Where scenarios declare it in different ways, any
// of these will do.
func (b *builder) input(in *input) *node {
	first := b.value(in.Quantity)
	text, _ := plain(first)
	any := []*node{first}
	for _, q := range in.others {
		n := b.value(q)
		if t, _ := plain(n); string(t) != string(text) {
			any = append(any, n)
		}
	}
	if len(any) > 1 {
		first = &node{AnyOf: any}
	}
	return first.told(describe(in.Quantity))
}

// value is the value of an input.
func (b *builder) value(q *decl.Quantity) *node {
	switch q.Type {
	case decl.Text:
		if len(q.Choices) > 0 {
			return oneOf(q.Choices...)
		}
		return sentence()
	case decl.Reference:
		return name()
	case decl.Set:
		return &node{Type: types{"array"}, Items: name(), Unique: true}
	case decl.Points:
		return b.points(q)
	case decl.Recording:
		return b.recording(q)
	case decl.Boolean:
		return b.series(q.Over, &node{Type: types{"boolean", "string"}, Pattern: `^\s*=`})
	}
	return b.series(q.Over, b.measure(q.Unit, q.Min, q.Max, q.Whole))
}

// series is one value, or a list with one for each step; where axes nest, of lists.
func (b *builder) series(axes []*decl.Axis, one *node) *node {
	if len(axes) == 0 {
		return one
	}
	steps := &node{Items: b.series(axes[1:], one), Least: 1}
	if a := axes[0]; a.Kind == nil {
		steps.Most = a.Steps
		if a.Active == nil {
			steps.Least = a.Steps
		}
	}
	return &node{If: &node{Type: types{"array"}}, Then: steps, Else: one}
}

// points is an item's own table: a list for each column.
func (b *builder) points(q *decl.Quantity) *node {
	n := table(nil)
	for _, c := range q.Columns {
		n.Properties = append(n.Properties, member{c.Name, list(b.measure(c.Unit, c.Min, c.Max, false), 1, q.MaxRows)})
		n.Required = append(n.Required, c.Name)
	}
	return n
}

// recording is the name of a file, or a table that says how it is written as well.
func (b *builder) recording(q *decl.Quantity) *node {
	n := recording().node()
	for _, c := range q.Columns {
		n.Properties = append(n.Properties, member{c.Name, logColumn().told("Where the file has it, in " + c.Unit.Name + ".")})
	}
	n.Type, n.Required = types{"string", "object"}, words{"file"}
	return n
}

// describe says what an input is and what it takes.
func describe(q *decl.Quantity) string {
	text := strings.Join(q.Facts(), ", ") + "."
	return strings.TrimSpace(q.Doc + " " + strings.ToUpper(text[:1]) + text[1:])
}
