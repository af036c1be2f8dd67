package recording

import "strings"

// months and weekdays in English; three letters of them do.
var (
	months   = []string{"january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december"}
	weekdays = []string{"monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"}
)

// nameOf is which of some names s begins with, counted from 1, or 0, and what follows.
func nameOf(s string, names []string) (n int64, rest string) {
	length := 0
	for length < len(s) && s[length]|0x20 >= 'a' && s[length]|0x20 <= 'z' {
		length++
	}
	word := strings.ToLower(s[:length])
	for i, name := range names {
		if word == name || len(word) == 3 && strings.HasPrefix(name, word) || word == "sept" && name == "september" {
			return int64(i + 1), s[length:]
		}
	}
	return 0, s
}

// parted takes what stands between the parts of a date with a name in it off s.
func parted(s string) string { return strings.TrimLeft(s, " ,-./") }

// namedDate reads a date whose month is a name, such as 02-Mar-2026, Mar 2, 2026 or,
// with the year behind the time of day, Mon Mar  2 10:15:30 2026. It gives what follows.
func (c *clock) namedDate(s string) (days int64, rest string, ok bool) {
	if n, behind := nameOf(s, weekdays); n > 0 {
		s = parted(behind)
	}
	var year, month, d int64
	var ny, nd int
	switch c.form {
	case YearFirst:
		year, ny = digitsOf(s)
		if month, s = nameOf(parted(s[ny:]), months); month == 0 || ny != 4 {
			return 0, "", false
		}
		s = parted(s)
		d, nd = digitsOf(s)
		s = s[nd:]
	case DayFirst:
		d, nd = digitsOf(s)
		if month, s = nameOf(parted(s[nd:]), months); month == 0 {
			return 0, "", false
		}
		s = parted(s)
		year, ny = digitsOf(s)
		s = s[ny:]
	default:
		if month, s = nameOf(s, months); month == 0 {
			return 0, "", false
		}
		s = parted(s)
		d, nd = digitsOf(s)
		s = parted(s[nd:])
		year, ny = digitsOf(s)
		if behind := s[ny:]; strings.HasPrefix(behind, ":") { // the time comes first
			at := strings.LastIndexByte(s, ' ')
			year, ny = digitsOf(s[at+1:])
			if at < 0 || at+1+ny != len(s) || ny != 4 {
				return 0, "", false
			}
			s = " " + s[:at]
		} else {
			s = behind
		}
	}
	if nd < 1 || nd > 2 {
		return 0, "", false
	}
	year, ok = fullYear(year, ny)
	if !ok || d < 1 || d > monthDays(year, month) {
		return 0, "", false
	}
	return daysSince(year, month, d), s, true
}

// fullYear is a year of four digits, or of two in this century; of 1700 to 2250.
func fullYear(year int64, digits int) (int64, bool) {
	if digits == 2 {
		return year + 2000, true
	}
	return year, digits == 4 && year >= 1700 && year <= 2250
}

// compactDate reads the date of ISO 8601 without hyphens, 20260302.
func compactDate(s string) (days int64, rest string, ok bool) {
	if len(s) < 8 {
		return 0, "", false
	}
	n, length := digitsOf(s[:8])
	year, month, d := n/10000, n/100%100, n%100
	if length != 8 || year < 1700 || year > 2250 || month < 1 || month > 12 || d < 1 || d > monthDays(year, month) {
		return 0, "", false
	}
	return daysSince(year, month, d), s[8:], true
}

// compactTime reads the time of day of ISO 8601 without colons, hhmmss or hhmm, and
// gives what follows.
func compactTime(s string) (t int64, rest string, ok bool) {
	n, length := digitsOf(s)
	switch length {
	case 4:
		n *= 100
	case 6:
	default:
		return 0, "", false
	}
	h, m, sec := n/10000, n/100%100, n%100
	if h > 24 || m > 59 || sec > 60 {
		return 0, "", false
	}
	t, s = h*hour+m*minute+sec*second, s[length:]
	if length == 6 && s != "" && (s[0] == '.' || s[0] == ',') {
		part, k := fraction(s[1:])
		if k == 0 {
			return 0, "", false
		}
		t, s = t+part, s[1+k:]
	}
	return t, s, true
}

// dayCount reads a count of days before a time of day: 0d 1:02:03, 0 days 01:02:03 or
// 0.01:02:03.
func dayCount(s string) (t int64, ok bool) {
	n, length := digitsOf(s)
	if length == 0 || length > 5 {
		return 0, false
	}
	rest := strings.TrimLeft(s[length:], " ")
	point, isPoint := strings.CutPrefix(rest, ".")
	for _, word := range []string{"days", "day", "d"} {
		if behind, found := strings.CutPrefix(rest, word); found && !isPoint {
			point, isPoint = strings.TrimLeft(behind, " ,"), true
		}
	}
	t, rest, ok = timeOfDay(point, Clock)
	return n*day + t, ok && isPoint && rest == "" && t < day
}

// dated reports whether a cell begins with the name of a month or of a weekday.
func dated(s string) bool {
	s = trim(s)
	day, _ := nameOf(s, weekdays)
	month, _ := nameOf(s, months)
	return day > 0 || month > 0
}
