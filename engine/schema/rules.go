package schema

import "bankwright/engine/decl"

// ownRules are the rules that a scenario adds: what a rules file may say.
func ownRules() *node {
	n := &node{Type: types{"object"}, Names: name(), Others: &others{tables(shares("a quantity"))}}
	for _, s := range []struct{ section, what, doc string }{
		{"kind", "a kind", "A class of things."},
		{"axis", "an axis", "What a series runs over."},
		{"constant", "a constant", "A figure that rules use by its name."},
		{"table", "a table", "Published values."},
		{"check", "a check", "A condition that each item must meet."},
		{"caution", "a caution", "A sentence that every output carries."},
		{"question", "a question", "What people ask of each item."},
		{"drawing", "a drawing", "How each item is drawn."},
	} {
		n.Properties = append(n.Properties, member{s.section, tables(shares(s.what)).told(s.doc)})
	}
	return n
}

func ruleKind() described {
	return described{keys: []key{
		{"many", name(), "The plural, where there are several with names of their own."},
		{"title", sentence(), "A heading for people."},
		{"doc", sentence(), "What it is."},
		{"name", sentence(), "After what combinations are named: \"{shelf}_{count}x\"."},
		{"compare", compare().node(), "How its items are compared."},
		{"least", integer(1, 10_000), "So many items a scenario must have."},
	}}
}

func compare() described {
	names := func() *node { return list(name(), 0, 0) }
	return described{keys: []key{
		{"by", name(), "The quantity that decides."},
		{"best", oneOf("lowest", "highest"), "Which is best."},
		{"show", names(), "Quantities side by side."},
		{"summary", sentence(), "A line above the comparison, with values in braces."},
		{"shortlist", integer(1, 200), "How many are shown in full where there are many."},
		{"table", names(), "Quantities of the one table of all others."},
		{"frontier", frontier().node(), "Two quantities that pull against each other."},
		{"watch", list(sentence(), 0, 0), "Inputs of which it is said how far they may move."},
		{"parts", parts().node(), "Quantities that add up to another."},
		{"chart", names(), "Quantities in one unit, drawn side by side."},
	}, required: words{"by", "best"}}
}

func frontier() described {
	return described{keys: []key{
		{"lowest", name(), "Of which little is good."}, {"highest", name(), "Of which much is good."},
	}, required: words{"lowest", "highest"}}
}

func parts() described {
	return described{keys: []key{
		{"sum", name(), "To what they add up."}, {"of", list(name(), 2, 0), "The parts."},
	}, required: words{"sum", "of"}}
}

func axis() described {
	return described{keys: []key{
		{"steps", integer(1, 100_000), "How many there are."},
		{"active", sentence(), "A quantity: so many steps are in use for an item."},
		{"labels", list(sentence(), 1, 0), "Names of the steps."},
		{"title", sentence(), "A heading for people."},
		{"doc", sentence(), "What it is."},
	}}
}

// quantity is a quantity of a kind: an input, or with a formula a rule.
func quantity() described {
	return described{keys: []key{
		{"unit", sentence(), "Its unit; a plain number without one."},
		{"type", oneOf("number", "boolean", "text"), "What its values are; numbers if left out."},
		{"formula", sentence(), "How it is computed; without one it is given."},
		{"start", sentence(), "Of a series: the value before the first step."},
		{"over", oneOrMore(3), "The axes that it runs over."},
		{"doc", sentence(), "One sentence that says what it is."},
		{"source", sentence(), "Where its figure, factor or limit comes from."},
		{"label", sentence(), "What people call it."},
		{"section", sentence(), "The heading under which it and the next ones stand."},
		{"sheet", sentence(), "Name of a sheet of the workbook for the rules of this section; beside `section`."},
		{"default", &node{}, "The value where none is given."},
		{"optional", truth(), "Whether it may be left out."},
		{"unless", name(), "The input that may stand in its place."},
		{"min", amount(), "The least value that is possible."},
		{"max", amount(), "The greatest value that is possible."},
		{"usual", list(amount(), 2, 2), "Outside this range there is a warning."},
		{"usual_by", sentence(), "Where that range comes from."},
		{"usual_in", list(sentence(), 1, 0), "The currencies in which it holds; any if left out."},
		{"whole", truth(), "Whether only whole numbers are possible."},
		{"otherwise", sentence(), "What to say of a value beyond the limits."},
		{"choices", list(sentence(), 1, 0), "The texts to choose from."},
		{"refers", name(), "The kind of which it names an item."},
		{"set", truth(), "Whether it names several."},
		{"inverse", sentence(), "The reference by which others are its members: \"crate.shelf\"."},
		{"columns", anyTable(column()), "The columns of its own table, with their units."},
		{"rows", integer(1, 1000), "How many rows such a table may have."},
		{"recording", anyTable(recordedColumn()), "The columns of a recording, with their units; the time first."},
		{"decimals", integer(0, 15), "Digits behind the point."},
		{"instead", &node{Type: types{"object"}, LeastKeys: 1, Others: &others{sentence()}}, "What is meant by spellings that are no units: { X = \"other / 1 h\" }."},
	}, besides: func(n *node) {
		n.Needs = members{{"set", words{"refers"}}, {"rows", words{"columns"}}, {"start", words{"formula", "over"}}}
	}}
}

// anyTable are columns under names of their own: a unit, or a table.
func anyTable(of described) *node {
	one := of.node()
	one.Type = types{"string", "object"}
	return &node{Type: types{"object"}, Names: name(), LeastKeys: 1, Others: &others{one}}
}

func column() described {
	return described{keys: []key{
		{"unit", sentence(), "Its unit."},
		{"min", amount(), "The least value that is possible."},
		{"max", amount(), "The greatest value that is possible."},
		{"falling", truth(), "Whether its values fall as the first column rises."},
	}}
}

func recordedColumn() described {
	return described{keys: []key{
		{"unit", sentence(), "Its unit."},
		{"optional", truth(), "Whether the file may lack it."},
		{"counter", truth(), "Whether it only grows."},
	}}
}

func constant() described {
	var keys []key
	for _, k := range quantity().keys {
		if k.name == "unit" {
			keys = append(keys, key{"value", amount(), "The figure, with its unit."})
		}
		switch k.name {
		case "unit", "doc", "source", "label", "section", "min", "max", "whole", "usual", "usual_by", "usual_in", "decimals":
			keys = append(keys, k)
		}
	}
	return described{keys: keys, required: words{"value"}}
}

func ruleTable() described {
	cell := list(list(&node{Type: types{"string", "number"}}, 1, 0), 1, 10_000)
	return described{keys: []key{
		{"columns", &node{Type: types{"object"}, Names: name(), LeastKeys: 1, Others: &others{sentence()}}, "The columns with their units, or \"text\"."},
		{"rows", cell, "The rows, in these units."},
		{"doc", sentence(), "What it is."},
		{"source", sentence(), "Where its values were published."},
	}, required: words{"columns", "rows", "source"}}
}

func check() described {
	return described{keys: []key{
		{"of", name(), "The kind whose items must meet it."},
		{"severity", oneOf("stop", "unfit", "caution"), "stop: must not be built; unfit: would not serve; caution: look here."},
		{"require", sentence(), "The condition."},
		{"otherwise", sentence(), "What is said where it is not met, with values in braces."},
		{"doc", sentence(), "What it is about."},
		{"source", sentence(), "Who says so."},
	}, required: words{"of", "severity", "require", "otherwise"}}
}

func question() described {
	return described{keys: []key{
		{"of", name(), "The kind that it is asked of."},
		{"ask", sentence(), "The question."},
		{"answer", sentence(), "The answer, with values in braces."},
	}, required: words{"of", "ask", "answer"}}
}

func caution() described {
	return described{keys: []key{
		{"text", sentence(), "The sentence."}, {"source", sentence(), "Who says so."},
	}, required: words{"text"}}
}

func drawing() described {
	return described{keys: []key{
		{"title", sentence(), "A heading for people."},
		{"of", name(), "The kind that is drawn."},
		{"note", oneOrMore(0), "Lines below the title."},
		{"foot", oneOrMore(0), "Lines at the bottom."},
		{"cautions", list(name(), 0, 0), "Cautions below these."},
		{"columns", drawnColumns().node(), "The columns."},
		{"rows", drawnRows().node(), "The rows."},
		{"part", tables(part().node()), "What stands in it."},
	}, required: words{"of", "part"}}
}

func drawnColumns() described {
	return described{keys: append(drawnRows().keys,
		key{"along", name(), "The axis whose steps they are."},
		key{"positive", sentence(), "The column from which the positive line leaves."},
		key{"negative", sentence(), "That of the negative line."})}
}

func drawnRows() described {
	return described{keys: []key{
		{"count", sentence(), "How many there are."},
		{"most", integer(2, 40), "How many are drawn at most."},
		{"name", sentence(), "What one is called."},
	}}
}

func part() described {
	return described{keys: []key{
		{"symbol", sentence(), "Its sign."},
		{"marks", sentence(), "Letters in the sign."},
		{"at", oneOf(decl.Places()...), "Where it stands."},
		{"name", sentence(), "What it is."},
		{"is", sentence(), "The reference to the item that it is."},
		{"when", sentence(), "Whether it is there."},
		{"label", oneOrMore(0), "Lines beside it, with values in braces."},
		{"missing", sentence(), "What stands there where no value is known."},
	}, required: words{"at"}}
}
