package main

import (
	"fmt"
	"strings"
)

// hostileSizes are files that ask for far more than anybody has.
func hostileSizes() []hostile {
	list := func(n int) string { return "[" + many(n, "%d,") + "]" }
	r := strings.Repeat
	return []hostile{
		{name: "combinations without end", text: crates("[crate.a]\neach = { count = " + list(9000) + ", mass = [" + many(9000, `"%d kg",`) + "] }\n"), status: 1, want: "s.toml:"},
		{name: "combinations beyond all numbers", text: crates(many(30, "[rules.crate.k%d]\ndefault = 0\ndoc = \"d\"\n") + "[crate.a]\neach = { " + strings.TrimSuffix(many(30, "k%d = "+list(100)+", "), ", ") + " }\n"), status: 1, want: "s.toml:"},
		{name: "combinations whose number wraps to nothing", text: crates(many(16, "[rules.crate.k%d]\ndefault = 0\ndoc = \"d\"\n") + "[crate.a]\neach = { " + strings.TrimSuffix(many(16, "k%d = "+list(16)+", "), ", ") + " }\n"), status: 1, want: "s.toml:"},
		{name: "ten thousand combinations", text: crates("[crate.a]\neach = { count = " + list(10_000) + " }\n")},
		{name: "ten thousand combinations of which none is kept", text: crates("[crate.a]\nkeep = \"count < 0\"\neach = { count = " + list(10_000) + " }\n"), status: 1, want: "leaves none"},
		{name: "a hundred tables of ten thousand combinations", text: crates(many(100, "[crate.a%d]\neach = { count = "+list(900)+" }\n")), status: 1, want: "s.toml:"},
		{name: "combinations of nothing", text: crates("[crate.a]\neach = {}\n"), status: 1, want: "s.toml:"},
		{name: "combinations of an empty list", text: crates("[crate.a]\neach = { count = [] }\n"), status: 1, want: "s.toml:"},
		{name: "combinations of themselves", text: crates("[crate.a]\neach = { each = [1, 2] }\n"), status: 1, want: "s.toml:"},
		{name: "combinations of all batteries", text: edited(starterText(), `alternative.one_large: each = { battery = "all", series = `+list(5000)+`, parallel = `+list(5000)+` }`), status: 1, want: "s.toml:"},
		{name: "names of combinations that are too long", text: strings.Replace(crates("[crate.a]\neach = { count = "+list(3)+" }\n"), "many = \"crates\"", "many = \"crates\"\nname = \""+r("{count}_", 100)+"\"", 1)},
		{name: "twenty thousand items", text: crates(many(18_000, "[crate.c%d]\n")), status: 1, want: "more than 10,000"},
		{name: "forty thousand keys", text: crates(many(40_000, "[crate.c%d]\n")), status: 1, want: "more than 20,000 keys"},
		{name: "nine thousand items", text: crates(many(9000, "[crate.c%d]\ncount = 2\n"))},
		{name: "five thousand loads", text: edited(starterText()) + many(5000, "[load.l%d]\npower = \"1 W\"\n")},
		{name: "five hundred alternatives", text: edited(starterText(), "alternative.one_large: parallel = 1") + many(500, "[alternative.b%d]\nbattery = \"small\"\n")},
		{name: "two thousand kinds", text: crates(many(2000, "[rules.kind.k%d]\nmany = \"k%ds\"\ndoc = \"d\"\n"))},
		{name: "two hundred thousand entries of a list", text: crates("[crate.a]\nmass = [" + r("1,", 200_000) + "]\n"), status: 1, want: "more than 100,000 list entries"},
		{name: "an axis of a billion steps", text: crates("[rules.axis.day]\nsteps = 1000000000\ndoc = \"d\"\n[crate.a]\n"), status: 1, want: "s.toml:"},
		{name: "an axis of 1e300 steps", text: crates("[rules.axis.day]\nsteps = 1e300\ndoc = \"d\"\n[crate.a]\n"), status: 1, want: "s.toml:"},
		{name: "an axis of less than no steps", text: crates("[rules.axis.day]\nsteps = -5\ndoc = \"d\"\n[crate.a]\n"), status: 1, want: "s.toml:"},
		{name: "an axis of half a step", text: crates("[rules.axis.day]\nsteps = 0.5\ndoc = \"d\"\n[crate.a]\n"), status: 1, want: "s.toml:"},
		{name: "three axes of a hundred thousand steps", text: crates(many(3, "[rules.axis.d%d]\nsteps = 100000\ndoc = \"d\"\n") + "[rules.crate.x]\nover = [\"d0\", \"d1\", \"d2\"]\nformula = \"count\"\ndoc = \"d\"\n[crate.a]\n"), status: 1, want: "s.toml:"},
		{name: "two axes whose product is just too large", text: crates(many(2, "[rules.axis.d%d]\nsteps = 4000\ndoc = \"d\"\n") + "[rules.crate.x]\nover = [\"d0\", \"d1\"]\nformula = \"count\"\ndoc = \"d\"\n[crate.a]\n"), status: 1, want: "s.toml:"},
		{name: "an axis of a hundred thousand steps, for many quantities", text: crates("[rules.axis.day]\nsteps = 100000\ndoc = \"d\"\n" + many(100, "[rules.crate.x%d]\nover = \"day\"\nformula = \"count * day\"\ndoc = \"d\"\n") + "[crate.a]\n[crate.b]\n")},
		{name: "a series of a hundred thousand steps", text: crates("[rules.axis.day]\nsteps = 100000\ndoc = \"d\"\n[rules.crate.x]\nover = \"day\"\nstart = \"0\"\nformula = \"prev(x) + count\"\ndoc = \"d\"\n[crate.a]\n")},
		{name: "sums of all over all of ten thousand", text: crates("[rules.crate.x]\nformula = \"sum(crates, .count * mass / mass)\"\ndoc = \"d\"\n[crate.a]\neach = { count = " + list(10_000) + " }\n"), status: 1, want: "more than the 500,000,000 that are done"},
		{name: "sums in sums in sums", text: crates("[rules.crate.x]\nformula = \"sum(crates, sum(crates, sum(crates, .count)))\"\ndoc = \"d\"\n[crate.a]\neach = { count = " + list(1000) + " }\n"), status: 1, want: "s.toml:"},
		{name: "an axis of items, over items", text: crates("[rules.crate.x]\nover = \"crate\"\nformula = \"count\"\ndoc = \"d\"\n[crate.a]\neach = { count = " + list(9000) + " }\n"), status: 1, want: "more than the 21,000,000 that are computed"},
		{name: "a table of the rules of twenty thousand rows", text: crates("[rules.table.t]\ndoc = \"d\"\ncolumns = { a = \"\", b = \"\" }\nrows = [" + r("[1,2],", 20_000) + "]\n[crate.a]\n"), status: 1, want: "s.toml:"},
		{name: "a table of an item of two thousand rows", text: crates("[rules.crate.t]\ndoc = \"d\"\noptional = true\ncolumns = { x = \"\", y = \"\" }\n[crate.a]\nt = { x = " + list(2000) + ", y = " + list(2000) + " }\n"), status: 1, want: "s.toml:"},
		{name: "a table for more rows than there may be", text: crates("[rules.crate.t]\ndoc = \"d\"\noptional = true\nrows = 1000000000\ncolumns = { x = \"\", y = \"\" }\n[crate.a]\n"), status: 1, want: "s.toml:"},
		{name: "decimals without end", text: crates("[rules.crate.t]\ndoc = \"d\"\ndefault = 1\ndecimals = 1000000000\n[crate.a]\n"), status: 1, want: "s.toml:"},
		{name: "a kind that needs a billion items", text: strings.Replace(crates("[crate.a]\n"), "many = \"crates\"", "many = \"crates\"\nleast = 1000000000", 1), status: 1, want: "s.toml:"},
		{name: "a sentence with a hundred thousand braces", text: crates("[rules.check.c]\nof = \"crate\"\nseverity = \"stop\"\nrequire = \"count > 5\"\ndoc = \"d\"\nsource = \"s\"\notherwise = \"" + r("{count}", 100_000) + "\"\n[crate.a]\n"), status: 1, want: "more than 100 values"},
		{name: "a sentence of open braces", text: crates("[rules.check.c]\nof = \"crate\"\nseverity = \"stop\"\nrequire = \"count > 5\"\ndoc = \"d\"\nsource = \"s\"\notherwise = \"" + r("{", 100_000) + "\"\n[crate.a]\n"), status: 1, want: "s.toml:"},
		{name: "choices by the ten thousand", text: crates("[rules.crate.t]\ndoc = \"d\"\ndefault = \"c0\"\nchoices = [" + many(10_000, "\"c%d\",") + "]\n[crate.a]\nt = \"d\"\n"), status: 1, want: "s.toml:"},
		{name: "a battery as large as all numbers", text: edited(starterText(), `battery.large: capacity = "1e300 Ah"`), want: "usual"},
		{name: "a battery at all prices", text: edited(starterText(), `battery.large: price = "1e308 USD"`), want: "usual"},
		{name: "a load of all power", text: edited(starterText(), `load.largest: power = "1e300 W"`), status: 1, want: "s.toml"},
		{name: "a study of a billion years", text: edited(starterText(), `site: study_period = "1e9 year"`), status: 1, want: "s.toml"},
		{name: "a discount that overflows", text: edited(starterText(), `site: discount_rate = "1e300 %"`), status: 1, want: "s.toml"},
		{name: "a billion strings", text: edited(starterText(), `alternative.one_large: parallel = 1000000000`)},
		{name: "as many strings as there are numbers", text: edited(starterText(), `alternative.one_large: parallel = 1e300`), want: "1e300 strings stand in parallel"},
		{name: "batteries in series without end", text: edited(starterText(), `alternative.one_large: series = 1e300`), want: "1e300 batteries stand in series"},
		{name: "eighteen hundred combinations", text: combined(30, 30), args: []string{"sweep", "s.toml", "--matters"}, status: 1, want: "values, more than the 21,000,000 that are computed"},
		{name: "what matters of a thousand combinations", text: combined(22, 22), args: []string{"sweep", "s.toml", "--matters"}, status: 1, want: "one at a time would take too long with 970 alternatives"},
		{name: "what matters of a hundred combinations", text: combined(7, 7), args: []string{"sweep", "s.toml", "--matters"}, want: "What matters"},
		{name: "a thousand combinations", text: combined(22, 22), args: []string{"compare", "s.toml"}, want: "several_small"},
		{name: "ten million samples", text: edited(starterText()) + "[doubt.odd]\nsamples = 10000000\ninputs = [{ input = \"battery.large.price\", uniform = [\"600 USD\", \"700 USD\"] }]\n", args: []string{"sweep", "s.toml"}, status: 1, want: "10,000,000 samples are more than can be kept of 2 alternatives; take at most 5,333,333"},
		{name: "rules of an axis for every load", text: edited(starterText()) + "[rules.axis.pace]\nsteps = 1000\ndoc = \"d\"\n" + many(10, "[rules.load.x%d]\nover = \"pace\"\nunit = \"W\"\nformula = \"power * pace\"\ndoc = \"d\"\n") + many(4500, "[load.l%d]\npower = \"1 W\"\n"), status: 1, want: "more than the 21,000,000 that are computed"},
		{name: "ten thousand times the same file on a line", text: "include = [" + r(`"r.toml",`, 9999) + "]\n" + crates("[crate.a]\n"), and: map[string]string{"r.toml": ""}, status: 1, want: "left out: 9,898 more messages"},
		{name: "sixty thousand times the same file on a line", text: "include = [" + r(`"r.toml",`, 60_000) + "]\n" + crates("[crate.a]\n"), and: map[string]string{"r.toml": ""}, status: 1, want: "left out: 59,899 more messages"},
		{name: "ten thousand times the same rules on a line", text: "rule_files = [" + r(`"r.toml",`, 10_000) + "]\n" + crates("[crate.a]\n"), and: map[string]string{"r.toml": ""}, status: 1, want: "more messages"},
		{name: "nine thousand spellings on a line", text: crates("[rules.shed.tried]\ndefault = 1\ndoc = \"d\"\ninstead = { " + strings.TrimSuffix(many(9000, "u%d = \"x\", "), ", ") + " }\n[crate.a]\n"), status: 1, want: "more messages"},
		{name: "eighty thousand sources on a line", text: crates("[rules.check.c]\nof = \"crate\"\nseverity = \"stop\"\nrequire = \"count > 5\"\ndoc = \"d\"\notherwise = \"o\"\nsources = [" + r(`"x",`, 80_000) + "]\n[crate.a]\n"), status: 1, want: "s.toml:"},
		{name: "temperatures below all", text: edited(starterText(), `site: cell_temperature = "-1e300 °C"`), want: "usual"},
	}
}

// combined is the starter with so many banks more of each battery.
func combined(series, parallel int) string {
	list := func(n int) string { return "[1" + many(n-1, ", 1%d") + "]" } // 1, then numbers that begin with 1
	return edited(starterText()) + "[alternative.every]\ninverter = \"house\"\neach = { battery = [\"large\", \"small\"], series = " + list(series) + ", parallel = " + list(parallel) + " }\n"
}

// hostileStudies ask for more points than anybody waits for, or for values that are none.
func hostileStudies() []hostile {
	study := func(s string) string { return edited(starterText()) + s }
	out := []hostile{
		{name: "study: ends as far apart as numbers go", text: study("[sweep.odd]\nvary = [{ input = \"battery.large.price\", from = \"0 USD\", to = \"1e308 USD\", points = 3 }]\n"), args: []string{"sweep", "s.toml"}, want: "5e307"},
		{name: "study: a break-even as far as numbers go", text: study("[break_even.odd]\ninput = \"battery.large.price\"\nfrom = \"0 USD\"\nto = \"1e308 USD\"\n"), args: []string{"sweep", "s.toml"}, want: "change places"},
	}
	for _, c := range []struct{ name, text, want string }{
		{"a billion points", "[sweep.odd]\nvary = [{ input = \"battery.large.price\", from = \"1 USD\", to = \"2 USD\", points = 1000000000 }]\n", "s.toml:"},
		{"less than no points", "[sweep.odd]\nvary = [{ input = \"battery.large.price\", from = \"1 USD\", to = \"2 USD\", points = -3 }]\n", "s.toml:"},
		{"one point of two ends", "[sweep.odd]\nvary = [{ input = \"battery.large.price\", from = \"1 USD\", to = \"2 USD\", points = 1 }]\n", "s.toml:"},
		{"1e300 points", "[sweep.odd]\nvary = [{ input = \"battery.large.price\", from = \"1 USD\", to = \"2 USD\", points = 1e300 }]\n", "s.toml:"},
		{"a step of next to nothing", "[sweep.odd]\nvary = [{ input = \"battery.large.price\", from = \"1 USD\", to = \"1e9 USD\", step = \"1e-9 USD\" }]\n", "s.toml:"},
		{"a step of nothing", "[sweep.odd]\nvary = [{ input = \"battery.large.price\", from = \"1 USD\", to = \"2 USD\", step = \"0 USD\" }]\n", "s.toml:"},
		{"a step backwards", "[sweep.odd]\nvary = [{ input = \"battery.large.price\", from = \"1 USD\", to = \"2 USD\", step = \"-1 USD\" }]\n", "s.toml:"},
		{"a grid beyond all numbers", "[sweep.odd]\nvary = [" + many(3, "{ input = \"load.l%d.power\", from = \"1 W\", to = \"2 W\", points = 900000 },") + "]\n" + many(3, "[load.l%d]\npower = \"1 W\"\n"), "s.toml:"},
		{"a grid whose number wraps to nothing", "[sweep.odd]\nvary = [" + many(16, "{ input = \"load.l%d.power\", from = \"1 W\", to = \"2 W\", points = 16 },") + "]\n" + many(16, "[load.l%d]\npower = \"1 W\"\n"), "s.toml:"},
		{"five hundred axes", "[sweep.odd]\nvary = [" + many(500, "{ input = \"load.l%d.power\", from = \"1 W\", to = \"2 W\", points = 2 },") + "]\n" + many(500, "[load.l%d]\npower = \"1 W\"\n"), "s.toml:"},
		{"a thousand things to show", "[sweep.odd]\nshow = [" + strings.Repeat("\"runtime\",", 1000) + "]\nvary = [{ input = \"battery.large.price\", values = [\"1 USD\"] }]\n", "s.toml:"},
		{"the same input on two axes", "[sweep.odd]\nvary = [" + strings.Repeat("{ input = \"battery.large.price\", values = [\"1 USD\"] },", 2) + "]\n", "s.toml:"},
		{"two hundred studies", many(200, "[sweep.s%d]\nvary = [{ input = \"battery.large.price\", values = [\"1 USD\"] }]\n"), "s.toml:"},
		{"a billion samples", "[doubt.odd]\nsamples = 1000000000\ninputs = [{ input = \"battery.large.price\", uniform = [\"1 USD\", \"2 USD\"] }]\n", "s.toml:"},
		{"less than no samples", "[doubt.odd]\nsamples = -1\ninputs = [{ input = \"battery.large.price\", uniform = [\"1 USD\", \"2 USD\"] }]\n", "s.toml:"},
		{"a seed beyond all numbers", "[doubt.odd]\nseed = 1e300\ninputs = [{ input = \"battery.large.price\", uniform = [\"1 USD\", \"2 USD\"] }]\n", "s.toml:"},
		{"a hundred uncertain inputs", "[doubt.odd]\ninputs = [" + many(100, "{ input = \"load.l%d.power\", uniform = [\"1 W\", \"2 W\"] },") + "]\n" + many(100, "[load.l%d]\npower = \"1 W\"\n"), "s.toml:"},
		{"a spread of less than nothing", "[doubt.odd]\ninputs = [{ input = \"battery.large.price\", normal = [\"1 USD\", \"-2 USD\"] }]\n", "s.toml:"},
		{"a spread beyond all numbers", "[doubt.odd]\ninputs = [{ input = \"battery.large.price\", normal = [\"600 USD\", \"1e308 USD\"] }]\n", "so wide that its ends cannot be told"},
		{"a relative spread that overflows", "[doubt.odd]\ninputs = [{ input = \"battery.large.price\", lognormal = [\"600 USD\", 1e6] }]\n", "s.toml:"},
		{"ends that changed places", "[doubt.odd]\ninputs = [{ input = \"battery.large.price\", uniform = [\"2 USD\", \"1 USD\"] }]\n", "s.toml:"},
		{"a correlation beyond one", "[doubt.odd]\ninputs = [" + many(2, "{ input = \"load.l%d.power\", uniform = [\"1 W\", \"2 W\"] },") + "]\ncorrelated = [{ inputs = [\"load.l0.power\", \"load.l1.power\"], by = 1e300 }]\n" + many(2, "[load.l%d]\npower = \"1 W\"\n"), "s.toml:"},
		{"correlations that cannot be", "[doubt.odd]\ninputs = [" + many(3, "{ input = \"load.l%d.power\", uniform = [\"1 W\", \"2 W\"] },") + "]\ncorrelated = [{ inputs = [\"load.l0.power\", \"load.l1.power\"], by = 1 }, { inputs = [\"load.l1.power\", \"load.l2.power\"], by = 1 }, { inputs = [\"load.l0.power\", \"load.l2.power\"], by = -1 }]\n" + many(3, "[load.l%d]\npower = \"1 W\"\n"), "s.toml:"},
		{"a break-even of nothing wide", "[break_even.odd]\ninput = \"battery.large.price\"\nfrom = \"1 USD\"\nto = \"1 USD\"\n", "s.toml:"},
		{"a break-even with itself", "[break_even.odd]\nbetween = [\"one_large\", \"one_large\"]\ninput = \"battery.large.price\"\nfrom = \"0 USD\"\nto = \"9 USD\"\n", "s.toml:"},
		{"ten thousand values on a line", "[sweep.odd]\nvary = [{ input = \"battery.large.price\", values = [" + strings.Repeat("\"60 %\",", 10_000) + "] }]\n", "more messages"},
		{"eighty thousand values on a line", "[sweep.odd]\nvary = [{ input = \"battery.large.price\", values = [" + strings.Repeat("\"60 %\",", 80_000) + "] }]\n", "more messages"},
		{"a curve of a million", "[break_even.odd]\ninput = \"battery.large.price\"\nfrom = \"0 USD\"\nto = \"9 USD\"\nover = { input = \"site.study_period\", from = \"1 year\", to = \"20 year\", points = 10000000 }\n", "s.toml:"},
	} {
		out = append(out, hostile{name: "study: " + c.name, text: study(c.text), args: []string{"sweep", "s.toml"}, status: 1, want: c.want})
	}
	return out
}

// hostileLines are command lines that ask for what cannot be.
func hostileLines() []hostile {
	line := func(name string, status int, want string, args ...string) hostile {
		return hostile{name: "line: " + name, text: starterText(), args: args, status: status, want: want}
	}
	vary := func(name, text string) hostile {
		return line(name, exitUsage, "bankwright: ", "sweep", "s.toml", "--vary", text)
	}
	var out []hostile
	for _, number := range []string{"nan", "inf", "-1", "1e400", "0x10", "1e-400", "９", ""} {
		out = append(out, line(fmt.Sprintf("%q samples", number), exitUsage, "bankwright: ", "sweep", "s.toml", "--samples="+number),
			line(fmt.Sprintf("by %q", number), exitUsage, "bankwright: ", "sweep", "s.toml", "--matters", "--by="+number))
	}
	return append(out,
		vary("a billion points", "battery.large.price=1USD..2USD/1000000000"),
		vary("points beyond all numbers", "battery.large.price=1USD..2USD/99999999999999999999999"),
		vary("a step of next to nothing", "battery.large.price=1USD..1e9USD/step 1e-300USD"),
		vary("a value that is none", "battery.large.price=nan USD,inf USD"),
		vary("ends that are none", "battery.large.price=-inf USD..inf USD/3"),
		vary("commas alone", "battery.large.price="+strings.Repeat(",", 50_000)),
		vary("brackets without end", "alternative.one_large.day_unmet"+strings.Repeat("[", 50_000)+"=1"),
		vary("a hundred thousand letters", strings.Repeat("a", 100_000)+"=1"),
		vary("dots alone", strings.Repeat(".", 50_000)+"=1"),
		vary("bytes that are no UTF-8", "battery.\xff\xfe=1USD"),
		line("explain: a hundred thousand letters", exitFailed, "bankwright: ", "explain", "s.toml", strings.Repeat("a.", 50_000)+"a"),
		line("explain: a step beyond all numbers", exitFailed, "bankwright: ", "explain", "s.toml", "alternative.one_large.day_unmet[1,99999999999999999999]"),
		line("explain: a step before the first", exitFailed, "bankwright: ", "explain", "s.toml", "alternative.one_large.day_unmet[-1,0]"),
		line("explain: a depth beyond all numbers", exitUsage, "bankwright: ", "explain", "s.toml", "alternative.one_large.runtime", "--depth", "99999999999999999999"),
		line("explain: a depth of a billion", exitDone, "alternative.one_large.runtime", "explain", "s.toml", "alternative.one_large.runtime", "--depth", "1000000000"),
		line("explain: a depth below nothing", exitUsage, "bankwright: ", "explain", "s.toml", "alternative.one_large.runtime", "--depth", "-5"),
		line("part: more than there are", exitUsage, "bankwright: ", "sweep", "s.toml", "--vary", "battery.large.price=1USD,2USD", "-o", "a.csv", "--part", "1/99999999999999999999"),
		line("a file name of ten thousand letters", exitFailed, "cannot be read", "check", strings.Repeat("a", 10_000)+".toml"),
		line("a file name with a line end", exitFailed, "there is no such file", "check", "a\nb.toml"),
		line("a file name with a command to the terminal", exitFailed, "there is no such file", "check", "a\x1b[2Jb.toml"),
		line("a workbook over the scenario", exitUsage, "ends in .xlsx", "book", "s.toml", "-o", "s.toml"),
		line("points into the scenario", exitUsage, "bankwright: ", "sweep", "s.toml", "--vary", "battery.large.price=1USD,2USD", "-o", "s.toml"),
		line("a picture of a million points", exitUsage, "bankwright: ", "draw", "s.toml", "--width", "1000000000"),
	)
}
