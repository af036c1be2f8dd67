package unit

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

const (
	hugest = 1e15 // from here on numbers are written with an exponent
	finest = 1e-4 // below, too, where the decimals are chosen by size
	whole  = 1e-12
)

// Format writes a number with thousands separated by commas and the given
// decimals. With decimals -1 they follow from the size, three digits at least:
// 1,935 and 91.7 and 3.69 and 0.321; a whole number has none. Very large
// numbers, and with decimals -1 very small ones, have an exponent. NaN reads
// "no value".
func Format(v float64, decimals int) string {
	size := math.Abs(v)
	switch {
	case math.IsNaN(v):
		return "no value"
	case math.IsInf(v, 0):
		return "infinite"
	case v == 0 && decimals < 0:
		return "0"
	case size >= hugest, decimals < 0 && size < finest:
		return exponent(v)
	case decimals < 0 && isWhole(v):
		decimals = 0
	case decimals < 0:
		decimals = threeDigits(v)
	}
	text := fixed(size, decimals)
	if v < 0 && strings.Trim(text, "0.") != "" {
		return "-" + separate(text)
	}
	return separate(text)
}

// fixed rounds to decimals, halves away from zero as people and spreadsheets do:
// 232.5 is 233 and 1.005 is 1.01, though the nearest binary number lies below.
func fixed(size float64, decimals int) string {
	shown, _ := strconv.ParseFloat(strconv.FormatFloat(size, 'g', 15, 64), 64)
	_, fraction, _ := strings.Cut(strconv.FormatFloat(shown, 'f', -1, 64), ".")
	if len(fraction) == decimals+1 && fraction[decimals] == '5' {
		shown *= 1 + 1e-15 // the smallest step up that is sure to be one
	}
	return strconv.FormatFloat(shown, 'f', decimals, 64)
}

// isWhole reports whether a number is whole but for rounding.
func isWhole(v float64) bool {
	near := math.Round(v)
	return v == near || near != 0 && math.Abs(v-near) <= whole*math.Abs(v)
}

// threeDigits is how many decimals show three digits of a number. What counts
// is the rounded number: 9.995 and 9.996 are 10.0.
func threeDigits(v float64) int {
	if v == 0 {
		return 2
	}
	return max(0, 2-int(math.Floor(math.Log10(math.Abs(v)/0.9995)+whole)))
}

// exponent writes 1.23e18 and 4.5e-7.
func exponent(v float64) string {
	digits, exp, _ := strings.Cut(strconv.FormatFloat(v, 'e', 2, 64), "e")
	if strings.Contains(digits, ".") {
		digits = strings.TrimRight(strings.TrimRight(digits, "0"), ".")
	}
	n, _ := strconv.Atoi(exp)
	return digits + "e" + strconv.Itoa(n)
}

// separate puts commas between thousands.
func separate(text string) string {
	digits, fraction, _ := strings.Cut(text, ".")
	for i := len(digits) - 3; i > 0; i -= 3 {
		digits = digits[:i] + "," + digits[i:]
	}
	if fraction != "" {
		digits += "." + fraction
	}
	return digits
}

// Show writes a value given in base units in the unit, the unit behind it:
// "2,764.8 Wh", "80 %", "0.321 USD/kWh". The currency takes the place of the
// word money; decimals are those of Format.
func (u Unit) Show(base float64, decimals int, currency string) string {
	number := Format(u.FromBase(base), decimals)
	name := u.In(currency)
	switch {
	case name == "" || math.IsNaN(base):
		return number
	case counted[name] && number != "1":
		name += "s"
	case name == "cycles" && number == "1":
		name = "cycle"
	}
	return number + " " + strings.TrimPrefix(name, "1")
}

// Counted is how many there are, before the words for one or for any other number.
func Counted(n int, one, several string) string {
	if n == 1 {
		several = one
	}
	return Format(float64(n), 0) + " " + several
}

// In is the name of the unit with the currency in the place of the word money.
func (u Unit) In(currency string) string {
	if currency == "" || u.Currency != "" {
		return u.Name
	}
	return strings.Replace(u.Name, "money", currency, 1)
}

var moneyWord = regexp.MustCompile(`\bmoney\b`)

// InCurrency puts the currency in the place of the word money in a value as it
// is written, such as a limit of the rules.
func InCurrency(written, currency string) string {
	if currency == "" {
		return written
	}
	return moneyWord.ReplaceAllLiteralString(written, currency)
}

// DecimalsFor is how many decimals a row of figures shares: as many as its
// largest one has alone, and up to two more where they tell figures apart that
// differ, or show one that would read as 0. Whole numbers need none. Values
// are in the unit shown; those that are not finite do not count.
func DecimalsFor(values []float64) int {
	largest, allWhole := 0.0, true
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			continue
		}
		allWhole = allWhole && isWhole(v)
		largest = math.Max(largest, math.Abs(v))
	}
	if allWhole {
		return 0
	}
	const most = 9
	d := min(most, threeDigits(largest))
	figures := make([]figure, len(values))
	for i, v := range values {
		figures[i] = figureOf(v)
	}
	wanted := distinct(figures, d+2)
	for distinct(figures, d) != wanted {
		d++
	}
	return d
}

// DecimalsTogether is how many decimals the figures of a sentence share: as
// many as declared, or as the largest that is not whole has alone, and more
// where figures that differ would read alike or one would read as 0. Values are
// in the unit shown.
func DecimalsTogether(values []float64, declared int) int {
	const most = 15
	d, broken, largest := max(declared, 0), 0, 0.0
	for _, v := range values {
		if !math.IsNaN(v) && !math.IsInf(v, 0) && !isWhole(v) {
			broken++
			largest = math.Max(largest, math.Abs(v))
		}
	}
	if broken > 1 || broken == 1 && declared < 0 {
		d = max(d, threeDigits(largest))
	}
	needed, margin := d, 0.0 // what differs by less is equal, rounding aside
	for _, v := range values {
		if !math.IsNaN(v) {
			margin = math.Max(margin, whole*math.Abs(v))
		}
	}
	for i, a := range values {
		if math.Abs(a) > margin && fixed(math.Abs(a), d) == fixed(0, d) {
			needed = max(needed, firstDigit(a))
		}
		for _, b := range values[:i] {
			if math.Abs(a-b) > margin && Format(a, d) == Format(b, d) {
				needed = max(needed, firstDigit(a-b))
			}
		}
	}
	return min(needed, most)
}

// firstDigit is how many decimals a number below 1 has up to its first digit.
// The margin lets 0.0999999999 of a difference count as 0.1.
func firstDigit(v float64) int { return -int(math.Floor(math.Log10(math.Abs(v)) + 1e-9)) }

// distinct is how many different figures there are with so many decimals, leaving out
// those that wrongly read as 0, and those that read alike with any decimals.
func distinct(figures []figure, decimals int) int {
	seen := map[figure]bool{}
	for _, f := range figures {
		if r := f.rounded(decimals); r.power != unread && (f.n == 0 || r.n != 0) {
			seen[r] = true
		}
	}
	return len(seen)
}

// figure is a number in decimals, n * 10^power, of which n does not end in 0.
type figure struct {
	n     int64
	power int
}

// unread is the power of what is no number, or so large that it reads alike with any
// decimals.
const unread = math.MaxInt

// figureOf is the number with the 15 digits that figures have at most.
func figureOf(v float64) figure {
	if math.IsNaN(v) || math.Abs(v) >= hugest {
		return figure{power: unread}
	}
	const digits = 15
	var room [32]byte
	var f figure
	at := 0
	text := strconv.AppendFloat(room[:0], math.Abs(v), 'e', digits-1, 64)
	for ; text[at] != 'e'; at++ {
		if text[at] != '.' {
			f.n = 10*f.n + int64(text[at]-'0')
		}
	}
	for _, c := range text[at+2:] {
		f.power = 10*f.power + int(c-'0')
	}
	if text[at+1] == '-' {
		f.power = -f.power
	}
	f.power -= digits - 1
	if v < 0 {
		f.n = -f.n
	}
	return f.shortest()
}

// rounded is what a figure reads as with so many decimals: as fixed has it, but without
// a text.
func (f figure) rounded(decimals int) figure {
	const mostDigits = 15
	over := -decimals - f.power
	switch {
	case f.power == unread || over <= 0:
		return f
	case over > mostDigits:
		return figure{}
	}
	p := int64(1)
	for range over {
		p *= 10
	}
	half := p / 2
	if f.n < 0 {
		half = -half
	}
	return figure{(f.n + half) / p, -decimals}.shortest()
}

// shortest is the figure without zeros at its end.
func (f figure) shortest() figure {
	if f.n == 0 {
		return figure{}
	}
	for f.n%10 == 0 {
		f.n, f.power = f.n/10, f.power+1
	}
	return f
}
