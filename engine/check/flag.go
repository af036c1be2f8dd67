package check

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"bankwright/engine/decl"
	"bankwright/engine/diag"
	"bankwright/engine/unit"
)

// ParseSweep reads a sweep that a user wants: its axes, each on one line,
//
//	shelf.oak.price=500 USD..900 USD/41
//	shelf.oak.price=500 USD..900 USD/step 10 USD
//	shop.share=50 %,80 %
//	shelf.oak.price,shelf.ash.price=by 80 %,100 %,120 %
//
// and what is to be shown, as a scenario names it, beside what decides the comparison.
// With "by", values are factors; several inputs can only be scaled. The error says
// what to write instead; it is a *Misnamed.
func ParseSweep(p *Program, axes, show []string) (*Sweep, error) {
	out := &Sweep{Sweep: &decl.Sweep{}}
	var list diag.List
	s, taken := newStudy(p, &list), map[Place]bool{}
	grid := 1.0
	for _, text := range axes {
		v, err := parseVary(text)
		if err != nil {
			return nil, err
		}
		out.Axes = append(out.Axes, s.axis(v, taken))
		if err := firstFault(list); err != nil {
			return nil, err
		}
		out.Sweep.Vary = append(out.Sweep.Vary, v)
		grid *= float64(out.Axes[len(out.Axes)-1].Steps())
	}
	if grid > maxGrid {
		return nil, misnamed("Take fewer values of each", "there are %s combinations, more than %s", unit.Format(grid, 0), unit.Format(maxGrid, 0))
	}
	for _, name := range show {
		out.Sweep.Show = append(out.Sweep.Show, decl.Named{Name: strings.TrimSpace(name)})
	}
	out.Show = s.shown(out.Sweep)
	if k := p.Compared(); k != nil && len(show) > 0 {
		decides := slices.DeleteFunc(everyItem(k, k.Quantity(k.Compare.By)), func(c Place) bool { return slices.Contains(out.Show, c) })
		out.Show = append(decides, out.Show...)
	}
	if err := firstFault(list); err != nil {
		return nil, err
	}
	return out, nil
}

// rangeEnd is what stands behind the ends of a range: "/41" points, or
// "/step 10 USD".
var rangeEnd = regexp.MustCompile(`^(.*)/\s*(?:(\d+)|step\s+(\S.*?))\s*$`)

// firstFault is the first fault of a list as an error, without the marks that
// names have in a file.
func firstFault(list diag.List) error {
	for _, d := range list {
		if d.Severity == diag.Error {
			return &Misnamed{Summary: strings.ReplaceAll(d.Summary, "`", ""), Mend: strings.ReplaceAll(d.Mend, "`", "")}
		}
	}
	return nil
}

// parseVary reads an axis on one line.
func parseVary(text string) (*decl.Vary, error) {
	names, values, found := strings.Cut(text, "=")
	values = strings.TrimSpace(values)
	if !found || strings.TrimSpace(names) == "" || values == "" {
		return nil, misnamed(`Write an input, an equals sign and its values, such as "kind.item.quantity=1 kg..5 kg/9" or "kind.item.quantity=1 kg,2 kg"`, "%q does not say what is varied and how", text)
	}
	v := &decl.Vary{}
	for _, name := range cutNames(names) {
		v.Inputs = append(v.Inputs, decl.Named{Name: strings.TrimSpace(name)})
	}
	if rest, by := strings.CutPrefix(values, "by "); by {
		v.Scaled, values = true, strings.TrimSpace(rest)
	}
	if len(v.Inputs) > 1 && !v.Scaled {
		return nil, misnamed(`Write "=by 80 %,100 %,120 %"`, "several inputs can only be scaled together")
	}
	if low, high, isRange := strings.Cut(values, ".."); isRange {
		if err := parseRange(v, low, high); err != nil {
			return nil, err
		}
	} else {
		for _, one := range strings.Split(values, ",") {
			v.Values = append(v.Values, decl.ValueOf(one))
		}
	}
	return v, nil
}

// parseRange reads what stands on both sides of "..".
func parseRange(v *decl.Vary, low, high string) error {
	m := rangeEnd.FindStringSubmatch(high)
	if m == nil {
		return misnamed("Write how many, such as "+low+".."+high+"/11, or a step behind it: /step …", "it is not said at how many values from %s to %s", strings.TrimSpace(low), strings.TrimSpace(high))
	}
	v.From, v.To = decl.ValueOf(low), decl.ValueOf(m[1])
	if m[3] != "" {
		v.Step = decl.ValueOf(m[3])
		return nil
	}
	n, err := strconv.Atoi(m[2])
	if err != nil || n < 2 || n > decl.MaxPoints {
		return misnamed("Write a whole number from 2 to 1000000", "%s is no number of values to take", m[2])
	}
	v.Points = n
	return nil
}

// cutNames cuts names at commas outside brackets, which name steps.
func cutNames(text string) (out []string) {
	depth, from := 0, 0
	for i, r := range text {
		switch {
		case r == '[':
			depth++
		case r == ']':
			depth--
		case r == ',' && depth <= 0:
			out, from = append(out, text[from:i]), i+1
		}
	}
	return append(out, text[from:])
}
