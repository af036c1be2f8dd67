package decl

import "slices"

// keysOf are the keys of every table whose keys are fixed, by what the table is.
var keysOf = map[string][]string{
	"a kind":     {"many", "title", "doc", "name", "compare", "least"},
	"`compare`":  {"by", "best", "show", "summary", "shortlist", "table", "frontier", "watch", "parts", "chart"},
	"`frontier`": {"lowest", "highest"},
	"`parts`":    {"sum", "of"},
	"an axis":    {"steps", "active", "labels", "title", "doc"},
	"a quantity": {
		"unit", "type", "formula", "start", "over", "doc", "source", "label", "sheet", "section",
		"default", "optional", "unless", "min", "max", "usual", "usual_in", "usual_by", "whole", "otherwise", "choices", "refers", "set", "inverse",
		"columns", "rows", "recording", "decimals", "instead",
	},
	"a column":          {"unit", "min", "max", "falling"},
	"a recorded column": {"unit", "optional", "counter"},
	"a constant":        {"value", "unit", "doc", "source", "label", "section", "min", "max", "whole", "usual", "usual_in", "usual_by", "decimals"},
	"a table":           {"columns", "rows", "doc", "source"},
	"a check":           {"of", "severity", "require", "otherwise", "doc", "source"},
	"a question":        {"of", "ask", "answer"},
	"a caution":         {"text", "source"},
	"a drawing":         {"title", "of", "note", "foot", "cautions", "columns", "rows", "part"},
	"`columns`":         {"count", "most", "name", "along", "positive", "negative"},
	"`rows`":            {"count", "most", "name"},
	"a part":            {"symbol", "marks", "at", "name", "is", "when", "label", "missing"},

	"a sweep":            {"title", "show", "vary"},
	"`vary`":             varyKeys,
	"`over`":             varyKeys,
	"a doubt":            {"title", "samples", "seed", "inputs", "correlated"},
	"an uncertain input": append([]string{"input"}, distKeys...),
	"`trials`":           distParams[Trials],
	"a correlation":      {"inputs", "by"},
	"a break-even":       {"title", "between", "input", "from", "to", "over"},

	"a recording":             {"file", "delimiter", "decimal", "time_form", "time_unit", "date", "first_row", "last_row", "gap", "gap_steps"},
	"a column of a recording": {"column", "unit", "reversed"},

	"a scenario": {
		"title", "about", "question", "date", "currency", "include", "rule_files",
		"standard_rules", "rules", "shortlist", "sweep", "doubt", "break_even",
	},
}

// headers are the keys of a scenario that are not kinds.
var headers = keysOf["a scenario"]

// logKeys are the keys of a recording that a scenario names, besides its columns.
var logKeys = keysOf["a recording"]

var varyKeys = []string{"input", "inputs", "values", "by", "from", "to", "points", "step"}

// Keys are the keys that a table may have, by what it is: "a sweep", "a check". Where
// items, columns or kinds have names of their own, these come in addition.
func Keys(what string) []string { return slices.Clone(keysOf[what]) }

// Tables are all that Keys knows.
func Tables() []string {
	var names []string
	for what := range keysOf {
		names = append(names, what)
	}
	slices.Sort(names)
	return names
}
