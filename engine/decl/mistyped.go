package decl

import (
	"bytes"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"

	"bankwright/engine/diag"
	"bankwright/engine/unit"
)

// maxSyntax is how many lines of one file are told to be no TOML, and
// maxSyntaxSize the bytes of a file beyond which only the first is: the file is
// read again for each.
const (
	maxSyntax     = 20
	maxSyntaxSize = 64 << 10
)

// syntaxFaults tells what is wrong with a document that the first library
// refused, and reports whether the second finds a fault at all. A line that is
// wrong by itself, such as a value without quotes, is taken out and the rest
// read again, so that all of them are told; behind any other fault nothing is
// sure.
func syntaxFaults(l *lines, data []byte, diags *diag.List) bool {
	data = bytes.Clone(data)
	for told := 0; ; {
		var values map[string]any
		_, err := toml.Decode(string(data), &values)
		if err == nil {
			return told > 0
		}
		at, summary, mend := reword(l, err)
		m, alone := l.mistyped(at.Line)
		switch {
		case alone:
			at, summary, mend = m.at, m.summary, m.mend
		case told > 0: // it may follow from what was taken out
			return true
		}
		diags.Errorf(at, "syntax", mend, "%s", summary)
		told++
		if !alone || told == maxSyntax || len(data) > maxSyntaxSize {
			return true
		}
		from, to := l.span(at.Line)
		for i := range data[from:to] {
			data[from+i] = ' '
		}
	}
}

// span is where a line begins and where it ends, its line end left out.
func (l *lines) span(line int) (from, to int) {
	from, to = l.starts[line-1], len(l.data)
	if line < len(l.starts) {
		to = l.starts[line] - 1
	}
	if to > from && l.data[to-1] == '\r' {
		to--
	}
	return from, to
}

// mistyped is what is wrong with a line by itself, and false where nothing of
// what people often write is found.
func (l *lines) mistyped(line int) (mistyped, bool) {
	if line < 1 || line > len(l.starts) {
		return mistyped{}, false
	}
	from, to := l.span(line)
	m, ok := lineFault(string(l.data[from:to]))
	if ok {
		m.at = l.pos(from+m.from, m.to-m.from)
	}
	return m, ok
}

// mistyped is a fault of one line: bytes [from, to) of it.
type mistyped struct {
	from, to      int
	at            diag.Pos
	summary, mend string
}

var (
	headingForm = regexp.MustCompile(`^\s*(\[\[?)([^\[\]"']*)(\]\]?)\s*(?:#.*)?$`)
	openForm    = regexp.MustCompile(`^\s*(\[\[?)([A-Za-z][A-Za-z0-9_.-]*)[)}>]?\s*$`)
	// key, sign, value: the value may be anything
	keyForm  = regexp.MustCompile(`^\s*([^\s=:#"'\[\]{},]+(?:[ \t]+[^\s=:#"'\[\]{},]+)*)[ \t]*(==|=|:=|:)[ \t]*(.*?)\s*$`)
	barePart = regexp.MustCompile(`^[A-Za-z0-9_.-]+$`)
	closed   = regexp.MustCompile(`^("(?:[^"\\]|\\.)*"|'[^']*')\s*(.*)$`)
	// a sum or product of numbers and names, of which one has an underscore or a point
	formulaForm = regexp.MustCompile(`^[0-9.]*(?:[a-z][a-z0-9]*[_.][a-z][a-z0-9_.]*\s*[*+/-]|.*[*+/-]\s*[a-z][a-z0-9]*[_.][a-z])[a-z0-9_.\s*+/()-]*$`)
	commaForm   = regexp.MustCompile(`^[+-]?\d+,\d+$`)
	plainForm   = regexp.MustCompile(`^[+-]?[\d._]*(?:[eE][+-]?\d*)?$`)
	noSign      = regexp.MustCompile(`^\s*([A-Za-z0-9_-]+)[ \t]+(["'\d][^=]*?)\s*$`)
	dateForm    = regexp.MustCompile(`^\d{4}-\d\d?-\d`)
	wrongMark   = "“”„‟«»‘’‚‛″′"
)

// truths are words for true and false that are none here.
var truths = map[string]string{"true": "true", "yes": "true", "on": "true", "false": "false", "no": "false", "off": "false"}

// lineFault looks for the slips that people make who do not know TOML.
func lineFault(line string) (mistyped, bool) {
	if m := headingForm.FindStringSubmatchIndex(line); m != nil {
		if m[7]-m[6] > m[3]-m[2] {
			return mistyped{from: m[7] - 1, to: m[7], summary: "one ] is too many", mend: "Write [" + strings.TrimSpace(line[m[4]:m[5]]) + "]."}, true
		}
		return headingFault(line, m[4], m[5])
	}
	if m := openForm.FindStringSubmatchIndex(line); m != nil {
		name, brackets := line[m[4]:m[5]], line[m[2]:m[3]]
		return mistyped{from: m[5], to: len(line), summary: "the heading is not closed",
			mend: "Write " + brackets + name + strings.Repeat("]", len(brackets)) + "."}, true
	}
	if m := noSign.FindStringSubmatchIndex(line); m != nil {
		_, meant := valueFault(line[m[4]:m[5]])
		return mistyped{from: m[4], to: m[4] + 1, summary: "an equals sign is missing behind the key", mend: "Write " + line[m[2]:m[3]] + " = " + meant + "."}, true
	}
	m := keyForm.FindStringSubmatchIndex(line)
	if m == nil {
		return mistyped{}, false
	}
	key, sign, value := line[m[2]:m[3]], line[m[4]:m[5]], line[m[6]:m[7]]
	v, meant := valueFault(value)
	write := func(key string) string { return "Write " + key + " = " + meant + "." }
	switch {
	case !barePart.MatchString(key):
		name := suggestName(key)
		if name == "" {
			return mistyped{}, false
		}
		return mistyped{from: m[2], to: m[3], summary: "`" + shorten(key, 60) + "` cannot be a key: keys are made of letters, digits and _", mend: write(name)}, true
	case sign != "=":
		return mistyped{from: m[4], to: m[5], summary: "between a key and its value stands =, not " + sign, mend: write(key)}, true
	case v.summary == "":
		return mistyped{}, false
	}
	v.from, v.to = v.from+m[6], v.to+m[6]
	if v.mend == "" {
		v.mend = write(key)
	}
	return v, true
}

// headingFault is what is wrong with the name of a heading, bytes [from, to) of the line.
func headingFault(line string, from, to int) (mistyped, bool) {
	var names []string
	bad := false
	for _, part := range strings.Split(line[from:to], ".") {
		name := strings.TrimSpace(part)
		if !barePart.MatchString(name) {
			bad = true
			name = suggestName(name)
		}
		if name == "" {
			return mistyped{}, false
		}
		names = append(names, name)
	}
	return mistyped{from: from, to: to,
		summary: "`" + shorten(line[from:to], 60) + "` cannot stand in a heading: names are made of small letters, digits and _",
		mend:    "Write [" + strings.Join(names, ".") + "]."}, bad
}

// valueFault is what is wrong with a value, if anything is, and the value that
// is most likely meant, without its comment. Where the mend is left out, it is to
// write that.
func valueFault(value string) (m mistyped, meant string) {
	if strings.HasPrefix(value, `"`) || strings.HasPrefix(value, "'") {
		return behindText(value)
	}
	if first, n := utf8.DecodeRuneInString(value); strings.ContainsRune(wrongMark, first) {
		text := strings.TrimSpace(value[n:])
		if i := strings.IndexAny(text, wrongMark+`"`); i >= 0 {
			text = text[:i]
		}
		return mistyped{from: 0, to: len(value), summary: "these are typographic quotes; a text stands between straight ones"}, strconv.Quote(text)
	}
	if strings.HasPrefix(value, "[") || strings.HasPrefix(value, "{") {
		return bareEntries(value)
	}
	bare, _, _ := strings.Cut(value, "#")
	if i := strings.Index(bare, "//"); i > 0 {
		bare = bare[:i]
	}
	bare = strings.TrimSpace(bare)
	m = mistyped{from: 0, to: len(bare)}
	word := strings.TrimRight(bare, ";, \t")
	truth := truths[strings.ToLower(word)]
	switch {
	case bare == "" || strings.ContainsAny(bare, "\"'[]{}=\\") || plainForm.MatchString(word) && word == bare || truth == bare:
		return mistyped{}, value
	case truth == word, plainForm.MatchString(word):
		m.from = len(word)
		m.summary, meant = "`"+bare[len(word):]+"` does not belong behind the value", word
	case truth != "":
		m.summary, meant = "`"+word+"` is not a value; a truth is true or false", truth
	case commaForm.MatchString(word):
		m.summary, meant = "`"+word+"` is written with a decimal comma; numbers have a decimal point", strings.Replace(word, ",", ".", 1)
		m.mend = "Write " + meant + ", and between quotes with its unit where it has one."
	case dateForm.MatchString(bare):
		return mistyped{}, value
	case formulaForm.MatchString(word):
		m.summary, meant = "`"+shorten(bare, 60)+"` does not stand between quotes, and a formula begins with =", strconv.Quote("= "+word)
	default:
		m.summary, meant = "`"+shorten(bare, 60)+"` does not stand between quotes", strconv.Quote(properly(word))
	}
	return m, meant
}

// properly is a value with a unit as it can be read, where the slip is plain, else
// the text itself: what a single letter means that is no unit, its quantity tells.
func properly(text string) string {
	letter := strings.TrimLeft(text, "+-0123456789., ")
	if fixed := unit.Fixed(text); fixed != "" && (utf8.RuneCountInString(letter) > 1 || fixed == text) {
		return fixed
	}
	return text
}

// behindText is what stands behind a text that is closed.
func behindText(value string) (mistyped, string) {
	m := closed.FindStringSubmatchIndex(value)
	if m == nil {
		return notClosed(value)
	}
	text, rest := value[m[2]:m[3]], value[m[4]:m[5]]
	inner := text[1 : len(text)-1]
	out := mistyped{from: m[4], to: len(value)}
	switch {
	case rest == "" || rest[0] == '#' || text == `""` && rest[0] == '"' || text == "''" && rest[0] == '\'':
		return mistyped{}, text
	case rest[0] == ';' || rest[0] == ',':
		out.to = out.from + 1
		out.summary, out.mend = "`"+rest[:1]+"` does not belong behind the value", "Leave it out: a line ends by itself."
	case strings.HasPrefix(rest, "//"), strings.HasPrefix(rest, "--"), strings.HasPrefix(rest, "/*"):
		out.to = out.from + 2
		out.summary, out.mend = "a comment begins with #", "Write # "+shorten(strings.TrimSpace(strings.TrimSuffix(rest[2:], "*/")), 40)
	default:
		bare, _, _ := strings.Cut(rest, "#")
		bare = strings.TrimSpace(bare)
		joined := unit.Fixed(inner + " " + bare)
		if joined == "" || strings.ContainsAny(bare, `"'`) {
			return mistyped{}, text
		}
		out.to = out.from + len(bare)
		out.summary = "`" + shorten(bare, 60) + "` stands behind the quotes, not between them"
		return out, strconv.Quote(joined)
	}
	return out, text
}

// notClosed is a text that has no quote at its end.
func notClosed(value string) (mistyped, string) {
	quote := value[:1]
	text := strings.TrimLeft(value, quote)
	if len(value)-len(text) != 1 || strings.Contains(text, quote) || strings.Contains(text, `\`) {
		return mistyped{}, value
	}
	text, _, _ = strings.Cut(text, "#")
	text = strings.TrimRight(text, " \t\"'"+wrongMark)
	return mistyped{from: len(value), to: len(value), summary: "the text is not closed on its line"}, strconv.Quote(text)
}

// bareEntries is a list or a table on one line of which values lack their quotes.
func bareEntries(value string) (m mistyped, meant string) {
	var out strings.Builder
	from, done, depth := 0, 0, 0
	for i := 0; i < len(value); i++ {
		switch c := value[i]; c {
		case '"', '\'':
			end := strings.IndexByte(value[i+1:], c)
			if end < 0 {
				return mistyped{}, value
			}
			i += end + 1
			continue
		case '[', '{':
			depth++
		case ']', '}':
			depth--
		case '=', ',':
		default:
			continue
		}
		entry := strings.TrimSpace(value[from:i])
		at := from + strings.Index(value[from:i], entry)
		if from = i + 1; value[i] != '=' && isBare(entry) {
			if m.summary == "" {
				m = mistyped{from: at, to: at + len(entry), summary: "`" + shorten(entry, 60) + "` does not stand between quotes"}
			}
			out.WriteString(value[done:at] + strconv.Quote(properly(entry)))
			done = at + len(entry)
		}
		if depth == 0 {
			out.WriteString(value[done : i+1])
			rest := strings.TrimSpace(value[i+1:])
			if rest != "" && rest[0] != '#' {
				break
			}
			return m, out.String()
		}
	}
	return mistyped{}, value
}

// isBare reports whether an entry of a list or a table on one line is a text
// without quotes: no number, truth or text, nor numbers between which a comma is
// missing.
func isBare(entry string) bool {
	return entry != "" && truths[entry] != entry && !strings.ContainsAny(entry, "\"'#") && !dateForm.MatchString(entry) &&
		slices.ContainsFunc(strings.Fields(entry), func(s string) bool { return !plainForm.MatchString(s) })
}
