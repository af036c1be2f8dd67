package decl

import (
	"bytes"
	"unicode/utf8"

	"bankwright/engine/diag"
)

// Limits on what one file may hold. They lie far above what people write and
// keep a hostile file from taking the machine's memory, stack or time: the
// parser of TOML has no limits of its own.
const (
	maxFileSize  = 1 << 20 // bytes
	maxDepth     = 64      // nested brackets, and parts of a dotted key
	maxKeyLength = 200     // bytes
	maxKeys      = 20_000  // keys and table headings
	maxEntries   = 100_000 // commas: entries of lists and inline tables
)

// bounded reports whether data may be given to the parsers, and says why not
// otherwise.
func bounded(name string, data []byte, diags *diag.List) bool {
	at := diag.Pos{File: name} // of packed and recoded data there is no line to show
	switch {
	case bytes.HasPrefix(data, []byte("PK\x03\x04")):
		diags.Errorf(at, "encoding", "Name the text file that it was made from; its name ends in .toml.",
			"the file is not plain text: it holds packed data, as workbooks and archives do")
		return false
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}), bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		diags.Errorf(at, "encoding", "Save it as UTF-8.", "the file is written in UTF-16, which some editors call Unicode")
		return false
	}
	if i := bytes.IndexByte(data, 0); i >= 0 {
		diags.Errorf(newLines(name, data).pos(i, 1), "encoding", "Save it as text in UTF-8.",
			"the file is not plain text: it holds a zero byte")
		return false
	}
	if len(data) > maxFileSize {
		diags.Errorf(at, "limit", "Split it into several files.", "the file is larger than 1 MB")
		return false
	}
	if !utf8.Valid(data) {
		i := invalidUTF8(data)
		diags.Errorf(newLines(name, data).pos(i, 1), "encoding", "Save it as text in UTF-8.",
			"the file is not written in UTF-8")
		return false
	}
	s := scanner{data: data}
	s.run()
	if s.fault != "" {
		diags.Errorf(newLines(name, data).pos(s.faultAt, 1), "limit", "Files that people write stay far below this: look for a slip.", "%s", s.fault)
		return false
	}
	return true
}

func invalidUTF8(data []byte) int {
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError && n <= 1 {
			return i
		}
		i += n
	}
	return len(data)
}

// scanner walks over a file once and counts what maxDepth and its neighbours
// limit. It knows just enough of TOML to leave texts and comments out.
type scanner struct {
	data                 []byte
	depth, dots          int
	keys, entries, wordN int

	fault   string
	faultAt int
}

func (s *scanner) run() {
	for i := 0; i < len(s.data) && s.fault == ""; {
		next := i + 1
		switch s.data[i] {
		case '#':
			next = s.comment(i)
		case '"', '\'':
			next = s.text(i)
			if next-i > maxKeyLength && s.isKey(next) {
				s.fail(i, "a key is longer than 200 characters")
			}
		default:
			s.mark(i)
		}
		i = next
	}
}

// mark counts the character at i, which stands outside texts and comments.
func (s *scanner) mark(i int) {
	c := s.data[i]
	s.wordN++
	switch c {
	case '[', '{':
		s.depth++
		s.dots, s.wordN = 0, 0
		if s.depth == 1 && s.opensLine(i) { // a heading
			s.count(i, '=')
		}
		if s.depth > maxDepth {
			s.fail(i, "brackets are nested more than 64 deep")
		}
	case ']', '}':
		if s.depth--; s.depth <= 0 {
			s.depth = 0
		}
		s.dots, s.wordN = 0, 0
	case '.':
		s.wordN = 0
		if s.dots++; s.dots >= maxDepth {
			s.fail(i, "a name has more than 64 parts")
		}
	case '\n', '=', ',':
		s.dots, s.wordN = 0, 0
		s.count(i, c)
	case ' ', '\t', '\r':
		s.wordN = 0
	}
	if s.wordN > maxKeyLength {
		s.fail(i-maxKeyLength, "a word is longer than 200 characters")
	}
}

func (s *scanner) count(i int, c byte) {
	switch c {
	case '=':
		s.keys++
	case ',':
		s.entries++
	}
	switch {
	case s.keys > maxKeys:
		s.fail(i, "the file has more than 20,000 keys")
	case s.entries > maxEntries:
		s.fail(i, "the file has more than 100,000 list entries")
	}
}

// opensLine reports whether only blanks stand before i on its line.
func (s *scanner) opensLine(i int) bool {
	before := bytes.TrimRight(s.data[:i], " \t")
	return len(before) == 0 || before[len(before)-1] == '\n'
}

func (s *scanner) fail(at int, sentence string) {
	s.fault, s.faultAt = sentence, at
}

func (s *scanner) comment(i int) int {
	if n := bytes.IndexByte(s.data[i:], '\n'); n >= 0 {
		return i + n
	}
	return len(s.data)
}

// text is the place behind the text that begins at i. A text on one line ends
// at the line's end at the latest; the parser then reports it.
func (s *scanner) text(i int) int {
	quote := s.data[i]
	long := bytes.HasPrefix(s.data[i:], []byte{quote, quote, quote})
	j := i + 1
	if long {
		j = i + 3
	}
	for j < len(s.data) {
		switch c := s.data[j]; {
		case c == '\\' && quote == '"':
			j += 2
			continue
		case c == '\n' && !long:
			return j
		case c == quote && !long:
			return j + 1
		case c == quote && bytes.HasPrefix(s.data[j:], []byte{quote, quote, quote}):
			// Up to two quotes may stand just before the closing three.
			for n := 0; n < 5 && j < len(s.data) && s.data[j] == quote; n++ {
				j++
			}
			return j
		}
		j++
	}
	return len(s.data)
}

// isKey reports whether what ends before i is a key: an equals sign, a dot or
// a closing bracket of a heading follows.
func (s *scanner) isKey(i int) bool {
	rest := bytes.TrimLeft(s.data[i:], " \t")
	return len(rest) > 0 && (rest[0] == '=' || rest[0] == '.')
}
