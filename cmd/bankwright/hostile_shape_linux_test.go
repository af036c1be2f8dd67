package main

import (
	"fmt"
	"strings"
)

// hostileNesting are files with too much in each other, or too long.
func hostileNesting() []hostile {
	item := func(s string) string { return crates("[crate.a]\n" + s + "\n") }
	r := strings.Repeat
	deep := func(open, middle, close string, n int) string { return r(open, n) + middle + r(close, n) }
	return []hostile{
		{name: "a hundred lists", text: item("mass = " + deep("[", "1", "]", 100)), status: 1, want: "nested more than 64 deep"},
		{name: "a hundred thousand lists", text: item("mass = " + deep("[", "1", "]", 100_000)), status: 1, want: "nested more than 64 deep"},
		{name: "lists that never end", text: item("mass = " + r("[", 500_000)), status: 1, want: "nested more than 64 deep"},
		{name: "sixty lists", text: item("mass = " + deep("[", "1", "]", 60)), status: 1, want: "takes a single value, not a list"},
		{name: "a hundred tables", text: item("mass = " + deep("{a=", "1", "}", 100)), status: 1, want: "nested more than 64 deep"},
		{name: "tables that never end", text: item("mass = " + r("{a=", 300_000)), status: 1, want: "nested more than 64 deep"},
		{name: "lists in tables in lists", text: item("mass = " + deep("[{a=", "1", "}]", 40)), status: 1, want: "nested more than 64 deep"},
		{name: "a key of a hundred parts", text: item(r("a.", 100) + "b = 1"), status: 1, want: "more than 64 parts"},
		{name: "a heading of a hundred parts", text: crates("[" + r("a.", 100) + "b]\n"), status: 1, want: "more than 64 parts"},
		{name: "a key of sixty parts", text: item(r("a.", 60) + "b = 1"), status: 1, want: "s.toml:"},
		{name: "sixty parts, six thousand times", text: crates(many(6000, "["+r("a.", 58)+"b%d]\n")), status: 1, want: "s.toml:"},
		{name: "a hundred brackets in a formula", text: valued(deep("(", "1", ")", 100)), status: 1, want: "nests deeper than 64 levels"},
		{name: "two thousand brackets in a formula", text: valued(deep("(", "1", ")", 2000)), status: 1, want: "nests deeper than 64 levels"},
		{name: "sixty brackets in a formula", text: valued(deep("(", "1", ")", 60))},
		{name: "calls in calls", text: valued(deep("abs(", "1", ")", 100)), status: 1, want: "nests deeper than 64 levels"},
		{name: "lists in a formula", text: valued(deep("[", "1", "]", 100)), status: 1, want: "nests deeper than 64 levels"},
		{name: "a hundred signs", text: valued(r("-", 100) + "1"), status: 1, want: "nests deeper than 64 levels"},
		{name: "a hundred signs with blanks", text: valued(r("- ", 100) + "1"), status: 1, want: "nests deeper than 64 levels"},
		{name: "signs and brackets", text: valued(deep("-(", "1", ")", 64))},
		{name: "a thousand nots", text: valued("(" + r("not ", 900) + "true) ? 1 : 0"), status: 1, want: "s.toml:"},
		{name: "a hundred ternaries in their last part", text: valued(r("true ? 1 : ", 100) + "2")},
		{name: "a hundred ternaries in their middle", text: valued(r("true ? ", 100) + "1" + r(" : 2", 100))},
		{name: "three hundred ternaries", text: valued(r("true?1:", 300) + "2"), status: 1, want: "s.toml:"},
		{name: "a hundred powers", text: valued("1" + r("**1", 100))},
		{name: "five hundred powers", text: valued("1" + r("**1", 500)), status: 1, want: "s.toml:"},
		{name: "thirteen hundred powers", text: valued("1" + r("**1", 1300)), status: 1, want: "s.toml:"},
		{name: "six hundred replacements", text: valued("1" + r("??1", 600)), status: 1, want: "s.toml:"},
		{name: "ands without end", text: valued("(true" + r(" and true", 400) + ") ? 1 : 0"), status: 1, want: "more than the 500"},
		{name: "comparisons in a row", text: valued("(1" + r(" < 2", 400) + ") ? 1 : 0"), status: 1, want: "s.toml:"},
		{name: "pipes in a row", text: valued("1" + r(" | abs()", 400))},
		{name: "dots in a row", text: valued("a" + r(".a", 1500)), status: 1, want: "s.toml:"},
		{name: "lets in a row", text: valued(r("let x = 1; ", 300) + "x"), status: 1, want: "s.toml:"},
		{name: "commas in a call", text: valued("max(" + r("1,", 2000) + "1)"), status: 1, want: "s.toml:"},
		{name: "an aggregate within an aggregate", text: valued(deep("sum(crates, ", ".count", ")", 30)), status: 1, want: "s.toml:"},

		{name: "a name of sixty-one letters", text: crates("[crate." + r("a", 61) + "]\n"), status: 1, want: "longer than 60"},
		{name: "a name of two hundred letters", text: crates("[crate." + r("a", 199) + "]\n"), status: 1, want: "longer than 60"},
		{name: "a name of a hundred thousand letters", text: crates("[crate." + r("a", 100_000) + "]\n"), status: 1, want: "longer than 200"},
		{name: "a quoted key of half a million letters", text: item("\"" + r("a", 500_000) + "\" = 1"), status: 1, want: "longer than 200"},
		{name: "a text of a million letters", text: item("label = \"" + r("a", 1_000_000) + "\""), status: 1, want: "no more than 60 have room"},
		{name: "a value of a million digits", text: item("mass = \"" + r("1", 1_000_000) + " kg\""), status: 1, want: "s.toml:"},
		{name: "a number of a million digits", text: item("count = " + r("1", 1_000_000)), status: 1, want: "longer than 200"},
		{name: "a unit of half a million letters", text: item("mass = \"1 " + r("kg", 250_000) + "\""), status: 1, want: "s.toml:"},
		{name: "a unit of a thousand parts", text: item("mass = \"1 " + r("kg/", 1000) + "kg\""), status: 1, want: "s.toml:"},
		{name: "a choice of half a million letters", text: edited(starterText(), "load.router: supply = \""+r("x", 500_000)+"\""), status: 1, want: "`supply` cannot be"},
		{name: "a reference of half a million letters", text: edited(starterText(), "alternative.one_large: battery = \""+r("x", 500_000)+"\""), status: 1, want: "there is no battery"},
		{name: "a formula of a million signs", text: valued(r("1+", 450_000) + "1"), status: 1, want: "bytes long, more than the"},
		{name: "a line of a million blanks", text: item(r(" ", 1_000_000))},
		{name: "a million line ends", text: item(r("\n", 1_000_000))},
		{name: "a comment of a million letters", text: item("# " + r("a", 1_000_000))},
		{name: "more than a million letters", text: item("# " + r("a", 1<<20)), status: 1, want: "larger than 1 MB"},
		{name: "a line of a thousand faults", text: item("mass = [" + r("{a=1},", 1000) + "]"), status: 1, want: "s.toml:"},
		{name: "ten thousand faults", text: crates("[crate.a]\n" + many(10_000, "wrong%d = 1\n")), status: 1, want: "more messages"},
		{name: "fifteen thousand keys given twice", text: crates("[crate.a]\n" + r("count = 1\n", 15_000)), status: 1, want: "more messages"},
		{name: "no line end after a million letters", text: crates("[crate.a]\nlabel = \"" + r("é", 500_000)), status: 1, want: "s.toml:"},
		{name: "quotes without end", text: item("label = '''" + r("a", 900_000)), status: 1, want: "s.toml:"},
		{name: "quotes alone", text: item(r(`"`, 900_000)), status: 1, want: "s.toml:"},
		{name: "backslashes alone", text: item(`label = "` + r(`\`, 900_001)), status: 1, want: "s.toml:"},
		{name: "equals signs alone", text: item(r("=", 900_000)), status: 1, want: "s.toml:"},
	}
}

// hostileNumbers are files with numbers that are none, too large or not what belongs there.
func hostileNumbers() []hostile {
	item := func(s string) string { return crates("[crate.a]\n" + s + "\n") }
	var out []hostile
	for _, place := range []struct{ name, before, after string }{
		{"an input", "[crate.a]\ncount = ", "\n"},
		{"a constant", "[rules.constant.odd]\nvalue = ", "\ndoc = \"Odd.\"\n[crate.a]\n"},
		{"a default", "[rules.crate.odd]\ndefault = ", "\ndoc = \"Odd.\"\n[crate.a]\n"},
		{"a limit", "[rules.crate.odd]\ndefault = 1\nmax = ", "\ndoc = \"Odd.\"\n[crate.a]\n"},
		{"a usual limit", "[rules.crate.odd]\ndefault = 1\nusual = [0, ", "]\ndoc = \"Odd.\"\n[crate.a]\n"},
		{"a table of the rules", "[rules.table.odd]\ndoc = \"Odd.\"\ncolumns = { a = \"\", b = \"\" }\nrows = [[1, ", "]]\n[crate.a]\n"},
		{"a table of an item", "[rules.crate.odd]\ncolumns = { x = \"\", y = \"\" }\noptional = true\ndoc = \"Odd.\"\n[crate.a]\nodd = { x = [1], y = [", "] }\n"},
		{"steps of an axis", "[rules.axis.odd]\ndoc = \"Odd.\"\nsteps = ", "\n[crate.a]\n"},
		{"a combination", "[crate.a]\neach = { count = [1, ", "] }\n"},
		{"a sweep", "[crate.a]\n[sweep.odd]\nshow = [\"shed.total\"]\nvary = [{ input = \"crate.a.count\", values = [1, ", "] }]\n"},
		{"a sweep between two ends", "[crate.a]\n[sweep.odd]\nshow = [\"shed.total\"]\nvary = [{ input = \"crate.a.count\", from = 1, points = 3, to = ", " }]\n"},
		{"a doubt", "[crate.a]\n[doubt.odd]\ninputs = [{ input = \"crate.a.count\", normal = [1, ", "] }]\n"},
	} {
		for _, number := range []string{"nan", "inf", "-inf", "1e400", "1979-05-27"} {
			out = append(out, hostile{name: number + " in " + place.name, text: crates(place.before + number + place.after), status: 1, want: "s.toml:"})
		}
	}
	for _, value := range []string{"nan kg", "inf kg", "-inf kg", "NaN kg", "Infinity kg", "1e400 kg", "-1e400 kg", "0x1p4 kg", "1_0 kg", "1e kg", "++1 kg", "1e1e1 kg", "1e308 t", "kg", ""} {
		out = append(out, hostile{name: fmt.Sprintf("%q as a mass", value), text: item(fmt.Sprintf("mass = %q", value)), status: 1, want: "s.toml:"})
	}
	return append(out,
		hostile{name: "less than the least number", text: item(`mass = "1e-400 kg"`)},
		hostile{name: "zero from below", text: item("count = -0.0")},
		hostile{name: "zero from below, divided by", text: strings.Replace(valued("1 / count"), "[crate.a]", "[crate.a]\ncount = -0.0", 1), status: 1, want: "s.toml:"},
		hostile{name: "zero from below, shown", text: crates("[crate.a]\ncount = -0.0\n"), args: []string{"explain", "s.toml", "shed.total"}, want: "shed.total = 0"},
		hostile{name: "the largest number", text: item("count = 1.7976931348623157e308"), status: 1, want: "s.toml:"},
		hostile{name: "a whole number of seventy digits", text: item("count = " + strings.Repeat("9", 70)), status: 1, want: "s.toml:"},
		hostile{name: "a whole number beyond those of machines", text: item("count = 9223372036854775808"), status: 1, want: "the number is too large"},
		hostile{name: "a hexadecimal number beyond all", text: item("count = 0x" + strings.Repeat("f", 100)), status: 1, want: "s.toml:"},
		hostile{name: "a time in place of a mass", text: item("mass = 07:32:00"), status: 1, want: "s.toml:"},
		hostile{name: "a truth in place of a mass", text: item("mass = true"), status: 1, want: "s.toml:"},
		hostile{name: "a table in place of a mass", text: item("mass = { kg = 3 }"), status: 1, want: "s.toml:"},
		hostile{name: "a list of nothing in place of a mass", text: item("mass = []"), status: 1, want: "s.toml:"},
	)
}

// hostileFormulas are formulas that go round, overflow or would never end.
func hostileFormulas() []hostile {
	ring := func(n int) string {
		return many(n, "[rules.crate.q%d]\nformula = \"q%d + 1\"\ndoc = \"d\"\n")
	}
	chain := func(n int, last string) string {
		var b strings.Builder
		for i := range n {
			next := fmt.Sprintf("q%d", i+1)
			if i == n-1 {
				next = last
			}
			fmt.Fprintf(&b, "[rules.crate.q%d]\nformula=\"%s + 1\"\ndoc=\"d\"\n", i, next)
		}
		return b.String()
	}
	given := func(n int, last string) string { // one item needs the next
		var b strings.Builder
		b.WriteString("[rules.crate.next]\nrefers = \"crate\"\noptional = true\ndoc = \"d\"\n[rules.crate.odd]\ndefault = 0\ndoc = \"d\"\n")
		for i := range n {
			next := fmt.Sprintf("c%d", i+1)
			if i == n-1 {
				next = last
			}
			fmt.Fprintf(&b, "[crate.c%d]\nnext=\"%s\"\n", i, next)
		}
		return b.String()
	}
	out := []hostile{
		{name: "quantities that need themselves", text: crates(ring(300) + "[crate.a]\n"), status: 1, want: "goes round in a circle"},
		{name: "a circle of five thousand quantities", text: crates(chain(5000, "q0") + "[crate.a]\n"), status: 1, want: "goes round in a circle"},
		{name: "a chain of five thousand quantities", text: crates(chain(5000, "count") + "[crate.a]\n")},
		{name: "a chain of two quantities over five thousand items", text: crates(chain(2, "count") + "[crate.all]\neach = { count = [" + many(5000, "%d,") + "] }\n")},
		{name: "a circle of ten thousand cells", text: crates("[rules.crate.x]\nformula = \"sum(crates, .y)\"\ndoc = \"d\"\n[rules.crate.y]\nformula = \"x + count\"\ndoc = \"d\"\n[crate.all]\neach = { count = [" + many(6000, "%d,") + "] }\n"), status: 1, want: "goes round in a circle"},
		{name: "items that refer to each other in a ring of six thousand", text: crates(given(6000, "c0"))},
		{name: "inputs of six thousand items in a circle", text: crates(given(2, "c0") + "[crate.ring]\nodd = \"= crate.ring.odd + 1\"\n"), status: 1, want: "s.toml:"},
		{name: "an axis of steps that need each other in a circle", text: crates("[rules.axis.day]\nsteps = 20000\ndoc = \"d\"\n[rules.crate.x]\nover = \"day\"\nstart = \"0\"\nformula = \"prev(x) + y\"\ndoc = \"d\"\n[rules.crate.y]\nover = \"day\"\nformula = \"x\"\ndoc = \"d\"\n[crate.a]\n"), status: 1, want: "goes round in a circle"},
		{name: "a bare formula that needs itself", text: crates("[crate.a]\nmass = \"= mass\"\n"), status: 1, want: "s.toml:"},
		{name: "constants in a circle", text: crates("[rules.constant.a]\nvalue = \"= b\"\ndoc = \"d\"\n[rules.constant.b]\nvalue = \"= a\"\ndoc = \"d\"\n[crate.a]\n"), status: 1, want: "s.toml:"},
	}
	for _, f := range []string{"1 / 0", "0 / 0", "1e308 * 10", "-1e308 * 10", "1e400", "ln(0)", "ln(-1)", "sqrt(-1)", "exp(1e6)", "(-8) ** 0.5", "0 ** -1", "10 ** 400", "10 ** 10 ** 10", "9 ** 9 ** 9 ** 9",
		"normal_quantile(0)", "normal_quantile(2)", "t_quantile(0.5, 0)", "t_quantile(0.999999, 1e-300)", "NaN", "nan", "inf", "Infinity", "nil", "null",
		"0x", "1.2.3", "1e999999999", "0x1fffffffffffffffffff", "99999999999999999999999999", "crates", "crates.a", "len(1..1000000000)", "sum(1..1000000000)",
		"map(1..1e9, #)", "repeat(\"a\", 1000000000)", "filter(crates, true)", "reduce(1..9, #acc + #)", "now()", "env", "$env", "$env[\"x\"]", "let f = 1; f", "crates[0]", "\"a\" * 1000000",
		"toJSON(crates)", "fromJSON(\"1\")", "date(\"x\")", "trim(\"x\")", "count matches \"(a+)+$\"", "get(crates, 0)", "type(1)", "#", ".count", "a?.b", "1 in [1]", "`x`", "/* open", "\\", "'", "\"", "\x00",
		"prev(count)", "count(count)", "sum()", "min()", "interpolate()", "price per", "mass", "true", "\"text\"", "absent ?? absent"} {
		out = append(out, hostile{name: fmt.Sprintf("the formula %q", f), text: valued(f), status: 1, want: "s.toml:"})
	}
	return append(out,
		hostile{name: "nothing alone", text: valued("absent")},
		hostile{name: "a number with gaps", text: valued("1__0")},
		hostile{name: "a comment in a formula", text: valued("1 // x")},
		hostile{name: "a share at the edge of what can be told", text: valued("t_probability(1e300, 1e-300)")},
		hostile{name: "a formula of zero from below", text: valued("-0.0 * count")},
		hostile{name: "a huge power of one", text: valued("1 ** 1e300")},
		hostile{name: "a fraction below all numbers", text: valued("1e-300 * 1e-300")},
	)
}
