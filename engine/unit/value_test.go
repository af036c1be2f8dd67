package unit

import (
	"math"
	"strings"
	"testing"
)

var valueTests = []struct {
	in   string
	v    float64
	unit string
	base float64
}{
	{"80 lb", 80, "lb", 36.2873896}, // 80 × 0.453 592 37, NIST SP 811
	{"11.2 in", 11.2, "in", 0.28448},
	{"0.31 USD/kWh", 0.31, "USD/kWh", 0.00031},
	{"80%", 80, "%", 0.8},
	{"80 %", 80, "%", 0.8},
	{"1e3 W", 1000, "W", 1000},
	{"1E-3 kW", 0.001, "kW", 1},
	{"2e3W", 2000, "W", 2000},
	{"-5 °C", -5, "°C", -5},
	{"−5 °C", -5, "°C", -5},
	{"1e−3 V", 0.001, "V", 0.001},
	{"+5 V", 5, "V", 5},
	{"12", 12, "", 12},
	{" 12 ", 12, "", 12},
	{"12\u00a0kg", 12, "kg", 12},
	{".5 kg", 0.5, "kg", 0.5},
	{"5. kg", 5, "kg", 5},
	{"5kg", 5, "kg", 5},
	{"-0 V", 0, "V", 0},
	{"2 1/day", 2, "1/day", 2.0 / 24},
	{"2 /day", 2, "1/day", 2.0 / 24},
	{"2/day", 2, "1/day", 2.0 / 24},
	{"3 h/day", 3, "h/day", 0.125},
	{"1e-400 V", 0, "V", 0},
	{"12 years", 12, "year", 105120},
	{"77 °F", 77, "°F", 25},
}

func TestParseValue(t *testing.T) {
	for _, c := range valueTests {
		v, u, err := ParseValue(c.in)
		if err != nil || v != c.v || u.Name != c.unit || !closeTo(u.ToBase(v), c.base, 1e-15) || math.Signbit(v) && v == 0 {
			t.Errorf("%q reads %v %q (base %v), %v, want %v %q (base %v)", c.in, v, u.Name, u.ToBase(v), err, c.v, c.unit, c.base)
		}
	}
}

const valueForm = `Write a number and its unit, such as "5 kg".`

var valueErrorTests = []struct {
	in, text, mend string
	at, n          int
}{
	{"", "nothing is written", valueForm, 0, 0},
	{"  ", "nothing is written", valueForm, 0, 2},
	{"much", `"much" does not begin with a number`, valueForm, 0, 4},
	{"lb", `the number is missing before "lb"`, `Write a number before the unit, such as "5 lb".`, 0, 2},
	{"hours", `the number is missing before "hours"`, `Write a number before the unit, such as "5 h".`, 0, 5},
	{"-", `"-" does not begin with a number`, valueForm, 0, 1},
	{".", `"." does not begin with a number`, valueForm, 0, 1},
	{"inf", `"inf" is not a number that can be reckoned with`, "Write an ordinary number.", 0, 3},
	{"-Infinity", `"-Infinity" is not a number that can be reckoned with`, "Write an ordinary number.", 0, 9},
	{"NaN", `"NaN" is not a number that can be reckoned with`, "Write an ordinary number.", 0, 3},
	{"USD 5", "the unit stands before the number", `Write "5 USD".`, 0, 5},
	{"€5", "the unit stands before the number", `Write "5 EUR".`, 0, 2},
	{"-$5", "the unit stands before the number", `Write "-5 USD".`, 0, 3},
	{"USD 5/kWh", "the unit stands before the number", `Write "5 USD/kWh".`, 0, 9},
	{"about 5 kg", `"about 5 kg" does not begin with a number`, valueForm, 0, 10},
	{"1,000 W", `"1,000" is written with a comma; numbers have no thousands separators, and a point for decimals`,
		`Write "1000 W", or "1.000 W" if the comma stands for a decimal point.`, 0, 5},
	{"1,000,000 W", `"1,000,000" is written with a comma; numbers have no thousands separators, and a point for decimals`, `Write "1000000 W".`, 0, 9},
	{"-1,234.5 W", `"1,234.5" is written with a comma; numbers have no thousands separators, and a point for decimals`, `Write "-1234.5 W".`, 1, 7},
	{"3,5 kW", `"3,5" is written with a decimal comma; numbers have a decimal point`, `Write "3.5 kW".`, 0, 3},
	{"3,5 Kw", `"3,5" is written with a decimal comma; numbers have a decimal point`, `Write "3.5 kW".`, 0, 3},
	{"1.234,5 W", `"1.234,5" is written with a decimal comma; numbers have a decimal point`, `Write "1234.5 W".`, 0, 7},
	{"1 000 W", `"1 000" is grouped by thousands; numbers have no thousands separators`, `Write "1000 W".`, 0, 5},
	{"1\u202f000.5 W", `"1 000.5" is grouped by thousands; numbers have no thousands separators`, `Write "1000.5 W".`, 0, 7},
	{"1_000 W", `"1_000" is grouped by thousands; numbers have no thousands separators`, `Write "1000 W".`, 0, 5},
	{"1'000 W", `"1'000" is grouped by thousands; numbers have no thousands separators`, `Write "1000 W".`, 0, 5},
	{"1.2.3 V", `"1.2.3" is not one number`, `Write one number and its unit, such as "1.5 in".`, 0, 5},
	{"5 1/2 in", `"5 1" is not one number`, `Write one number and its unit, such as "1.5 in".`, 0, 3},
	{"1/2 in", `"1/2" is a fraction; numbers are written with a decimal point`, `Write "0.5 in".`, 0, 3},
	{"1/0 in", `"1/0" is a fraction; numbers are written with a decimal point`, `Write the number with a decimal point, such as "0.5 in".`, 0, 3},
	{"5-10 V", `"5-10" is a range; one number belongs here`, "Write one number.", 0, 4},
	{"5 – 10 V", `"5 – 10" is a range; one number belongs here`, "Write one number.", 0, 6},
	{"1e999 V", "the number is too large", "Write a smaller number; nothing real is above 1e300.", 0, 5},
	{"1e308 kV", "the number is too large", "Write a smaller number; nothing real is above 1e300.", 0, 5},
	{"5 KWH", `there is no unit "KWH"`, `Write "5 kWh".`, 2, 3},
	{"5 KWH/Mnth", `there is no unit "KWH"`, `Write "5 kWh/month".`, 2, 3},
	{"5 $/KWH", `there is no unit "$"`, `Write "5 USD/kWh".`, 2, 1},
	{"5 ft 3 in", "a number stands where a unit belongs", `Write the unit alone, such as "kWh"; a power goes behind its unit, such as "m²".`, 5, 1},
	{`5"`, `there is no unit """`, `Write "5in".`, 1, 1},
	{"5 //day", `a unit is missing before "/"`, "Name the unit, or leave the sign out.", 3, 1},
	{"5 /", "a unit is missing at the end", "Name the unit, or leave the sign before it out.", 2, 1},
}

// Every way in which a value is refused.
func TestParseValueErrors(t *testing.T) {
	for _, c := range valueErrorTests {
		_, _, err := ParseValue(c.in)
		checkError(t, c.in, err, Error{Text: c.text, Mend: c.mend, Offset: c.at, Len: c.n})
	}
}

// Text of any length is quoted in part.
func TestLongText(t *testing.T) {
	_, _, err := ParseValue("5 " + strings.Repeat("widget", 10000))
	if e := err.(*Error); len(e.Text) > 200 || e.Len != 60000 {
		t.Errorf("%d characters marked, told in %d bytes", e.Len, len(e.Text))
	}
}
