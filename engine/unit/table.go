package unit

import "math"

// unitTable holds every unit that can be written, by its spelling; currencies
// are in currency.go. Factors: NIST SP 811, Appendix B.8 (foot 0.3048 m, inch
// 0.0254 m, pound 0.453 592 37 kg, litre 0.001 m³, year of 365 days; all
// exact), where a month is a twelfth of that year.
var unitTable = func() map[string]Unit {
	t := map[string]Unit{}
	add := func(dim Dim, mul, div float64, names ...string) {
		for _, n := range names {
			t[n] = Unit{Name: names[0], Dim: dim, Mul: mul, Div: div}
		}
	}
	base := func(place int) Dim {
		var d Dim
		d.exp[place] = 1
		return d
	}
	product := func(a, b Dim) Dim { d, _ := Mul(a, b); return d }
	quotient := func(a, b Dim) Dim { d, _ := Div(a, b); return d }

	v, a, h := base(volt), base(ampere), base(hour)
	charge, watt := product(a, h), product(v, a)
	energy, ohm := product(watt, h), quotient(v, a)
	volume, _ := Pow(base(metre), 3)

	add(v, 1, 1e6, "µV")
	add(v, 1, 1e3, "mV")
	add(v, 1, 1, "V")
	add(v, 1e3, 1, "kV")
	add(a, 1, 1e6, "µA")
	add(a, 1, 1e3, "mA")
	add(a, 1, 1, "A")
	add(a, 1e3, 1, "kA")
	add(charge, 1, 1e3, "mAh")
	add(charge, 1, 1, "Ah")
	add(charge, 1e3, 1, "kAh")
	add(watt, 1, 1e3, "mW")
	add(watt, 1, 1, "W")
	add(watt, 1e3, 1, "kW")
	add(watt, 1e6, 1, "MW")
	add(watt, 1, 1, "VA")
	add(watt, 1e3, 1, "kVA")
	add(energy, 1, 1e3, "mWh")
	add(energy, 1, 1, "Wh")
	add(energy, 1e3, 1, "kWh")
	add(energy, 1e6, 1, "MWh")
	add(ohm, 1, 1e6, "µohm")
	add(ohm, 1, 1e3, "mohm")
	add(ohm, 1, 1, "ohm")
	add(ohm, 1, 1e6, "µΩ")
	add(ohm, 1, 1e3, "mΩ")
	add(ohm, 1, 1, "Ω")

	add(h, 1, 3.6e6, "ms")
	add(h, 1, 3600, "s")
	add(h, 1, 60, "min")
	add(h, 1, 1, "h")
	add(h, 24, 1, "day", "days")
	add(h, 168, 1, "week", "weeks")
	add(h, 730, 1, "month", "months")
	add(h, 8760, 1, "year", "years")

	add(base(metre), 1, 1e3, "mm")
	add(base(metre), 1, 100, "cm")
	add(base(metre), 1, 1, "m")
	add(base(metre), 1e3, 1, "km")
	add(base(metre), 254, 1e4, "in")
	add(base(metre), 3048, 1e4, "ft")
	add(volume, 1, 1e3, "L")
	add(base(kilogram), 1, 1e3, "g")
	add(base(kilogram), 1, 1, "kg")
	add(base(kilogram), 45359237, 1e8, "lb")

	add(Difference, 1, 1, "K")
	add(Temperature, 1, 1, "°C", "degC")
	fahrenheit := Unit{Name: "°F", Dim: Temperature, Mul: 5, Div: 9, Zero: 32}
	t["°F"], t["degF"] = fahrenheit, fahrenheit

	add(None, 1, 1, "1")
	add(None, 1, 100, "%")
	add(None, math.Pi, 180, "deg") // an angle is a plain number: that of radians
	add(None, 1, 1, "cycles", "cycle")
	add(Money, 1, 1, "money")
	return t
}()

// counted are the units that are words; a count other than one gets an s.
var counted = map[string]bool{"day": true, "week": true, "month": true, "year": true}

// Alike are the units of a dimension that have a name of their own, each once, in
// the order of their names.
func Alike(d Dim) []Unit {
	var out []Unit
	for _, name := range plainNames {
		if u := unitTable[name]; u.Name == name && u.Dim == d {
			out = append(out, u)
		}
	}
	return out
}
