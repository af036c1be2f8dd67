package text

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"bankwright/export/reference"
)

// Checked writes the published values beside those of the rules, then the rules that
// no published value reaches, as Markdown that reads as text in 80 columns.
func Checked(w io.Writer, c *reference.Checked) {
	fmt.Fprint(w, "# What is checked from outside\n\n")
	all, none, practice := len(c.Rules), c.Count(reference.Unreached), c.Count(reference.Practice)
	published := all - none - practice
	paragraph(w, fmt.Sprintf("%d values of %d sources are compared with what the rules give in the scenarios of `testdata/outside`. Of %d rules (quantities with formulas, and checks) published values reach %d, %s: %d directly, whose own result is published, and %d through what follows from them. %d more, %s, are held to common practice only, which many state and nobody publishes as a value. %d are not reached, %s; they stand at the end.",
		c.Values(), len(c.Sources), all, published, share(published, all), c.Count(reference.Direct), c.Count(reference.Through), practice, share(practice, all), none, share(none, all)))
	paragraph(w, "A rule counts where its result was really used: made a tenth larger or smaller (a yes made a no), it moves a value of a source out of its tolerance. What is multiplied by nothing, stands in the arm of a choice that is not taken or is the larger of two of which the smaller counts is not reached.")
	paragraph(w, "Published and ours are in the unit shown; the difference is ours less the published value, in parts of it. It is within what the source rounds, or what its formula leaves open, as the scenario says.")
	fmt.Fprint(w, "## Values\n\n")
	for _, s := range c.Sources {
		checkedSource(w, s)
	}
	fmt.Fprint(w, "## Rules that no published value reaches\n\n")
	paragraph(w, "Beside each stands whom the rule itself goes back to; where nothing stands there it is arithmetic, such as a sum or a price times a count, that no source prints.")
	group := ""
	for _, r := range c.Rules {
		if r.Reach != reference.Unreached {
			continue
		}
		if r.Group != group {
			if group != "" {
				fmt.Fprintln(w)
			}
			group = r.Group
			n, of := c.Of(group)
			paragraph(w, fmt.Sprintf("**%s**: %d of %d", group, n, of))
		}
		fmt.Fprintln(w, strings.TrimRight(hang("- `"+r.Name+"`", r.Because, width(r.Name)+5, 80), " \n"))
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
