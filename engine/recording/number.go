package recording

import (
	"math"
	"strconv"
	"strings"
)

// pow10 are the powers of ten that a float64 holds exactly.
var pow10 = [...]float64{1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11,
	1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

// scan takes a plain decimal such as -12.345 apart: its digits as a whole number,
// and how many of them stand behind the point. It is false where the text is
// anything else, or has more than 19 digits.
func scan(s string, point byte) (digits uint64, places int, negative, ok bool) {
	i := 0
	if len(s) > 0 && (s[0] == '-' || s[0] == '+') {
		negative = s[0] == '-'
		i++
	}
	start, behind := i, -1
	for ; i < len(s); i++ {
		c := s[i]
		if d := c - '0'; d <= 9 {
			digits = digits*10 + uint64(d)
			continue
		}
		if c != point || behind >= 0 {
			return 0, 0, false, false
		}
		behind = i
	}
	n := len(s) - start
	if behind >= 0 {
		places = len(s) - behind - 1
		n--
	}
	return digits, places, negative, n > 0 && n <= 19
}

// number reads a number with the given decimal sign: a plain decimal, or one with
// an exponent. The value is that of strconv.ParseFloat to the last bit: digits
// and power of ten are both exact, so the quotient is rounded once (Clinger, How
// to read floating point numbers accurately, 1990).
func number(s string, point byte) (float64, bool) {
	s = trim(s)
	digits, places, negative, ok := scan(s, point)
	if !ok || digits > 1<<53 {
		return longNumber(s, point)
	}
	v := float64(digits)
	if places > 0 {
		v /= pow10[places]
	}
	if negative {
		v = -v
	}
	return v, true
}

// longNumber reads what the fast path leaves.
func longNumber(s string, point byte) (float64, bool) {
	if s == "" || len(s) > 400 {
		return 0, false
	}
	for i := 0; i < len(s); i++ {
		c := s[i]
		if c-'0' > 9 && c != point && c != '-' && c != '+' && c != 'e' && c != 'E' {
			return 0, false
		}
	}
	if point != '.' {
		s = strings.Replace(s, string(rune(point)), ".", 1)
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil && !math.IsInf(v, 0)
}

// trim takes spaces off both ends, quickly where there are none.
func trim(s string) string {
	if n := len(s); n > 0 && s[0] > ' ' && s[0] < 0x80 && s[n-1] > ' ' && s[n-1] < 0x80 {
		return s
	}
	return strings.TrimSpace(s)
}
