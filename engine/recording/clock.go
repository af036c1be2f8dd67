package recording

import (
	"math"
	"math/bits"
	"strings"
)

const (
	second = int64(1e9)
	minute = 60 * second
	hour   = 60 * minute
	day    = 24 * hour
)

// clock reads times of one form.
type clock struct {
	form  TimeForm
	per   uint64 // nanoseconds in a unit, where times are numbers
	point byte   // of numbers; a time of day may have either sign
	zoned int8   // 1 with, -1 without a zone, 0 while no row has been read
}

// read is the time of a cell in nanoseconds: since 1970 for a date (UTC where the
// zone is written), since midnight or the start otherwise. date is the cell of
// the date where that has a column of its own.
func (c *clock) read(s, date string) (int64, bool) {
	s = trim(s)
	switch c.form {
	case Number:
		return c.count(s)
	case Clock, HourMinute, MinuteSecond:
		t, rest, ok := timeOfDay(s, c.form)
		if !ok && c.form == Clock {
			return dayCount(s)
		}
		return t, ok && rest == ""
	}
	if date != "" {
		days, rest, ok := c.anyDate(trim(date))
		if !ok || rest != "" {
			return 0, false
		}
		return c.daytime(days, s)
	}
	days, rest, ok := c.anyDate(s)
	if !ok {
		return 0, false
	}
	if rest == "" { // eight digits alone may be any number
		return days * day, c.sameZone(false) && signed(s)
	}
	switch k := rest[0]; {
	case k == ' ' || k == 'T' || k == 't':
		rest = strings.TrimLeft(rest[1:], " ")
	case k-'0' > 9: // hhmmss may follow eight digits at once
		return 0, false
	}
	return c.daytime(days, rest)
}

// signed reports whether a date has more than digits.
func signed(s string) bool {
	_, n := digitsOf(s)
	return n < len(s)
}

// anyDate reads the date that s starts with, in numbers, with the name of its month, or
// without signs between, and gives the days since 1970 and what follows.
func (c *clock) anyDate(s string) (days int64, rest string, ok bool) {
	if days, rest, ok = c.date(s); ok {
		return days, rest, true
	}
	if days, rest, ok = c.namedDate(s); ok || c.form != YearFirst {
		return days, rest, ok
	}
	return compactDate(s)
}

// daytime is a day with a time of day that may have a zone.
func (c *clock) daytime(days int64, s string) (int64, bool) {
	t, rest, ok := timeOfDay(s, Recognised)
	if !ok && c.form == YearFirst {
		t, rest, ok = compactTime(s)
	}
	if !ok || t > day {
		return 0, false
	}
	rest = trim(rest)
	if rest == "" {
		return days*day + t, c.sameZone(false)
	}
	offset, ok := zone(rest)
	if ok && !c.sameZone(true) {
		return days*day + t, false // as the clock on the wall, for whom that is enough
	}
	return days*day + t - offset, ok
}

// sameZone reports whether a time has a zone as those before it have one: times
// with and without a zone cannot be compared.
func (c *clock) sameZone(has bool) bool {
	z := int8(-1)
	if has {
		z = 1
	}
	if c.zoned == 0 {
		c.zoned = z
	}
	return c.zoned == z
}

// count is a number of units in nanoseconds, rounded once.
func (c *clock) count(s string) (int64, bool) {
	digits, places, negative, ok := scan(s, c.point)
	if !ok {
		v, ok := longNumber(s, c.point)
		v = math.Round(v * float64(c.per))
		return int64(v), ok && math.Abs(v) < 1<<62
	}
	hi, lo := bits.Mul64(digits, c.per)
	ten := uint64(pow10[places])
	lo, carry := bits.Add64(lo, ten/2, 0)
	if hi += carry; hi >= ten {
		return 0, false
	}
	q, _ := bits.Div64(hi, lo, ten)
	if q >= 1<<62 {
		return 0, false
	}
	if negative {
		return -int64(q), true
	}
	return int64(q), true
}

// digitsOf reads the whole number that s starts with, of at most 9 digits.
func digitsOf(s string) (n int64, length int) {
	for length < len(s) && length < 10 && s[length]-'0' <= 9 {
		n = n*10 + int64(s[length]-'0')
		length++
	}
	return n, length
}

// date reads the date that s starts with, and gives the days since 1970 and what
// follows.
func (c *clock) date(s string) (days int64, rest string, ok bool) {
	a, na := digitsOf(s)
	if na == 0 || na >= len(s) || s[na] != '-' && s[na] != '.' && s[na] != '/' {
		return 0, "", false
	}
	sep := s[na]
	s = s[na+1:]
	b, nb := digitsOf(s)
	if nb == 0 || nb > 2 || nb >= len(s) || s[nb] != sep {
		return 0, "", false
	}
	s = s[nb+1:]
	d, nd := digitsOf(s)
	if nd == 0 {
		return 0, "", false
	}
	rest = s[nd:]
	switch c.form {
	case YearFirst:
		ok = na == 4 && nd <= 2
	case DayFirst:
		a, d, ok = d, a, na <= 2
	case MonthFirst:
		a, b, d, ok = d, a, b, na <= 2
	}
	if c.form != YearFirst {
		na = nd
	}
	a, inside := fullYear(a, na)
	if !ok || !inside || b < 1 || b > 12 || d < 1 || d > monthDays(a, b) {
		return 0, "", false
	}
	return daysSince(a, b, d), rest, true
}

// monthDays is the number of days of a month in the Gregorian calendar.
func monthDays(year, month int64) int64 {
	switch {
	case month == 2 && year%4 == 0 && (year%100 != 0 || year%400 == 0):
		return 29
	case month == 2:
		return 28
	case month == 4 || month == 6 || month == 9 || month == 11:
		return 30
	}
	return 31
}

// daysSince counts the days from 1970-01-01. Years start in March here, so that
// the odd day comes last; 153 days are five months from then on.
func daysSince(year, month, d int64) int64 {
	if month -= 3; month < 0 {
		month += 12
		year--
	}
	return year*365 + year/4 - year/100 + year/400 + (153*month+2)/5 + d - 719469
}

// timeOfDay reads h:mm, h:mm:ss or mm:ss, and gives what follows. The form says
// what two parts mean: hours and minutes, unless it is mm:ss. A form without date
// lets the first part be large.
func timeOfDay(s string, form TimeForm) (t int64, rest string, ok bool) {
	a, n := digitsOf(s)
	if n == 0 || n > 6 || n >= len(s) || s[n] != ':' {
		return 0, "", false
	}
	s = s[n+1:]
	b, n := digitsOf(s)
	if n != 2 || b > 59 {
		return 0, "", false
	}
	s = s[n:]
	t = a*hour + b*minute
	if form == MinuteSecond {
		t = a*minute + b*second
	} else if len(s) > 0 && s[0] == ':' {
		c, n := digitsOf(s[1:])
		if n != 2 || c > 60 || form == HourMinute {
			return 0, "", false
		}
		t += c * second
		s = s[1+n:]
	} else if form == Clock {
		return 0, "", false
	} else {
		return half(t, s) // no decimals of a minute
	}
	if len(s) > 0 && (s[0] == '.' || s[0] == ',') {
		part, n := fraction(s[1:])
		if n == 0 {
			return 0, "", false
		}
		t += part
		s = s[1+n:]
	}
	return half(t, s)
}

// fraction reads decimals of a second; what is behind the ninth is dropped.
func fraction(s string) (nanos int64, length int) {
	scale := second
	for length < len(s) && s[length]-'0' <= 9 {
		scale /= 10
		nanos += int64(s[length]-'0') * scale
		length++
	}
	return nanos, length
}

// half heeds AM and PM behind a time of day.
func half(t int64, s string) (int64, string, bool) {
	mark := strings.TrimLeft(s, " ")
	if len(mark) < 2 || mark[1]|0x20 != 'm' || mark[0]|0x20 != 'a' && mark[0]|0x20 != 'p' {
		return t, s, true
	}
	if t < hour || t >= 13*hour {
		return 0, "", false
	}
	t %= 12 * hour
	if mark[0]|0x20 == 'p' {
		t += 12 * hour
	}
	return t, mark[2:], true
}

// zone reads Z, UTC, GMT, +hh, +hhmm or +hh:mm as what the clock is ahead of UTC.
func zone(s string) (int64, bool) {
	switch s {
	case "Z", "z", "UTC", "GMT":
		return 0, true
	}
	if len(s) < 3 || s[0] != '+' && s[0] != '-' {
		return 0, false
	}
	h, n := digitsOf(s[1:])
	rest := strings.TrimPrefix(s[1+n:], ":")
	m := int64(0)
	switch {
	case n == 4 && rest == "":
		h, m = h/100, h%100
	case n == 2 && len(rest) == 2:
		if m, n = digitsOf(rest); n != 2 {
			return 0, false
		}
	case n != 2 || rest != "":
		return 0, false
	}
	if h > 15 || m > 59 {
		return 0, false
	}
	t := h*hour + m*minute
	if s[0] == '-' {
		t = -t
	}
	return t, true
}
