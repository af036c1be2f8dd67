package text

import (
	"strings"
	"testing"
)

func TestAlignPoints(t *testing.T) {
	for _, c := range []struct{ in, want string }{
		{"1|22.5|3.25", "1   |22.5 |3.25"},
		{"1,935|0.321", "1,935    |0.321"}, // four characters from the point on: .321
		{"-0.5|12", "-0.5|12  "},
		{"dark|1.5|-", "dark|1.5|-"}, // words, and a dash for no value, are left alone
		{"1|2", "1|2"},
		{"", ""},
	} {
		got := strings.Join(alignPoints(strings.Split(c.in, "|")), "|")
		if got != c.want {
			t.Errorf("%q became %q, want %q", c.in, got, c.want)
		}
	}
	for _, f := range alignPoints([]string{"1.0", "22.5", "3.25"}) {
		if f = padLeft(f, 8); strings.IndexByte(f, '.') != 5 {
			t.Errorf("%q: its point does not stand below the others", f)
		}
	}
}

// TestWidth: characters that take two columns, or none, count as such. The
// widths are those of Unicode Standard Annex 11.
func TestWidth(t *testing.T) {
	for _, c := range []struct {
		text string
		want int
	}{
		{"", 0}, {"oak", 3}, {"Größe", 5}, {"e\u0301", 1}, {"電池", 4}, {"ｱ", 1}, {"Ａ", 2}, {"한", 2}, {"🙂", 2}, {"10 mΩ", 5},
	} {
		if got := width(c.text); got != c.want {
			t.Errorf("%q takes %d columns, want %d", c.text, got, c.want)
		}
		for _, padded := range []string{padLeft(c.text, 8), padRight(c.text, 8)} {
			if got := width(padded); got != 8 {
				t.Errorf("%q padded takes %d columns, want 8", padded, got)
			}
		}
	}
	if got := padLeft("too long", 3); got != "too long" {
		t.Errorf("padding cuts: %q", got)
	}
}

func TestWrap(t *testing.T) {
	for _, c := range []struct {
		text string
		n    int
		want string
	}{
		{"one two three", 7, "one two|three"},
		{"it weighs 28 kg today", 12, "it weighs|28 kg today"}, // a figure stays with its unit
		{"a supercalifragilistic word", 6, "a|supercalifragilistic|word"},
		{"箱 箱 箱", 5, "箱 箱|箱"},
		{"  spaces\n and lines ", 20, "spaces and lines"},
		{"", 10, ""},
	} {
		if got := strings.Join(wrap(c.text, c.n), "|"); got != c.want {
			t.Errorf("%q in %d: %q, want %q", c.text, c.n, got, c.want)
		}
	}
}

func TestHang(t *testing.T) {
	for _, c := range []struct{ heading, text, want string }{
		{"stop", "the crate is broken and must go", "stop     the crate is broken\n         and must go\n"},
		{"stop", "", "stop     \n"},
		{"", "short", "         short\n"},
	} {
		if got := hang(c.heading, c.text, 9, 30); got != c.want {
			t.Errorf("%q: %q, want %q", c.text, got, c.want)
		}
	}
}

func TestPaint(t *testing.T) {
	for _, c := range []struct {
		st         Style
		code, want string
	}{
		{Style{}, red, "x"}, {Style{Color: true}, red, "\x1b[31mx\x1b[0m"}, {Style{Color: true}, plain, "x"},
	} {
		if got := c.st.paint(c.code, "x"); got != c.want {
			t.Errorf("%+v: %q, want %q", c.st, got, c.want)
		}
	}
}
