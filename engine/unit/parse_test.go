package unit

import (
	"errors"
	"slices"
	"strings"
	"testing"
)

var parseTests = []struct{ in, name, dim string }{
	{"kWh", "kWh", "Wh"}, {" kWh ", "kWh", "Wh"}, {"W·h", "W·h", "Wh"}, {"W*h", "W·h", "Wh"},
	{"mm2", "mm²", "m²"}, {"mm^2", "mm²", "m²"}, {"mm²", "mm²", "m²"}, {"m^4", "m^4", "m^4"}, {"m⁴", "m^4", "m^4"},
	{"h^-1", "h^-1", "1/h"}, {"h⁻¹", "h^-1", "1/h"}, {"m⁻²", "m^-2", "1/m²"},
	{"USD / kWh", "USD/kWh", "money/Wh"}, {"money/Wh/day", "money/Wh/day", "money/Wh/h"},
	{"μohm", "µohm", "ohm"}, {"uohm", "µohm", "ohm"}, {"uV", "µV", "V"}, {"m\u2126", "mΩ", "ohm"},
	{"ºC", "°C", "°C"}, {"degC", "°C", "°C"}, {"degF", "°F", "°C"}, {"℃", "°C", "°C"},
	{"V/degC", "V/°C", "V/K"}, {"°C/W", "°C/W", "K/W"}, {"°C²", "°C²", "K²"},
	{"days", "day", "h"}, {"years", "year", "h"}, {"cycle", "cycles", "1"}, {"1", "", "1"}, {"1/h", "1/h", "1/h"},
	{"1/1", "1/1", "1"}, {"%", "%", "1"}, {"kA", "kA", "A"}, {"kAh", "kAh", "Ah"}, {"EUR·USD/USD", "", ""},
}

func TestParse(t *testing.T) {
	for _, c := range parseTests {
		u, err := Parse(c.in)
		if c.dim == "" {
			if err == nil {
				t.Errorf("%q reads %+v", c.in, u)
			}
			continue
		}
		if err != nil || u.String() != c.name || u.Dim.String() != c.dim {
			t.Errorf("%q reads %q (%v), %v, want %q (%s)", c.in, u.Name, u.Dim, err, c.name, c.dim)
		}
	}
}

func TestCurrencyOfUnit(t *testing.T) {
	for in, want := range map[string]string{"USD/kWh": "USD", "money/kWh": "", "kg": "", "USD/USD": "USD", "kg/EUR": "EUR"} {
		if u, err := Parse(in); err != nil || u.Currency != want {
			t.Errorf("%q has the currency %q, %v, want %q", in, u.Currency, err, want)
		}
	}
	if !dim(t, "kg/EUR").HasMoney() || dim(t, "EUR/EUR").HasMoney() || dim(t, "kg").HasMoney() {
		t.Error("money is found where it is not, or not found")
	}
}

const unitForms = `Units are written like "V", "Ah", "kWh", "kg", "mm²", "°C", "%", "ohm/km" or "USD/kWh".`

// Every way in which a unit is refused.
var parseErrorTests = []struct {
	in, text, mend string
	at, n          int
}{
	{"", "no unit is written", `Name a unit such as "kg", or leave it out for a number without unit.`, 0, 0},
	{"KWH", `there is no unit "KWH"`, `Write "kWh".`, 0, 3},
	{"ah", `there is no unit "ah"`, `Write "Ah".`, 0, 2},
	{"Kw", `there is no unit "Kw"`, `Write "kW".`, 0, 2},
	{"Mw", `there is no unit "Mw"`, `Write "MW".`, 0, 2},
	{"mw", `there is no unit "mw"`, `Write "mW".`, 0, 2},
	{"KG", `there is no unit "KG"`, `Write "kg".`, 0, 2},
	{"v", `there is no unit "v"`, `Write "V".`, 0, 1},
	{"ohms", `there is no unit "ohms"`, `Write "ohm".`, 0, 4},
	{"celsius", `there is no unit "celsius"`, `Write "°C".`, 0, 7},
	{"hours", `there is no unit "hours"`, `Write "h".`, 0, 5},
	{"hrs.", `there is no unit "hrs."`, `Write "h".`, 0, 4},
	{"usd/kwh", `there is no unit "usd"`, `Write "USD/kWh".`, 0, 3},
	{"UDS/kWh", `there is no unit "UDS"`, `Write "USD/kWh".`, 0, 3},
	{"mnth", `there is no unit "mnth"`, `Write "month".`, 0, 4},
	{"kWh/Day", `there is no unit "Day"`, `Write "kWh/day".`, 4, 3},
	{"deg C", `"deg C" is not one unit`, `Write "°C".`, 0, 5},
	{"per cent", `there is no unit "per cent"`, `Write "%".`, 0, 8},
	{"sq ft", `there is no unit "sq ft"`, `Write "ft²".`, 0, 5},
	{"gribble", `there is no unit "gribble"`, unitForms, 0, 7},
	{"kg/gribble", `there is no unit "gribble"`, unitForms, 3, 7},
	{"KWH/gribble", `there is no unit "KWH"`, `Write "kWh" here.`, 0, 3},
	{"USD per kWh", `"USD per kWh" is not one unit`, `Write "USD/kWh".`, 3, 5},
	{"kW h", `"kW h" is not one unit`, `Write "kWh".`, 0, 4},
	{"V kg", `"V kg" is not one unit`, `Write "V·kg".`, 1, 1},
	{"amp hours", `there is no unit "amp hours"`, `Write "Ah".`, 0, 9},
	{"kg/m·h", "it is not plain whether what follows the product sign multiplies or divides; products come before the first /", `Write "kg/m/h".`, 4, 1},
	{"m**2", "a power in a unit is written with ^", `Write "m^2".`, 1, 2},
	{"m^0", "the power of a unit is a whole number from 1 to 9", `Write the power as in "m²", "m2" or "m^2".`, 1, 2},
	{"m12", "the power of a unit is a whole number from 1 to 9", `Write the power as in "m²", "m2" or "m^2".`, 1, 2},
	{"m^", "the power of a unit is a whole number from 1 to 9", `Write the power as in "m²", "m2" or "m^2".`, 1, 1},
	{"m ^2", `"^" does not belong in a unit`, `Write a power as in "m²", "m2" or "m^2".`, 2, 1},
	{"USD/EUR", "one unit holds two currencies, USD and EUR", "Write one currency; amounts in another must be converted first.", 4, 3},
	{"money·USD", "one unit holds two currencies, money and USD", "Write one currency; amounts in another must be converted first.", 6, 3},
	{"/h", "a unit is missing before the /", `Write "1/h".`, 0, 1},
	{"kg/", "a unit is missing at the end", "Name the unit, or leave the sign before it out.", 0, 3},
	{"kg//h", `a unit is missing before "/"`, "Name the unit, or leave the sign out.", 3, 1},
	{"USD/(kWh)", "a unit has no parentheses", `Write each part that divides behind a / of its own, such as "USD/kWh/year".`, 4, 1},
	{"kg 5", "a number stands where a unit belongs", `Write the unit alone, such as "kWh"; a power goes behind its unit, such as "m²".`, 3, 1},
	{"m·m·m·m·m·m·m·m·m", "the unit is too long", "Join at most 8 units with small powers.", 0, 17},
	{"m³/L⁹/L⁹/L⁹/L⁹/L⁹", "the unit is too long", "Join at most 8 units with small powers.", 0, 17},
	{"k\x1bg", "there is no unit \"k\ufffdg\"", `Write "kg".`, 0, 3},
}

func TestParseErrors(t *testing.T) {
	for _, c := range parseErrorTests {
		_, err := Parse(c.in)
		checkError(t, c.in, err, Error{Text: c.text, Mend: c.mend, Offset: c.at, Len: c.n})
	}
}

func checkError(t *testing.T, in string, err error, want Error) {
	t.Helper()
	var e *Error
	if !errors.As(err, &e) {
		t.Errorf("%q: no error, want %q", in, want.Text)
		return
	}
	if e.Error() != want.Text || e.Mend != want.Mend || e.Offset != want.Offset || e.Len != want.Len {
		t.Errorf("%q:\n got %s | %s | %d, %d\nwant %s | %s | %d, %d", in,
			e.Text, e.Mend, e.Offset, e.Len, want.Text, want.Mend, want.Offset, want.Len)
	}
}

// Every word that people write for a unit leads to a unit, and is none itself.
func TestSlips(t *testing.T) {
	for word, right := range slips {
		if _, err := Parse(right); err != nil {
			t.Errorf("%q is mended to %q: %v", word, right, err)
		}
		if u, ok := lookUp(word); ok {
			t.Errorf("%q is a unit, %s", word, u.Name)
		}
		u, ok := Word(word)
		if short := len(word) == 1 && word >= "a" && word <= "z"; ok == short || ok && u.String() != right {
			t.Errorf("%q means %q, want %q", word, u.Name, right)
		}
	}
}

// A word means the same in the header of a recording as where it is mended.
func TestWord(t *testing.T) {
	for word, want := range map[string]string{"Amp-hours": "Ah", "Watt-hours.": "Wh", "kilowatt hours": "kWh", "Sec.": "s", "watt-second": "", "m": "", "": ""} {
		u, ok := Word(word)
		if ok != (want != "") || u.String() != want {
			t.Errorf("%q means %q, want %q", word, u.Name, want)
		}
		if want != "" && known(word) != want {
			t.Errorf("%q is mended to %q, want %q", word, known(word), want)
		}
	}
}

// A unit whose case is wrong gets its right spelling, unless another unit is
// spelt so.
func TestCaseSlips(t *testing.T) {
	for _, name := range unitNames {
		u, _ := lookUp(name)
		for _, wrong := range []string{strings.ToLower(name), strings.ToUpper(name)} {
			if _, ok := lookUp(wrong); ok {
				continue
			}
			got := known(wrong)
			same := slices.ContainsFunc(unitNames, func(n string) bool {
				v, _ := lookUp(n)
				return strings.EqualFold(n, name) && v.Name == got
			})
			if got != u.Name && !same && slips[strings.ToLower(wrong)] != got {
				t.Errorf("%q is taken for %q, want %q", wrong, got, u.Name)
			}
		}
	}
}
