package recording

import "strings"

// delimiters in the order in which they are believed: a comma may be a decimal
// sign, a semicolon and a tab hardly ever stand in numbers.
var delimiters = []rune{'\t', ';', ','}

// forms of time in the order of Source's documentation.
var forms = []TimeForm{Number, YearFirst, DayFirst, MonthFirst, Clock, HourMinute, MinuteSecond}

// decimalSign finds the decimal sign of numbers: 0 where both occur, '.' where
// none does.
func decimalSign(cells []string) byte {
	points, commas := 0, 0
	for _, s := range cells {
		s = trim(s)
		if _, ok := number(s, '.'); ok && strings.Contains(s, ".") {
			points++
		}
		if _, ok := number(s, ','); ok && strings.Contains(s, ",") {
			commas++
		}
	}
	switch {
	case commas == 0:
		return '.'
	case points == 0:
		return ','
	}
	return 0
}

// grouped reports whether all commas in numbers stand where those that part thousands
// do.
func grouped(cells []string) bool {
	for _, s := range cells {
		if _, ok := number(s, ','); !ok {
			continue
		}
		before, behind, found := strings.Cut(strings.TrimLeft(trim(s), "+-"), ",")
		if found && (len(behind) != 3 || len(before) == 0 || len(before) > 3 || before[0] == '0') {
			return false
		}
	}
	return true
}

// timeForms are the forms in which most of the times can be read, and more than in
// any other form. dates are the cells of the date where it has its own column.
func timeForms(times, dates []string, point byte) []TimeForm {
	var best []TimeForm
	most := 0
	for _, form := range forms {
		n := votes(form, times, dates, point)
		switch {
		case n == 0 || n < most:
		case n > most:
			best, most = []TimeForm{form}, n
		default:
			best = append(best, form)
		}
	}
	if 2*most <= len(times) {
		return nil
	}
	return settle(best, times, dates)
}

// votes counts the times that can be read in a form.
func votes(form TimeForm, times, dates []string, point byte) (n int) {
	dated := form == YearFirst || form == DayFirst || form == MonthFirst
	if dates != nil && !dated {
		return 0
	}
	for i, s := range times {
		c := clock{form: form, per: 1, point: point}
		date := ""
		if dates != nil {
			if date = dates[i]; date == "" {
				continue
			}
		}
		if _, ok := c.read(s, date); ok {
			n++
		}
	}
	return n
}

// settle decides between forms that fit equally well where the writing tells: numbers
// that are all a date and a time without signs between are that, a
// date with points has the day first (DIN 5008), and two parts with decimals are
// minutes and seconds, as are two parts of which the first goes beyond 23.
func settle(best []TimeForm, times, dates []string) []TimeForm {
	if len(best) != 2 {
		return best
	}
	if best[0] == Number {
		return best[1:]
	}
	if best[0] == DayFirst {
		sample := times
		if dates != nil {
			sample = dates
		}
		for _, s := range sample {
			if strings.Contains(strings.SplitN(trim(s), " ", 2)[0], ".") {
				return best[:1]
			}
		}
		return best
	}
	for _, s := range times {
		if n, _ := digitsOf(trim(s)); n > 23 {
			return best[1:]
		}
	}
	return best
}
