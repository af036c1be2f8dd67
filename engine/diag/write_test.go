package diag

import (
	"bytes"
	"strings"
	"testing"
	"unicode"
)

// write gives the text of one diagnostic in a file, as a terminal so wide has it, 0: none.
func write(d Diagnostic, file string, columns int) string {
	var b bytes.Buffer
	Write(&b, List{d}, func(name string) []byte {
		if name == "shed.toml" {
			return []byte(file)
		}
		return nil
	}, false, columns)
	return b.String()
}

var longLine = "key = [" + strings.Repeat("10, ", 40) + "x, " + strings.Repeat("20, ", 40) + "]"

var writeTests = []struct {
	what string
	d    Diagnostic
	file string
	want string
}{
	{"a value of the wrong unit",
		Diagnostic{Summary: `depth is a length (m), but "30 kg" is a mass (kg)`, Mend: `Write a length, such as depth = "30 cm".`, At: Pos{"shed.toml", 3, 9, 7}},
		"# shed\n\ndepth = \"30 kg\"\n", `
shed.toml:3:9: error: depth is a length (m), but "30 kg" is a mass (kg)
    3 | depth = "30 kg"
      |         ^^^^^^^
      Write a length, such as depth = "30 cm".
`},
	{"a warning; a mend that is not a whole sentence",
		Diagnostic{Severity: Warning, Summary: "the shelf is very deep", Mend: "write it in cm", At: Pos{"shed.toml", 1, 1, 5}},
		"depth = 30\r\nnext = 1", `
shed.toml:1:1: warning: the shelf is very deep
    1 | depth = 30
      | ^^^^^
      Write it in cm.
`},
	{"a mend that begins with a name, and one that is a question",
		Diagnostic{Summary: "no", Mend: "shelf_depth is meant?"}, "", `
error: no
      shelf_depth is meant?
`},
	{"a long mend is wrapped",
		Diagnostic{Summary: "no", Mend: "This is a sentence that goes on for so long that it does not fit on one line of a terminal, and so on."}, "", `
error: no
      This is a sentence that goes on for so long that it does not fit on one
      line of a terminal, and so on.
`},
	{"a related place",
		Diagnostic{Summary: "depth is given twice", At: Pos{"shed.toml", 2, 1, 5}, Related: []Related{{Pos{"shed.toml", 1, 1, 5}, "first given here"}, {Pos{"other.toml", 7, 1, 5}, "and here"}}},
		"depth = 1\ndepth = 2", `
shed.toml:2:1: error: depth is given twice
    2 | depth = 2
      | ^^^^^
      shed.toml:1:1: first given here
    1 | depth = 1
      | ^^^^^
      other.toml:7:1: and here
`},
	{"only a file is known", Diagnostic{Summary: "the file cannot be read", At: Pos{File: "shed.toml"}}, "x", `
shed.toml: error: the file cannot be read
`},
	{"only a line is known", Diagnostic{Summary: "what is this", At: Pos{File: "shed.toml", Line: 2}}, "a\n\tb", `
shed.toml:2: error: what is this
    2 |     b
`},
	{"the text is not to be had", Diagnostic{Summary: "no", At: Pos{"other.toml", 2, 3, 1}}, "x", `
other.toml:2:3: error: no
`},
	{"the line is not there", Diagnostic{Summary: "no", At: Pos{"shed.toml", 9, 3, 1}}, "x", `
shed.toml:9:3: error: no
`},
	{"behind the end of the line", Diagnostic{Summary: "a value is missing", At: Pos{"shed.toml", 1, 9, 0}}, "depth =\n", `
shed.toml:1:9: error: a value is missing
    1 | depth =
      |        ^
`},
	{"longer than the line", Diagnostic{Summary: "no", At: Pos{"shed.toml", 1, 9, 50}}, "depth = 30\n", `
shed.toml:1:9: error: no
    1 | depth = 30
      |         ^^
`},
	{"tabs", Diagnostic{Summary: "no", At: Pos{"shed.toml", 1, 4, 1}}, "\ta\tb\n", `
shed.toml:1:4: error: no
    1 |     a   b
      |         ^
`},
	{"wide characters and marks", Diagnostic{Summary: "no", At: Pos{"shed.toml", 1, 6, 2}}, "温室e\u0301=室x\n", `
shed.toml:1:6: error: no
    1 | 温室e` + "\u0301" + `=室x
      |       ^^^
`},
	{"a byte order mark has no width", Diagnostic{Summary: "no", At: Pos{"shed.toml", 1, 2, 1}}, "\ufeffx = 1\n", `
shed.toml:1:2: error: no
    1 | x = 1
      | ^
`},
	{"control characters", Diagnostic{Summary: "bad \x1b[2J name\nhere", Mend: "Leave \x07 out.", At: Pos{"shed.toml", 1, 2, 1}}, "a\x1b[31m\u202eb\x7f\u0085\xff\n", `
shed.toml:1:2: error: bad ␛[2J name here
    1 | a␛[31m` + "\ufffd" + `b␡` + "\ufffd\ufffd" + `
      |  ^
      Leave ␇ out.
`},
	{"the middle of a long line", Diagnostic{Summary: "no", At: Pos{"shed.toml", 1, strings.Index(longLine, "x") + 1, 1}}, longLine, `
shed.toml:1:168: error: no
    1 | …, 10, 10, 10, 10, 10, x, 20, 20, 20, 20, 20, 20, 20, 20, 20, 20, 20,…
      |                        ^
`},
	{"the end of a long line", Diagnostic{Summary: "no", At: Pos{"shed.toml", 1, len(longLine), 1}}, longLine, `
shed.toml:1:331: error: no
    1 | …20, 20, 20, 20, 20, 20, 20, 20, 20, 20, 20, 20, 20, 20, 20, 20, 20, ]
      |                                                                      ^
`},
	{"the beginning of a long line", Diagnostic{Summary: "no", At: Pos{"shed.toml", 1, 1, 3}}, longLine, `
shed.toml:1:1: error: no
    1 | key = [10, 10, 10, 10, 10, 10, 10, 10, 10, 10, 10, 10, 10, 10, 10, 10…
      | ^^^
`},
}

func TestWrite(t *testing.T) {
	for _, c := range writeTests {
		if got := "\n" + write(c.d, c.file, 0); got != c.want {
			t.Errorf("%s: got%swant%s", c.what, got, c.want)
		}
	}
}

// TestWriteNarrow: on a terminal the sentence and the mend are wrapped at its width, the
// line of the file is cut around the caret; where there is no terminal the sentence is one
// line.
// TestWriteEdge: the sign that is marked is shown, not hidden behind the dots that say that
// the line goes on, wherever it stands.
func TestWriteEdge(t *testing.T) {
	for col := 1; col <= 200; col++ {
		line := strings.Repeat("a", col-1) + "X" + strings.Repeat("b", 200-col)
		d := Diagnostic{Summary: "no", At: Pos{"shed.toml", 1, col, 1}}
		lines := strings.Split(write(d, line, 0), "\n")
		if at := strings.Index(lines[2], "^"); string([]rune(lines[1])[at]) != "X" {
			t.Errorf("column %d:\n%s\n%s", col, lines[1], lines[2])
		}
	}
}

func TestWriteNarrow(t *testing.T) {
	d := Diagnostic{
		Summary: "lamp.one.price is only 7 USD, and such a thing is sold for 90 USD to 4,000 USD in most of the shops that are known",
		Mend:    `Write price = "700 USD" where hundreds are meant, or leave it as it is.`,
		At:      Pos{"shed.toml", 1, strings.Index(longLine, "x") + 1, 1},
		Related: []Related{{Pos{File: "other.toml", Line: 7}, "the range of what is usual is written here"}},
	}
	for _, columns := range []int{24, 40, 60, 80, 200} {
		out := write(d, longLine, columns)
		for _, line := range strings.Split(out, "\n") {
			if Width(line) > columns {
				t.Errorf("on %d columns a line has %d: %s", columns, Width(line), line)
			}
		}
		if joined := strings.Join(strings.Fields(out), " "); !strings.Contains(joined, d.Summary) || !strings.Contains(joined, d.Mend) || !strings.Contains(out, "x, 20,") {
			t.Errorf("on %d columns something is lost:\n%s", columns, out)
		}
	}
	if first, _, _ := strings.Cut(write(d, longLine, 0), "\n"); first != "shed.toml:1:168: error: "+d.Summary {
		t.Errorf("where there is no terminal: %s", first)
	}
}

func TestWriteSeveral(t *testing.T) {
	var b bytes.Buffer
	Write(&b, List{{Summary: "one"}, {Summary: "two"}}, nil, false, 0)
	if got, want := b.String(), "error: one\n\nerror: two\n"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// Colour changes nothing but the colour.
func TestWriteColor(t *testing.T) {
	list := List{
		{Summary: "one", Mend: "Mend it.", At: Pos{"shed.toml", 1, 1, 2}},
		{Severity: Warning, Summary: "two", At: Pos{"shed.toml", 1, 2, 1}, Related: []Related{{Pos{"shed.toml", 1, 1, 1}, "here"}}},
	}
	text := func(string) []byte { return []byte("abc\x1b[0m") }
	var plain, color bytes.Buffer
	Write(&plain, list, text, false, 0)
	Write(&color, list, text, true, 0)
	stripped := color.String()
	for _, code := range []string{red, yellow, bold, faint, "0"} {
		if !strings.Contains(stripped, "\x1b["+code+"m") {
			t.Errorf("no %s in %q", code, color.String())
		}
		stripped = strings.ReplaceAll(stripped, "\x1b["+code+"m", "")
	}
	if stripped != plain.String() {
		t.Errorf("got %q, want %q", stripped, plain.String())
	}
}

// Whatever a file holds and wherever a place points, the output is harmless
// text, and lines of the file keep to the width.
func FuzzWrite(f *testing.F) {
	f.Add("depth = 30\n", "a sentence", 1, 3, 2)
	f.Add("\t温\x1b[31m\u202e\xff"+strings.Repeat("室", 60), "bad\x00", 1, 40, 90)
	f.Add("", "", 0, 0, 0)
	f.Add("a\nb", "x", -1, -5, -7)
	f.Fuzz(func(t *testing.T, file, sentence string, line, col, n int) {
		out := write(Diagnostic{Summary: sentence, Mend: sentence, At: Pos{"shed.toml", line % 1000, col, n}}, file, 0)
		for _, r := range out {
			if r != '\n' && (unicode.IsControl(r) || unicode.Is(unicode.Cf, r)) {
				t.Fatalf("%q holds %q", out, r)
			}
		}
		for _, l := range strings.Split(out, "\n") {
			if len(l) < 8 || l[6:8] != "| " {
				continue
			}
			columns := 0
			for _, r := range l {
				columns += width(r)
			}
			if columns > lineWidth+1 { // the caret behind the end of the longest line
				t.Fatalf("%d columns: %q", columns, l)
			}
		}
	})
}

// TestUpright: what turns the text behind it is left out, and nothing else, whatever
// direction the letters have.
func TestUpright(t *testing.T) {
	for text, want := range map[string]string{
		"plain": "plain", "מחיר 3 kg": "מחיר 3 kg", "\u200fמחיר\u200e": "\u200fמחיר\u200e", "👩\u200d🔧": "👩\u200d🔧",
		"\u202egnp.exe": "gnp.exe", "a\u2066b\u2067c\u2068d\u2069e": "abcde", "\u202a\u202b\u202c\u202d": "",
	} {
		if got := Upright(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}
