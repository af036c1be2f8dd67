package schema

import "bankwright/engine/decl"

// shared are the tables that several places refer to, with the names that they have
// among the definitions.
var shared = map[string]string{
	"a sweep": "sweep", "a doubt": "doubt", "a break-even": "break_even", "`vary`": "vary",
	"a kind": "rule_kind", "an axis": "rule_axis", "a constant": "rule_constant", "a table": "rule_table",
	"a check": "rule_check", "a caution": "rule_caution", "a question": "rule_question",
	"a drawing": "rule_drawing", "a quantity": "rule_quantity",
}

func shares(what string) *node { return ref(shared[what]) }

// key is one key of a table whose keys are fixed.
type key struct {
	name string
	is   *node
	doc  string
}

// described is a table whose keys are fixed: its keys, which of them must be given,
// and whatever else holds.
type described struct {
	keys     []key
	required words
	besides  func(n *node)
}

// node is the schema of the table.
func (d described) node() *node {
	n := table(nil, d.required...)
	for _, k := range d.keys {
		is := k.is
		if k.doc != "" {
			is = is.told(k.doc)
		}
		n.Properties = append(n.Properties, member{k.name, is})
	}
	if d.besides != nil {
		d.besides(n)
	}
	return n
}

// fixed are all tables whose keys are fixed, by what they are; see decl.Keys.
var fixed = map[string]func() described{
	"a scenario": header, "a recording": recording, "a column of a recording": logPlace,

	"a sweep": sweep, "`vary`": vary, "`over`": vary, "a break-even": breakEven,
	"a doubt": doubt, "an uncertain input": uncertain, "`trials`": trials, "a correlation": correlation,

	"a kind": ruleKind, "`compare`": compare, "`frontier`": frontier, "`parts`": parts,
	"an axis": axis, "a quantity": quantity, "a column": column, "a recorded column": recordedColumn,
	"a constant": constant, "a table": ruleTable, "a check": check, "a question": question, "a caution": caution,
	"a drawing": drawing, "`columns`": drawnColumns, "`rows`": drawnRows, "a part": part,
}

func header() described {
	return described{keys: []key{
		{"title", upTo(decl.MaxTitle), "What it is called."},
		{"about", sentence(), "The story: who, where, what for."},
		{"question", upTo(decl.MaxTitle), "What the client asked."},
		{"date", sentence(), "Of the figures."},
		{"currency", currencies(), "What money is, by its code of ISO 4217."},
		{"include", list(sentence(), 0, 0), "Lists of items in this folder or below it."},
		{"rule_files", list(sentence(), 0, 0), "Files with rules of your own."},
		{"standard_rules", truth(), "false does without the rules that come with the program."},
		{"shortlist", oneOrMore(0), "Which are shown in full where there are many."},
		{"sweep", tables(shares("a sweep")), "What becomes of the comparison over a grid of inputs."},
		{"doubt", tables(shares("a doubt")), "How sure the comparison is while inputs are uncertain."},
		{"break_even", tables(shares("a break-even")), "Where an input makes two alternatives level."},
		{"rules", ownRules(), "Anything that a rules file may say."},
	}}
}

func recording() described {
	return described{keys: []key{
		{"file", sentence(), "The file, in the scenario's folder or below it."},
		{"delimiter", oneOf(",", ";", "tab", "\t"), "What stands between columns."},
		{"decimal", oneOf(".", ","), "The decimal sign."},
		{"time_form", oneOf(decl.TimeForms()...), "How times are written."},
		{"time_unit", sentence(), "The unit of times that are numbers."},
		{"date", logColumn(), "Where the date stands, if in a column of its own."},
		{"first_row", integer(1, 1e9), "The first line of the file that counts."},
		{"last_row", integer(1, 1e9), "The last line of the file that counts."},
		{"gap", sentence(), "A longer step is a gap."},
		{"gap_steps", number(1, 1e6), "So many usual steps make a gap."},
	}, required: words{"file"}}
}

func logPlace() described {
	return described{keys: []key{
		{"column", &node{Type: types{"string", "integer"}}, "Its header, or its number counted from 1."},
		{"unit", sentence(), "The unit in the file."},
		{"reversed", truth(), "Whether its sign is reversed."},
	}}
}

// logColumn says where in a file a column stands.
func logColumn() *node {
	n := logPlace().node()
	n.Type = types{"string", "integer", "object"}
	return n
}
