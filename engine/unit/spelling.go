package unit

import (
	"slices"
	"strings"
)

// Spellings are the names of the single units of a dimension, currencies left out, in
// alphabetical order: "kWh", "MWh" and the like. Products and ratios of units are
// written besides.
func Spellings(d Dim) []string {
	var names []string
	for name, u := range unitTable {
		if u.Dim == d && name != "money" && name != "1" {
			names = append(names, name)
			if rest, ok := strings.CutPrefix(name, "µ"); ok {
				names = append(names, "μ"+rest, "u"+rest)
			}
			for from, to := range map[string]string{"Ω": "\u2126", "°C": "℃", "°F": "℉"} {
				if rest, ok := strings.CutSuffix(name, from); ok {
					names = append(names, rest+to)
				}
			}
		}
	}
	if d == Temperature {
		names = append(names, "K") // counted from absolute zero: see Unit.As
	}
	slices.Sort(names)
	return names
}

// Names are the names of all units that may stand in a product or ratio, currencies
// left out, in alphabetical order.
func Names() []string {
	var names []string
	for _, u := range unitTable {
		for _, name := range Spellings(u.Dim) {
			if !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	slices.Sort(names)
	return names
}
