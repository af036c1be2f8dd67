package text

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"bankwright/export/reference"
)

// evidenceTexts name evidence, and say what it means.
var evidenceTexts = map[reference.Evidence][2]string{
	reference.Printed:    {"seen as printed", "the publication, or a public reproduction of it, was seen to print the value"},
	reference.Worked:     {"worked out from what was seen printed", "the figures that the value follows from were seen; where the source prints the result as well, it agrees to the last digit printed"},
	reference.Memory:     {"from memory", "nobody has laid the value beside the publication again, or a part of its figures"},
	reference.Simulated:  {"simulated by a general program", "a program for other purposes computes it from the same figures; nobody publishes it"},
	reference.Consistent: {"consistent with a published total", "figures were chosen so that a sum comes out that is published, whose parts are not; these rules are not counted as reached directly"},
	reference.Practice:   {"common practice only", "many state it, and nobody publishes it as a value"},
	reference.Nothing:    {"none", "no value from outside would tell that the rule is wrong"},
}

// Checked writes how far the rules are checked, the values from outside beside those of
// the rules, then the rules that have no better than a total, practice or nothing, as
// Markdown that reads as text in 80 columns.
func Checked(w io.Writer, c *reference.Checked) {
	fmt.Fprint(w, "# What is checked from outside\n\n")
	checkedHead(w, c)
	paragraph(w, "A rule counts where its result was really used: made a tenth larger or smaller (a yes made a no), it moves a value of a source out of its tolerance. What is multiplied by nothing, stands in the arm of a choice that is not taken or is the larger of two of which the smaller counts is not reached.")
	paragraph(w, "Published and ours are in the unit shown; the difference is ours less the published value, in parts of it. It is within what the source rounds, or what its formula leaves open, as the scenario says.")
	fmt.Fprint(w, "## Values\n\n")
	for _, s := range c.Sources {
		checkedSource(w, s)
	}
	beside := " Beside each stands whom the rule itself goes back to; where nothing stands there it is arithmetic, such as a sum or a price times a count, that no source prints."
	checkedRules(w, c, reference.Consistent, "Rules consistent with a published total only", "The total would tell that one of them is wrong; its parts are not published, so that two errors that make up for each other would pass."+beside)
	checkedRules(w, c, reference.Practice, "Rules held to common practice only", "No publication was found that prints a value for them."+beside)
	checkedRules(w, c, reference.Nothing, "Rules that no value from outside reaches", strings.TrimSpace(beside))
}

// checkedHead says how many rules have which best evidence, and what that leaves.
func checkedHead(w io.Writer, c *reference.Checked) {
	values, sources := c.Values(reference.Evidences...)
	paragraph(w, fmt.Sprintf("%d values of %d sources are compared with what the rules give in the scenarios of `testdata/outside`. Each of the %d rules (quantities with formulas, and checks) counts once here, under the best evidence that reaches it; directly, where its own result is compared, else through what follows from it:", values, sources, len(c.Rules)))
	fmt.Fprintln(w, "    "+padRight("evidence", 39)+padLeft("rules", 6)+padLeft("share", 9)+padLeft("directly", 10)+padLeft("values", 8))
	weak := len(c.Rules) // rules without what is printed or worked out
	for _, e := range reference.Evidences {
		n, directly := c.Count(e)
		values, _ := c.Values(e)
		if e == reference.Printed || e == reference.Worked {
			weak -= n
		}
		fmt.Fprintln(w, "    "+padRight(evidenceTexts[e][0], 39)+padLeft(strconv.Itoa(n), 6)+padLeft(share(n, len(c.Rules)), 9)+padLeft(strconv.Itoa(directly), 10)+padLeft(strconv.Itoa(values), 8))
	}
	fmt.Fprintln(w)
	for _, e := range reference.Evidences {
		fmt.Fprint(w, hang("- ", evidenceTexts[e][0]+": "+evidenceTexts[e][1], 2, 80))
	}
	fmt.Fprintln(w)
	none, _ := c.Count(reference.Nothing)
	practice, _ := c.Count(reference.Practice)
	all := len(c.Rules)
	paragraph(w, fmt.Sprintf("The aim is to have less than a fifth of the rules without a check from outside. Counted with all evidence, %s have none. **Without common practice, which nobody publishes, %s have none: the aim is %s.** Without what is from memory, simulated or consistent with a total only as well, %s have none.",
		share(none, all), share(none+practice, all), met(5*(none+practice) < all), share(weak, all)))
}

func met(is bool) string {
	if is {
		return "met"
	}
	return "missed"
}

// checkedRules lists the rules whose best evidence is this, under a title.
func checkedRules(w io.Writer, c *reference.Checked, e reference.Evidence, title, about string) {
	fmt.Fprintf(w, "## %s\n\n", title)
	paragraph(w, about)
	group := ""
	for _, r := range c.Rules {
		if r.Evidence != e {
			continue
		}
		if r.Group != group {
			if group != "" {
				fmt.Fprintln(w)
			}
			group = r.Group
			n, of := c.Of(group, e)
			paragraph(w, fmt.Sprintf("**%s**: %d of %d", group, n, of))
		}
		fmt.Fprintln(w, strings.TrimRight(hang("- `"+r.Name+"`", r.Because, width(r.Name)+5, 80), " \n"))
	}
	if e != reference.Nothing {
		fmt.Fprintln(w)
	}
}

func paragraph(w io.Writer, s string) {
	fmt.Fprintln(w, strings.Join(wrap(s, 80), "\n")+"\n")
}

func share(n, of int) string { return fmt.Sprintf("%.1f %%", 100*float64(n)/float64(max(of, 1))) }

// checkedSource writes the values of one source, under lines that are other in the
// scenario for some of them.
func checkedSource(w io.Writer, s reference.CheckedSource) {
	fmt.Fprint(w, hang("- ", s.Source, 2, 80))
	fmt.Fprint(w, hang("", s.Status+" (`"+s.File+"`)", 2, 80)+"\n")
	fmt.Fprintln(w, "      "+padRight("", 38)+padLeft("published", 12)+padLeft("ours", 13)+padLeft("differs", 11))
	with := ""
	for _, v := range s.Values {
		if set := strings.Join(v.With, "; "); set != with {
			with = set
			if set == "" {
				set = "as the scenario says"
			}
			fmt.Fprint(w, hang("", "with "+set, 6, 80))
		}
		name := v.Cell
		published, ours, differs := number(v.Published), near(v.Ours, v.Published), difference(v)
		if v.Unit != "" {
			published += " " + v.Unit
		}
		if v.Text != "" {
			ours = "the same"
			if v.Ours != v.Published {
				ours = "another"
			}
		}
		if v.Finding {
			published, ours, differs = finished(v.Published), finished(v.Ours), ""
		}
		if v.Text != "" {
			fmt.Fprint(w, hang("", name+" is “"+v.Text+"”, ours "+ours, 6, 80))
			continue
		}
		figures := padLeft(" "+published, 12) + padLeft(" "+ours, 13) + padLeft(" "+differs, 11)
		room := max(80-6-width(figures), 0)
		if width(name) > room {
			fmt.Fprintln(w, "      "+name)
			name = ""
		}
		fmt.Fprintln(w, strings.TrimRight("      "+padRight(name, room)+figures, " "))
	}
	fmt.Fprintln(w)
}

func finished(v float64) string {
	if v == 1 {
		return "passed"
	}
	return "failed"
}

// number is a value with at most ten digits.
func number(v float64) string { return digits(v, 10) }

// near is a value with two digits more than the published one has.
func near(v, published float64) string {
	has := len(strings.Trim(strings.NewReplacer(".", "", "-", "").Replace(number(published)), "0"))
	return digits(v, min(10, max(has, 1)+2))
}

// digits writes a value with at most n digits that count, without a power of ten.
func digits(v float64, n int) string {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', n, 64), 64)
	if err != nil {
		r = v
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}

func difference(v reference.CheckedValue) string {
	r := v.Relative()
	switch {
	case v.Difference == 0:
		return "0"
	case r != r:
		return strconv.FormatFloat(v.Difference, 'g', 2, 64)
	case math.Abs(r) < 5e-8:
		return "< 1e-7"
	}
	return digits(100*r, 2) + " %"
}
