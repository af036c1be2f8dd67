package recording_test

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"bankwright/engine/recording"
)

// The same values in every way of writing them give the same rows.
func TestForms(t *testing.T) {
	kilowatt, second := must("kW"), must("s")
	for name, c := range map[string]struct {
		text   string
		source recording.Source
	}{
		"comma":      {"time (s),temperature,power\n0,20.5,100\n10,20.5,300\n", recording.Source{}},
		"semicolon":  {"time (s);temperature;power\n0;20,5;100\n10;20,5;300\n", recording.Source{}},
		"tab":        {"time (s)\ttemperature\tpower\r\n0\t20,5\t100\r\n10\t20,5\t300\r\n", recording.Source{}},
		"mark":       {"\xef\xbb\xbftime (s),temperature,power\n0,20.5,100\n10,20.5,300\n", recording.Source{}},
		"quoted":     {"\"time (s)\",\"temperature\",\"power\"\n\"0\",\"20,5\",\"100\"\n\"10\",\"20,5\",\"300\"\n", recording.Source{}},
		"units":      {"TIME [min],Temperature (°F),Power / total (kW)\n0,68.9,0.1\n0.16666666666666666,68.9,0.3\n", recording.Source{Fields: map[string]recording.Field{"power": {Header: "Power / total"}}}},
		"last words": {"time_ms;Temperature F;Power/kW\n0;68,9;0,1\n10000;68,9;0,3\n", recording.Source{Fields: map[string]recording.Field{"time": {Header: "time_ms"}, "temperature": {Header: "Temperature F"}, "power": {Header: "Power/kW"}}}},
		"whole":      {"min,T_C,mW\n0,20.5,100000\n0.16666666666666666,20.5,300000\n", recording.Source{Fields: map[string]recording.Field{"time": {Header: "min"}, "temperature": {Header: "T_C"}, "power": {Header: "mW"}}}},
		"words":      {"time (Sec.),temperature (Celsius),power (Watts)\n0,20.5,100\n10,20.5,300\n", recording.Source{}},
		"word row":   {"time;temperature;power\nsec;degrees;Watts\n0;20,5;100\n10;20,5;300\n", recording.Source{}},
		"other word": {"time in s,Temperature V,Power A\n0,20.5,100\n10,20.5,300\n", recording.Source{Fields: map[string]recording.Field{"time": {Header: "time in s"}, "temperature": {Header: "Temperature V"}, "power": {Header: "Power A"}}}},
		"latin":      {"time (s);Temperature (\xb0C);power\n0;20,5;100\n10;20,5;300\n", recording.Source{}},
		"kelvin":     {"time (s);Temperature (K);power\n0;293,65;100\n10;293,65;300\n", recording.Source{}},
		"date":       {"day,time,temperature,power\n2026-03-02,10:00:00,20.5,100\n2026-03-02,10:00:10,20.5,300\n", recording.Source{Date: &recording.Field{Header: "day"}}},
		"junk":       {"Recorder \"north\" 7\n\nserial;;;\ntime;temperature;power\n10:00:00;20,5;100\n10:00:10;20,5;300\n", recording.Source{}},
		"no header":  {"0,20.5,100\n10,20.5,300\n", recording.Source{TimeUnit: second, Fields: map[string]recording.Field{"time": {Number: 1}, "temperature": {Number: 2}, "power": {Number: 3}, "meter": {Number: 9}}}},
		"numbers":    {"t (s),T,P (W)\n0,20.5,0.1\n10,20.5,0.3\n", recording.Source{Fields: map[string]recording.Field{"time": {Number: 1}, "temperature": {Number: 2}, "power": {Number: 3, Unit: &kilowatt}}}},
		"told":       {"x|time|temperature|power\n1|02/03/2026 10:00|20.5|100\n1|02/03/2026 10:00|20.5|100\n1|02/03/2026 10:00:10|20.5|300\n", recording.Source{Delimiter: '|', Decimal: '.', TimeForm: recording.DayFirst}},
		"first":      {"time (s),temperature,power\n-10,1,1\n0,20.5,100\n10,20.5,300\n", recording.Source{FirstRow: 3}},
		"two parts":  {"time,temperature,power\n10:00,20.5,100\n10:10,20.5,300\n", recording.Source{TimeForm: recording.MinuteSecond}},
		"zones":      {"time,temperature,power\n2026-10-25T02:59:55+02:00,20.5,100\n2026-10-25T02:00:05+01:00,20.5,300\n", recording.Source{}},
		"compact":    {"time,temperature,power\n20260302T100000,20.5,100\n20260302T100010,20.5,300\n", recording.Source{}},
		"digits":     {"time,temperature,power\n20260302100000,20.5,100\n20260302100010,20.5,300\n", recording.Source{}},
		"named":      {"time,temperature,power\n02-Mar-2026 10:00:00,20.5,100\n02-Mar-2026 10:00:10,20.5,300\n", recording.Source{}},
		"name first": {"time,temperature,power\nMar 02 2026 10:00:00,20.5,100\nMar 02 2026 10:00:10,20.5,300\n", recording.Source{}},
		"year last":  {"time,temperature,power\nMon Mar  2 10:00:00 2026,20.5,100\nMon Mar  2 10:00:10 2026,20.5,300\n", recording.Source{}},
		"GMT":        {"time,temperature,power\n2026-03-02 10:00:00 GMT,20.5,100\n2026-03-02 10:00:10 GMT,20.5,300\n", recording.Source{}},
		"days":       {"time,temperature,power\n0 days 23:59:55,20.5,100\n1 days 00:00:05,20.5,300\n", recording.Source{}},
		"day points": {"time,temperature,power\n0.23:59:55,20.5,100\n1.00:00:05,20.5,300\n", recording.Source{}},
		"two fields": {"day,time,temperature,power\n20260302,10:00:00,20.5,100\n20260302,10:00:10,20.5,300\n", recording.Source{Date: &recording.Field{Header: "day"}}},
		"spaces":     {" time (s) , temperature , power \n 0 , 20.5 , 100 \n 10 , 20.5 , 300 \n", recording.Source{}},
		"empty last": {"time (s);temperature;power;\n0;20.5;100;\n10;20.5;300;\n", recording.Source{}},
	} {
		t.Run(name, func(t *testing.T) {
			c.source.Reader = strings.NewReader(c.text)
			results, report := recording.Run(greenhouse, c.source, recording.Integral{Of: "power"}, recording.Mean{Of: "temperature"})
			if !report.Usable() {
				t.Fatal(told(report.Problems))
			}
			if energy := 2000. / 3600; math.Abs(results[0].Value-energy) > 1e-12 || math.Abs(results[1].Value-20.5) > 1e-12 {
				t.Errorf("%v Wh at %v °C, %s: %q", results[0].Value, results[1].Value, report.Form, told(report.Problems))
			}
		})
	}
}

// A last word of a header that is likelier a part of the name than a unit is none: times
// that are numbers then need theirs said.
func TestWordIsNoUnit(t *testing.T) {
	for header, want := range map[string]string{
		"hour of day": "", "Hour_Of_Day": "", "minute of hour": "", "test day": "", "year/month": "",
		"elapsed min": "min", "time in hours": "h", "end of test s": "s", "hour of day (min)": "min", "days": "day", "time (days)": "day",
	} {
		s := recording.Source{Fields: map[string]recording.Field{"time": {Header: header}}, Gap: 300 * time.Hour,
			Reader: strings.NewReader(header + ",temperature,power\n0,20.5,100\n1,20.5,300\n2,20.5,300\n")}
		_, report := recording.Run(greenhouse, s, recording.Integral{Of: "power"})
		switch list := told(report.Problems); {
		case want == "" && (report.Usable() || !strings.Contains(list[0], "nothing says whether these are seconds, minutes or hours")):
			t.Errorf("%q: %q, read in %s", header, list, report.Form.TimeUnit)
		case want != "" && (!report.Usable() || report.Form.TimeUnit.String() != want):
			t.Errorf("%q: %q, read in %s, want %s", header, list, report.Form.TimeUnit, want)
		}
	}
}

// Of a file that holds several recordings one is read by its first and last line,
// also where it begins behind the part of the file that is looked at for its form.
func TestOneOfSeveral(t *testing.T) {
	const rows = 5000
	var text strings.Builder
	for i, power := range []int{100, 300, 500} {
		text.WriteString("time (s),temperature,power (kW)\n")
		for k := range rows {
			fmt.Fprintf(&text, "%d,20.5,%d\n", 10*k, power)
		}
		if i == 2 {
			text.WriteString("\"end,1,2\n")
		}
	}
	for i, power := range []float64{1e5, 3e5} {
		first := i*(rows+1) + 2
		s := recording.Source{Reader: strings.NewReader(text.String()), FirstRow: first, LastRow: first + rows - 1}
		results, report := recording.Run(greenhouse, s, recording.Integral{Of: "power"})
		if !report.Usable() || len(report.Problems) > 0 || report.FirstLine != first || report.LastLine != first+rows-1 {
			t.Errorf("lines %d to %d: %s", report.FirstLine, report.LastLine, told(report.Problems))
		}
		if want := power * 10 * (rows - 1) / 3600; math.Abs(results[0].Value/want-1) > 1e-12 {
			t.Errorf("%v Wh, want %v", results[0].Value, want)
		}
	}
}

// failing is a file that cannot be read to its end.
type failing struct{ text io.Reader }

func (f failing) Read(p []byte) (int, error) {
	n, err := f.text.Read(p)
	if err == io.EOF {
		err = errors.New("the disk is gone")
	}
	return n, err
}

// Files that are no recordings, or not to their end, are refused in bounded memory.
func TestRefused(t *testing.T) {
	rows := "time (s),temperature,power\n" + strings.Repeat("0,20.5,100\n", 10000)
	var count strings.Builder
	count.WriteString("time (s),temperature,power,remark\n")
	for i := range 200000 {
		fmt.Fprintf(&count, "%d,20.5,100,\n", i)
	}
	for _, c := range []struct {
		name string
		text io.Reader
		want string
	}{
		{"empty", strings.NewReader(""), "0: error: the recording is empty"},
		{"blank", strings.NewReader("\n  \n"), "0: error: the recording is empty"},
		{"mark only", strings.NewReader("\xef\xbb\xbf"), "0: error: the recording is empty"},
		{"UTF-16", strings.NewReader("\xff\xfet\x00i\x00"), "0: error: the recording is in UTF-16, which is not read"},
		{"UTF-16, other end", strings.NewReader("\xfe\xff\x00t\x00i"), "0: error: the recording is in UTF-16, which is not read"},
		{"UTF-16 without mark", strings.NewReader("t\x00i\x00m\x00e\x00"), "0: error: the recording is not plain text"},
		{"text", strings.NewReader("Dear Sir,\nthank you.\n"), `0: error: the recording has no header that names "time"`},
		{"long first line", strings.NewReader(strings.Repeat("x", 10<<20)), "1: error: its first line is longer than 65536 characters, which is too long for a recording"},
		{"old lines", strings.NewReader("time (s),temperature,power\r0,20.5,100\r"), "1: error: the lines of the recording end in a carriage return alone, which is not read"},
		{"wider header", strings.NewReader("time (s),temperature,power\n0,20.5,100\n10,20.5,100\ntime (s),temperature,power,meter\n20,20.5,100,1\n30,20.5,100,1\n40,20.5,100,1\n"),
			"4: error: a second header names other columns or units than that in line 1"},
		{"long line", strings.NewReader(rows + strings.Repeat("1", 10<<20) + "\n20,20.5,100\n"), "10002: error: a row is longer than a million characters"},
		{"open quote", strings.NewReader(count.String() + "200000,20.5,100,\"\n" + count.String()), "200002: error: a row is longer than a million characters"},
		{"unknown times", strings.NewReader("time,temperature,power\nhalf past ten,20.5,100\n"), `2: error: the times, such as "half past ten", are of no form that is known`},
		{"disk", failing{strings.NewReader(rows)}, "0: error: the recording cannot be read to its end"},
		{"disk at once", failing{strings.NewReader("")}, "0: error: the recording cannot be read"},
	} {
		t.Run(c.name, func(t *testing.T) {
			results, report := recording.Run(greenhouse, recording.Source{Reader: c.text}, recording.Integral{Of: "power"})
			list := told(report.Problems)
			if len(list) == 0 || list[0] != c.want || report.Usable() {
				t.Errorf("told %q, want %q first", list[:min(len(list), 3)], c.want)
			}
			if !math.IsNaN(results[0].Value) {
				t.Errorf("computed %v", results[0].Value)
			}
		})
	}
}

// A recording whose interval changes is not cut to pieces without a word.
func TestChangingInterval(t *testing.T) {
	var text strings.Builder
	text.WriteString("time (s),temperature,power\n")
	at := 0
	for i := range 5000 {
		if at++; i > 1500 {
			at += 59
		}
		fmt.Fprintf(&text, "%d,20.5,100\n", at)
	}
	read := func(gap time.Duration) (recording.Result, *recording.Report) {
		r, report := recording.Run(greenhouse, recording.Source{Reader: strings.NewReader(text.String()), Gap: gap}, recording.Integral{Of: "power"})
		return r[0], report
	}
	if _, report := read(0); report.Usable() || !strings.Contains(told(report.Problems)[0], "most steps of time are longer than the limit of 0:00:05") {
		t.Errorf("told %q", told(report.Problems)[0])
	}
	if r, report := read(time.Minute); !report.Usable() || report.Missing != 0 || math.Abs(r.Value-100*float64(at-1)/3600) > 1e-9 {
		t.Errorf("%v with %v", r, told(report.Problems))
	}
}

// FuzzRead: whatever a file is, it is read without a panic, rows go forward in
// time and line, and all that is told has its words.
func FuzzRead(f *testing.F) {
	for _, s := range []string{
		"time (s),temperature,power\n0,20.5,100\n10,20.5,300\n", "time;temperature;power\n10:00:00;20,5;1\n9:00:00;x;2",
		"\xef\xbb\xbftime\ttemperature\tpower\r\n02.03.2026 10:15\t1\t2\r\n", "time,temperature,power\n\"0\n1,2,3\n",
		"time (h),temperature (K),power [kW],meter\n0,1,2,3\n1,1,2,1\n0,1,1,1\n",
	} {
		f.Add([]byte(s))
	}
	names, err := filepath.Glob("testdata/*.csv")
	if err != nil || len(names) == 0 {
		f.Fatal(names, err)
	}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		r, list := recording.Open(greenhouse, recording.Source{Reader: bytes.NewReader(text)})
		line, at, n := 0, int64(0), 0
		for r.Next() {
			row := r.Row()
			if row.Line <= line || row.Time < at || row.Time < 0 {
				t.Fatalf("line %d at %d comes after line %d at %d", row.Line, row.Time, line, at)
			}
			line, at, n = row.Line, row.Time, n+1
		}
		report := r.Report()
		if n != report.Rows || list.HasErrors() && n > 0 {
			t.Errorf("%d rows of %d, with %v", n, report.Rows, list)
		}
		if n == 0 && report.Usable() {
			t.Error("no row, and nothing is told")
		}
		for _, p := range report.Problems {
			if p.Summary == "" {
				t.Errorf("%+v says nothing", p)
			}
		}
	})
}
