package decl

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strings"
	"sync"
	"time"

	"github.com/BurntSushi/toml"

	"bankwright/engine/diag"
)

const lookAround = "Look for a missing quote, bracket, comma or equals sign here or just before."

// decode reads the values of the tree and reports whether the document's
// syntax is right.
func (b *builder) decode() bool {
	text := b.edited()
	values := map[string]any{}
	if _, err := toml.Decode(text, &values); err != nil {
		at, summary, mend := reword(b.lines, err)
		if len(b.edits) > 0 {
			at.Col, at.Len = 0, 0 // columns of the renamed text are not those of the file
		}
		b.diags.Errorf(at, "syntax", mend, "%s", summary)
		return false
	}
	ok := true
	b.fill(b.root, values, &ok)
	return ok
}

// edited is the document with the keys that were given twice renamed.
func (b *builder) edited() string {
	if len(b.edits) == 0 {
		return string(b.data)
	}
	var out strings.Builder
	from := 0
	for _, e := range b.edits {
		out.Write(b.data[from:e.from])
		out.WriteString(e.text)
		from = e.to
	}
	out.Write(b.data[from:])
	return out.String()
}

// fill puts decoded values into the tree.
func (b *builder) fill(n *node, value any, ok *bool) {
	switch v := value.(type) {
	case map[string]any:
		for _, kid := range n.kids {
			b.fill(kid, v[kid.key], ok)
		}
	case []any:
		for i, kid := range n.kids {
			if i < len(v) {
				b.fill(kid, v[i], ok)
			}
		}
	case []map[string]any:
		for i, kid := range n.kids {
			if i < len(v) {
				b.fill(kid, v[i], ok)
			}
		}
	case string:
		n.text = asText(v)
		b.printable(n)
	case int64:
		n.number = float64(v)
	case float64:
		n.number = v
		if math.IsNaN(v) || math.IsInf(v, 0) {
			b.diags.Errorf(n.at, "number", "Write an ordinary number; one with a unit between quotes, such as \"5 kg\".", "`%s` is not a number that can be used", n.written)
			n.bad = true
		}
	case bool:
		n.truth = v
	case time.Time:
		n.kind = dateNode
	default:
		*ok = false
		b.diags.Errorf(n.at, "syntax", lookAround, "this value cannot be read")
	}
}

// asText is a text as the model keeps it, and all outputs show it: lines end in one way.
func asText(s string) string { return strings.ReplaceAll(s, "\r\n", "\n") }

// printable refuses control characters, which would reach terminals and sheets.
func (b *builder) printable(n *node) {
	if i, what := controlAt(n.text); i >= 0 {
		b.diags.Errorf(n.part(i, 1), "encoding", "Leave it out.", "the text holds a control character%s", what)
		n.bad = true
	}
}

// controlAt is at which character of a text the first control character stands, -1
// where there is none; what names one that is seen nowhere: marks that turn the direction
// of what stands behind them, ends of lines and paragraphs, and the mark of byte order.
// Letters that are written from right to left need none of them. Source: Unicode Standard
// Annex 9, Unicode Bidirectional Algorithm, 2.1 to 2.5.
func controlAt(text string) (i int, what string) {
	for _, r := range text {
		switch {
		case r < ' ' && r != '\n' && r != '\t' || r >= 0x7f && r < 0xa0:
			return i, ""
		case r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069 || r == 0x2028 || r == 0x2029 || r == 0xfeff:
			return i, fmt.Sprintf(" that is not seen, U+%04X", r)
		}
		i++
	}
	return -1, ""
}

// reword turns an error of the library into a place, a sentence and a mend.
func reword(l *lines, err error) (at diag.Pos, summary, mend string) {
	var pe toml.ParseError
	if !errors.As(err, &pe) {
		return diag.Pos{File: l.name}, "the file cannot be read", lookAround
	}
	at = l.pos(pe.Position.Start, max(pe.Position.Len, 1))
	// A fault at the end of a line may carry the number of the next.
	if line := pe.Position.Line; at.Line != line && at.Line != line-1 && line > 0 && line <= len(l.starts) {
		at = l.pos(l.starts[line-1], 0)
	}
	for _, w := range wordings() {
		if m := w.message.FindStringSubmatch(pe.Message); m != nil {
			summary = w.summary
			if strings.Contains(summary, "%s") {
				summary = fmt.Sprintf(summary, m[1])
			}
			return at, summary, w.mend
		}
	}
	return at, "the file cannot be read from here on", lookAround
}

// wording says what a message means.
type wording struct {
	message       *regexp.Regexp
	summary, mend string
}

// wordings say in plain words what the library's messages mean; the first that
// matches counts.
var wordings = sync.OnceValue(func() []wording {
	return []wording{
		{regexp.MustCompile(`^Key '(.+)' (has already been defined|was already created)`),
			"`%s` is given twice", "Keep one of the two."},
		{regexp.MustCompile(`strings cannot contain newlines`),
			"the text is not closed on its line", `Put a quote " at its end.`},
		{regexp.MustCompile(`unexpected EOF; expected '?["']`),
			"a text is not closed", "Put the missing quote at its end."},
		{regexp.MustCompile(`invalid escape in string '(\\.)'|^invalid escape: '(\\.)'`),
			"a backslash in a text means something else here", `Write \\ for a backslash, or put the text between ' and '.`},
		{regexp.MustCompile(`hexadecimal digits after|is not valid UTF-8`),
			"the character code after the backslash cannot be read", "Write the character itself."},
		{regexp.MustCompile(`invalid datetime: "?(.*?)"?$`),
			"`%s` is not a date that exists", `Write year-month-day: 2025-04-30.`},
		{regexp.MustCompile(`out of range|value out of range`),
			"the number is too large", "Write it in a larger unit."},
		{regexp.MustCompile(`leading zeroes`),
			"a number cannot begin with a zero that is not needed", "Leave the zero out."},
		{regexp.MustCompile(`underscores must be surrounded`),
			"an underscore in a number stands between two digits", "Leave it out."},
		{regexp.MustCompile(`floats must start with a digit|'\.' must be followed|^[iI]nvalid (?:float|integer)|expected a digit`),
			"the number cannot be read", "Write it as in 0.5."},
		{regexp.MustCompile(`expected a comma .*array terminator`),
			"a comma or the closing bracket ] of the list is missing", lookAround},
		{regexp.MustCompile(`expected a comma or an inline table terminator|newlines not allowed within inline`),
			"a comma or the closing brace } is missing", lookAround},
		{regexp.MustCompile(`unexpected comma`), "a comma stands where a value belongs", "Leave it out."},
		{regexp.MustCompile(`table names cannot be empty`), "a heading has no name", "Write a name between [ and ]."},
		{regexp.MustCompile(`expected '\.' or '\]' to end table name|expected end of table array name`),
			"the heading is not closed", "Put a closing bracket ] behind the name."},
		{regexp.MustCompile(`expected key separator '='|expected '\.' or '=', but got`),
			"an equals sign is missing behind the key", "Write key = value."},
		{regexp.MustCompile(`key name appears blank|keys cannot start with|^unexpected '[.=]'`),
			"a key has no name", "Write key = value."},
		{regexp.MustCompile(`a top-level item to end with a newline`),
			"something stands behind the value", "Put each key on a line of its own, and a text between quotes."},
		{regexp.MustCompile(`expected value`),
			"a value is missing or cannot be read", `Put a text between quotes: "80 kg".`},
		{regexp.MustCompile(`control characters`), "the file holds a control character", "Leave it out."},
		{regexp.MustCompile(`unexpected EOF`), "the file ends in the middle of something", lookAround},
	}
})
