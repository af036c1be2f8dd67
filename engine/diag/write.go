package diag

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"regexp"
	"strings"
	"unicode/utf8"
)

const (
	lineWidth = 78
	narrowest = 24 // what a terminal is taken to have at least
	gutter    = 8  // "   14 | "
	indent    = "      "
)

// Write writes diagnostics for people: the place and a sentence, the line of
// the file with a caret under the part that is meant, the mend, and further
// places.
//
//	shed.toml:14:12: error: depth is a length (m), but "30 kg" is a mass (kg)
//	   14 | depth = "30 kg"
//	      |         ^^^^^^^
//	      Write a length, such as "30 cm".
//
// text gives the content of a file by the name that positions use, nil if it
// cannot be had; the lines are then left out. With color, terminal escapes
// are used. Nothing of the files reaches w that is not harmless text.
//
// Columns is how wide a terminal is; 0 where w is none: the place and the sentence are
// then one line, however long, since programs read it.
func Write(w io.Writer, l List, text func(file string) []byte, color bool, columns int) {
	p := &writer{files: map[string]*lines{}, text: text, color: color, columns: columns, wide: lineWidth}
	if columns > 0 {
		p.wide = max(narrowest, min(lineWidth, columns))
	}
	for i, d := range l {
		if i > 0 {
			p.out.WriteByte('\n')
		}
		p.diagnostic(d)
	}
	w.Write(p.out.Bytes())
}

// writer collects the output.
type writer struct {
	out     bytes.Buffer
	text    func(file string) []byte
	files   map[string]*lines
	color   bool
	columns int
	wide    int // how long lines may be, but for the first
}

// Terminal colours: SGR codes of ECMA-48.
const (
	red    = "1;31"
	yellow = "1;33"
	bold   = "1"
	faint  = "2"
)

// paint is text in a colour, or as it is.
func (p *writer) paint(code, text string) string {
	if !p.color || text == "" {
		return text
	}
	return "\x1b[" + code + "m" + text + "\x1b[0m"
}

func (p *writer) diagnostic(d Diagnostic) {
	tone := red
	if d.Severity == Warning {
		tone = yellow
	}
	p.headline(d, tone)
	p.source(d.At, tone)
	for _, line := range Wrap(sentence(clean(d.Mend)), p.wide-len(indent), 0) {
		p.out.WriteString(indent + line + "\n")
	}
	for _, r := range d.Related {
		text, at := clean(r.Text), clean(r.At.String())
		if at != "" {
			text = at + ": " + text
		}
		for i, line := range Wrap(text, p.wide-len(indent), 0) {
			if rest, ok := strings.CutPrefix(line, at+":"); ok && i == 0 && at != "" {
				line = p.paint(bold, at+":") + rest
			}
			p.out.WriteString(indent + line + "\n")
		}
		p.source(r.At, faint)
	}
}

// headline writes the place, how grave it is and the sentence, over several lines where a
// terminal is narrower.
func (p *writer) headline(d Diagnostic, tone string) {
	at, grave, text := clean(d.At.String()), d.Severity.String()+":", clean(d.Summary)
	head := p.paint(tone, grave)
	if at != "" {
		head, grave = p.paint(bold, at+":")+" "+head, at+": "+grave
	}
	p.out.WriteString(head)
	room := math.MaxInt
	if p.columns > 0 {
		room = max(p.wide, p.columns) - len(indent)
	}
	for i, line := range Wrap(text, room, Width(grave)+1-len(indent)) {
		if i == 0 && line != "" {
			p.out.WriteString(" " + line)
		} else if i > 0 {
			p.out.WriteString("\n" + indent + line)
		}
	}
	p.out.WriteByte('\n')
}

// source writes the line of a place and the caret line, if the line is there.
func (p *writer) source(at Pos, tone string) {
	line, ok := p.line(at)
	if !ok {
		return
	}
	line, at = window(line, at)
	p.excerpt(line, at, tone)
}

// excerpt writes the part of a line that fits, and the caret line.
func (p *writer) excerpt(line []byte, at Pos, tone string) {
	view, columns := shown(string(line))
	count := len(columns) - 1
	if at.Col < 1 {
		view, _ = cut(view, 0, 0, p.wide-gutter)
		fmt.Fprintf(&p.out, "%s%s\n", p.paint(faint, fmt.Sprintf("%5d | ", at.Line)), strings.TrimRight(view, " "))
		return
	}
	first := min(at.Col-1, count)
	last := first + min(max(at.Len, 1), count-first)
	from, to := columns[first], max(columns[last], columns[first]+1)
	view, shift := cut(view, from, to, p.wide-gutter)
	from, to = from-shift, min(to-shift, p.wide-gutter)
	fmt.Fprintf(&p.out, "%s%s\n", p.paint(faint, fmt.Sprintf("%5d | ", at.Line)), strings.TrimRight(view, " "))
	fmt.Fprintf(&p.out, "%s%s%s\n", p.paint(faint, "      | "), strings.Repeat(" ", from),
		p.paint(tone, strings.Repeat("^", max(1, to-from))))
}

// line is the line of a place without its end.
func (p *writer) line(at Pos) ([]byte, bool) {
	if at.File == "" || at.Line < 1 || p.text == nil {
		return nil, false
	}
	f := p.files[at.File]
	if f == nil {
		f = newLines(p.text(at.File))
		p.files[at.File] = f
	}
	return f.line(at.Line)
}

// cut is the part of a line that fits a room and shows the columns from to
// to, as far as they fit, and how many columns it moved to the left.
func cut(view string, from, to, room int) (string, int) {
	total := 0
	for _, r := range view {
		total += width(r)
	}
	if total <= room && from < room {
		return view, 0
	}
	begin := 0
	if to >= room {
		begin = max(0, min(from-room/3, max(to, total)-room))
	}
	var b strings.Builder
	at := 0
	for _, r := range view {
		w := width(r)
		if at >= begin && at+w <= begin+room {
			switch {
			case at == begin && begin > 0, at+w == begin+room && at+w < total:
				b.WriteString("…" + strings.Repeat(" ", max(0, w-1)))
			default:
				b.WriteRune(r)
			}
		} else if at < begin && at+w > begin || at < begin+room && at+w > begin+room { // half outside
			b.WriteString("…")
		}
		at += w
	}
	return b.String(), begin
}

// sentence begins a mend with a capital, unless it begins with a name, and
// ends it with a full stop.
func sentence(text string) string {
	if text == "" {
		return ""
	}
	first, _, _ := strings.Cut(text, " ")
	if len(first) > 2 && first != text && !strings.ContainsFunc(first, func(r rune) bool { return r < 'a' || r > 'z' }) {
		text = strings.ToUpper(text[:1]) + text[1:]
	}
	if last, _ := utf8.DecodeLastRuneInString(text); !strings.ContainsRune(".!?:…", last) {
		text += "."
	}
	return text
}

// together is what a line does not break: a short assignment or text between quotes
// that somebody may want to copy, else a word.
var together = regexp.MustCompile(`[\w.-]{1,30} = (?:"[^"]{0,30}"|[\w.]+)[^\pZ\s]*|"[^"]{0,30}"[^\pZ\s]*|[^\pZ\s]+`)

// Wrap breaks text at spaces into lines of at most so many columns, of which the first
// has some that are taken: it is empty where the first word does not fit behind them. A
// word that is longer stands on a line of its own.
func Wrap(text string, room, taken int) []string {
	var lines []string
	line, used := "", taken
	for i, word := range together.FindAllString(text, -1) {
		n := Width(word)
		if gap := min(len(line), 1); used+gap+n > room && (line != "" || i == 0 && taken > 0) {
			lines = append(lines, line)
			line, used = "", 0
		}
		if line != "" {
			line += " "
			used++
		}
		line += word
		used += n
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}
