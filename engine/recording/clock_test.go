package recording

import (
	"testing"
	"time"
)

func TestClock(t *testing.T) {
	at := func(s string) int64 {
		v, err := time.Parse("2006-01-02 15:04:05.999999999", s)
		if err != nil {
			t.Fatal(err)
		}
		return v.UnixNano()
	}
	s, m, h := second, minute, hour
	for _, c := range []struct {
		form TimeForm
		text string
		want int64
	}{
		{YearFirst, "2026-03-02 10:15:30.25", at("2026-03-02 10:15:30.25")},
		{YearFirst, "2026-03-02T10:15:30,25", at("2026-03-02 10:15:30.25")},
		{YearFirst, " 2026-03-02  10:15", at("2026-03-02 10:15:00")},
		{YearFirst, "2026/3/2 0:15", at("2026-03-02 00:15:00")},
		{YearFirst, "2026-03-02", at("2026-03-02 00:00:00")},
		{YearFirst, "2026-03-02T24:00:00", at("2026-03-03 00:00:00")},
		{YearFirst, "2026-03-02T10:15:30Z", at("2026-03-02 10:15:30")},
		{YearFirst, "2026-03-02T10:15:30+01:00", at("2026-03-02 09:15:30")},
		{YearFirst, "2026-03-02 10:15:30.5 -0530", at("2026-03-02 15:45:30.5")},
		{YearFirst, "2026-03-02T10:15:30+02", at("2026-03-02 08:15:30")},
		{YearFirst, "2024-02-29", at("2024-02-29 00:00:00")},
		{YearFirst, "1969-12-31 23:59:59", -s},
		{YearFirst, "2026-12-31 23:59:60", at("2027-01-01 00:00:00")},
		{YearFirst, "2026-03-02 10:15:30.1234567899", at("2026-03-02 10:15:30.123456789")},
		{YearFirst, "2026-03-02 10:15:30 GMT", at("2026-03-02 10:15:30")},
		{YearFirst, "20260302T101530", at("2026-03-02 10:15:30")},
		{YearFirst, "20260302T1015Z", at("2026-03-02 10:15:00")},
		{YearFirst, "20260302101530.25", at("2026-03-02 10:15:30.25")},
		{YearFirst, "2026-Mar-02 10:15", at("2026-03-02 10:15:00")},
		{DayFirst, "02-Mar-2026 10:15:30", at("2026-03-02 10:15:30")},
		{DayFirst, "2 march 26 10:15 PM", at("2026-03-02 22:15:00")},
		{DayFirst, "Mon, 02 Mar 2026 10:15:30 GMT", at("2026-03-02 10:15:30")},
		{MonthFirst, "Mar 02 2026 10:15:30", at("2026-03-02 10:15:30")},
		{MonthFirst, "March 2, 2026 10:15", at("2026-03-02 10:15:00")},
		{MonthFirst, "Mon Mar  2 10:15:30 2026", at("2026-03-02 10:15:30")},
		{MonthFirst, "Mon Mar  2 10:15:30 UTC 2026", at("2026-03-02 10:15:30")},
		{Clock, "1d 2:03:04", 26*h + 3*m + 4*s},
		{Clock, "0 days 02:03:04.5", 2*h + 3*m + 4*s + s/2},
		{Clock, "1 day, 2:03:04", 26*h + 3*m + 4*s},
		{Clock, "10.02:03:04", 242*h + 3*m + 4*s},
		{DayFirst, "02.03.2026 10:15:30", at("2026-03-02 10:15:30")},
		{DayFirst, "2.3.26 10:15", at("2026-03-02 10:15:00")},
		{DayFirst, "02/03/2026 10:15", at("2026-03-02 10:15:00")},
		{MonthFirst, "03/02/2026 10:15:30 PM", at("2026-03-02 22:15:30")},
		{MonthFirst, "3/2/2026 12:00 am", at("2026-03-02 00:00:00")},
		{MonthFirst, "3/2/2026 12:00PM", at("2026-03-02 12:00:00")},
		{Clock, "0:00:00", 0},
		{Clock, "30:15:07.5", 30*h + 15*m + 7*s + s/2},
		{HourMinute, "10:15", 10*h + 15*m},
		{MinuteSecond, "75:07.25", 75*m + 7*s + s/4},
	} {
		k := clock{form: c.form}
		if got, ok := k.read(c.text, ""); !ok || got != c.want {
			t.Errorf("%s %q: %d %v, want %d", c.form, c.text, got, ok, c.want)
		}
	}
	for form, texts := range map[TimeForm][]string{
		YearFirst: {"", "2026", "2026-03", "2026-13-01", "2026-02-29", "2026-03-02x", "2026-03-02 10", "2026-03-02 25:00",
			"2026-03-02 10:60", "2026-03/02", "02-03-2026", "2026-03-02 10:15:30+1", "2026-03-02 10:15:30 CET",
			"2026-03-02 10:15.5", "2026-03-02 10:15:", "2026-03-02 10:15:30.", "99999-01-01", "2026-03-02 13:00 PM",
			"20260302", "20261302T101530", "20260302T101", "2026030210", "20260302256000", "26-Mar-02"},
		DayFirst:     {"2026-03-02", "31.04.2026", "02.03.026", "32.01.2026", "31-Apr-2026", "02-Mar-026", "02-Mrz-2026", "Mar 02 2026"},
		MonthFirst:   {"13/01/2026", "2/30/2026", "02-Mar-2026", "Mar 2 10:15:30", "Mar 2 10:15:30 26", "Mon 2026"},
		Clock:        {"10:15", "10:15:61", "1:2:3", "::", "10:15:30 x", "-1:00:00", "1234567:00:00", "1d 24:00:00", "1 2:03:04", "1d", "1.2.03:04:05", "999999d 0:00:00"},
		HourMinute:   {"10:15:30", "10"},
		MinuteSecond: {"10:15:30", "10:75"},
		Number:       {"", "x", "1e40", "99999999999999999"},
	} {
		for _, text := range texts {
			k := clock{form: form, per: uint64(second), point: '.'}
			if got, ok := k.read(text, ""); ok {
				t.Errorf("%s %q is read as %d", form, text, got)
			}
		}
	}
}

// Every day of some centuries, against package time.
func TestDays(t *testing.T) {
	for v := time.Date(1700, 1, 1, 0, 0, 0, 0, time.UTC); v.Year() < 2250; v = v.AddDate(0, 0, 1) {
		k := clock{form: YearFirst}
		got, ok := k.read(v.Format("2006-01-02"), "")
		if !ok || got != v.UnixNano() {
			t.Fatalf("%s: %d %v, want %d", v.Format(time.DateOnly), got, ok, v.UnixNano())
		}
	}
}

// Numbers keep their nanoseconds, whatever they count.
func TestCount(t *testing.T) {
	for _, c := range []struct {
		per  int64
		text string
		want int64
	}{
		{second, "1700000000.123456789", 1700000000123456789},
		{second, "-0.1", -100000000},
		{second, "1e3", 1000 * second},
		{hour, "0.25", 15 * minute},
		{hour, "0.0002777777777778", second},
		{second / 1000, "1700000000123.5", 1700000000123500000},
		{day, "45000.5", 45000*day + 12*hour},
	} {
		k := clock{form: Number, per: uint64(c.per), point: '.'}
		if got, ok := k.read(c.text, ""); !ok || got != c.want {
			t.Errorf("%q of %d ns: %d %v, want %d", c.text, c.per, got, ok, c.want)
		}
	}
}

func TestTimeForms(t *testing.T) {
	for _, c := range []struct {
		times []string
		want  []TimeForm
	}{
		{[]string{"0", "1.5"}, []TimeForm{Number}},
		{[]string{"2026-03-02"}, []TimeForm{YearFirst}},
		{[]string{"02.03.2026 10:15"}, []TimeForm{DayFirst}},
		{[]string{"02/03/2026", "13/03/2026"}, []TimeForm{DayFirst}},
		{[]string{"02/03/2026", "03/13/2026"}, []TimeForm{MonthFirst}},
		{[]string{"02/03/2026"}, []TimeForm{DayFirst, MonthFirst}},
		{[]string{"02-Mar-26"}, []TimeForm{DayFirst}},
		{[]string{"20260302101530"}, []TimeForm{YearFirst}},
		{[]string{"20260302101570"}, []TimeForm{Number}},
		{[]string{"20260302"}, []TimeForm{Number}},
		{[]string{"10:15:30"}, []TimeForm{Clock}},
		{[]string{"10:15", "10:16"}, []TimeForm{HourMinute, MinuteSecond}},
		{[]string{"10:15", "30:16"}, []TimeForm{MinuteSecond}},
		{[]string{"10:15.5", "10:16.0"}, []TimeForm{MinuteSecond}},
		{[]string{"noon", "10:15:30", "later"}, nil},
		{nil, nil},
	} {
		got := timeForms(c.times, nil, '.')
		if len(got) != len(c.want) {
			t.Errorf("%q: %v, want %v", c.times, got, c.want)
			continue
		}
		for i := range got {
			if got[i] != c.want[i] {
				t.Errorf("%q: %v, want %v", c.times, got, c.want)
			}
		}
	}
}
