package schema

import (
	"strings"

	"bankwright/engine/decl"
)

// cell is the name of an input: kind.item.quantity, or kind.quantity.
func cell() *node { return &node{Type: types{"string"}, Pattern: `^\s*[a-z][a-z0-9_]*\.`} }

// amount is a value as its quantity takes it; which one that is no schema can tell.
func amount() *node { return &node{Type: types{"string", "number"}} }

var title = key{"title", upTo(decl.MaxTitle), "A heading for people."}

func sweep() described {
	return described{keys: []key{title,
		{"show", oneOrMore(decl.MaxShown), "Cells, or quantities of what is compared; what decides if left out."},
		{"vary", list(shares("`vary`"), 1, 0), "What varies: every value of the one with every value of the others."},
	}, required: words{"vary"}}
}

func vary() described {
	return described{keys: []key{
		{"input", cell(), "The input: kind.item.quantity, or kind.quantity where there is one item."},
		{"inputs", &node{Type: types{"string", "array"}, Items: cell(), Least: 1, Most: decl.MaxUncertain}, "Inputs that go up and down together."},
		{"values", list(scalar(), 1, 0), "The values, one after another."},
		{"by", list(amount(), 1, 0), "Factors of what the input has, such as \"80 %\"."},
		{"from", amount(), "The first value."},
		{"to", amount(), "The last value."},
		{"points", integer(2, decl.MaxPoints), "So many values, both ends included."},
		{"step", amount(), "From one value to the next."},
	}, besides: func(n *node) {
		n.OneOf = either("input", "inputs")
		n.AnyOf = either("values", "by", "from")
		n.Needs = members{{"from", words{"to"}}, {"to", words{"from"}}, {"points", words{"from"}}, {"step", words{"from"}}}
	}}
}

// either are the conditions that one of some keys is given.
func either(keys ...string) (out []*node) {
	for _, k := range keys {
		out = append(out, &node{Required: words{k}})
	}
	return out
}

func doubt() described {
	return described{keys: []key{title,
		{"samples", integer(decl.MinSamples, decl.MaxSamples), "How many points are drawn."},
		{"seed", integer(0, decl.MaxSeed), "Another number draws other points."},
		{"inputs", list(uncertain().node(), 1, decl.MaxUncertain), "The uncertain inputs."},
		{"correlated", list(correlation().node(), 1, 0), "Inputs that go together."},
	}, required: words{"inputs"}}
}

func uncertain() described {
	d := described{keys: []key{{"input", cell(), "The input that is uncertain."}}, required: words{"input"}}
	var forms []string
	for k := decl.Triangular; k <= decl.Trials; k++ {
		params := k.Parameters()
		is := list(amount(), len(params), len(params))
		if k == decl.Trials {
			is = trials().node()
		}
		d.keys = append(d.keys, key{k.String(), is, "Its distribution: " + strings.Join(params, ", ") + "."})
		forms = append(forms, k.String())
	}
	d.besides = func(n *node) { n.OneOf = either(forms...) }
	return d
}

func trials() described {
	d := described{}
	for _, name := range decl.Trials.Parameters() {
		d.keys = append(d.keys, key{name, cell(), "The cell that holds it."})
		d.required = append(d.required, name)
	}
	return d
}

func correlation() described {
	low, high := -1.0, 1.0
	return described{keys: []key{
		{"inputs", list(cell(), 2, 2), "Two of the uncertain inputs."},
		{"by", &node{Type: types{"number"}, Above: &low, Below: &high}, "The correlation, between -1 and 1."},
	}, required: words{"inputs", "by"}}
}

func breakEven() described {
	return described{keys: []key{title,
		{"between", list(sentence(), 2, 2), "Two alternatives; the best and the next if left out."},
		{"input", cell(), "The input whose value is looked for."},
		{"from", amount(), "Where to look from."},
		{"to", amount(), "Where to look to."},
		{"over", shares("`vary`"), "A second input, for a curve."},
	}, required: words{"input", "from", "to"}}
}
