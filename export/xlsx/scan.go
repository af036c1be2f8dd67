package xlsx

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf16"
)

// scanner goes through a part of a workbook; one of start, text and end is set.
type scanner struct {
	start *xml.StartElement
	text  []byte
	end   string // name of the element that ends
	open  []string
}

// inside reports whether an element of that name is open.
func (d *scanner) inside(name string) bool {
	for i := len(d.open) - 1; i >= 0; i-- {
		if d.open[i] == name {
			return true
		}
	}
	return false
}

// bounded reads at most so many bytes and fails on the next.
type bounded struct {
	r    io.Reader
	left int64
}

var errTooLarge = errors.New("is larger than a workbook of ours, unpacked")

func (b *bounded) Read(p []byte) (int, error) {
	if b.left <= 0 {
		return 0, errTooLarge
	}
	n, err := b.r.Read(p[:min(int64(len(p)), b.left)])
	b.left -= int64(n)
	return n, err
}

// scan reads a part of the file as a stream of XML. No entities are replaced but
// the five of XML itself, and a declaration of some is refused.
func (f *File) scan(name string, most int64, each func(d *scanner) error) error {
	p := f.parts[name]
	if p == nil {
		return fmt.Errorf("is broken: its part %q is missing", cut(name, 60))
	}
	broken := fmt.Errorf("is broken: its part %q cannot be read", cut(name, 60))
	if p.UncompressedSize64 > uint64(most) {
		return errTooLarge
	}
	r, err := p.Open()
	if err != nil {
		return broken
	}
	defer r.Close()
	x := xml.NewDecoder(&bounded{r, most})
	d := &scanner{}
	for {
		token, err := x.RawToken()
		if err == io.EOF {
			return nil
		}
		if errors.Is(err, errTooLarge) {
			return errTooLarge
		}
		if err != nil {
			return broken
		}
		if err := d.take(token, each); err != nil {
			return err
		}
	}
}

// take passes a token on.
func (d *scanner) take(token xml.Token, each func(d *scanner) error) error {
	d.start, d.text, d.end = nil, nil, ""
	switch t := token.(type) {
	case xml.StartElement:
		if len(d.open) >= mostNesting {
			return errors.New("is broken: its parts are nested too deep")
		}
		d.open = append(d.open, t.Name.Local)
		d.start = &t
	case xml.EndElement:
		if len(d.open) == 0 || d.open[len(d.open)-1] != t.Name.Local {
			return errors.New("is broken: an element of it does not end")
		}
		d.open = d.open[:len(d.open)-1]
		d.end = t.Name.Local
	case xml.CharData:
		d.text = t
	case xml.Directive:
		return errors.New("declares entities of its own, which no spreadsheet program does; it is not read")
	default:
		return nil
	}
	return each(d)
}

// attribute is the value of an attribute, "" where there is none.
func attribute(e *xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name && a.Name.Space == "" {
			return a.Value
		}
	}
	return ""
}

var escape = regexp.MustCompile(`_x[0-9A-Fa-f]{4}_`)

// unescaped puts characters in the place of _xHHHH_ (ECMA-376 part 1, ST_Xstring).
func unescaped(s string) string {
	if !strings.Contains(s, "_x") {
		return s
	}
	var b strings.Builder
	var units []uint16
	last := 0
	flush := func() {
		b.WriteString(string(utf16.Decode(units)))
		units = nil
	}
	for _, m := range escape.FindAllStringIndex(s, -1) {
		if m[0] > last {
			flush()
			b.WriteString(s[last:m[0]])
		}
		n, _ := strconv.ParseUint(s[m[0]+2:m[0]+6], 16, 16)
		units, last = append(units, uint16(n)), m[1]
	}
	flush()
	b.WriteString(s[last:])
	return b.String()
}

// format is what the number format of a cell makes of a number.
type format struct{ percent, date bool }

// styled reads which styles of cells show percentages and dates.
func (f *File) styled(part string) error {
	codes := map[string]format{}
	return f.scan(part, mostPart, func(d *scanner) error {
		switch {
		case d.start == nil:
		case d.start.Name.Local == "numFmt":
			codes[attribute(d.start, "numFmtId")] = formatOf(attribute(d.start, "formatCode"))
		case d.start.Name.Local == "xf" && d.inside("cellXfs"):
			id := attribute(d.start, "numFmtId")
			form, ok := codes[id]
			if n, err := strconv.Atoi(id); !ok && err == nil {
				form = builtIn(n)
			}
			f.formats = append(f.formats, form)
		}
		return nil
	})
}

// builtIn are the formats that have no text in the file (ECMA-376 part 1, numFmt).
func builtIn(id int) format {
	return format{
		percent: id == 9 || id == 10,
		date:    id >= 14 && id <= 22 || id >= 27 && id <= 36 || id >= 45 && id <= 47 || id >= 50 && id <= 58,
	}
}

// literal are the parts of a format that stand for themselves, and conditions,
// colours and currencies.
var literal = regexp.MustCompile(`"[^"]*"|\\.|[_*].|\[[^\]]*\]`)

var elapsed = regexp.MustCompile(`(?i)\[(h+|m+|s+)\]`)

func formatOf(code string) format {
	first, _, _ := strings.Cut(code, ";")
	plain := strings.ToLower(literal.ReplaceAllString(first, ""))
	if strings.HasPrefix(plain, "general") || plain == "standard" {
		plain = ""
	}
	return format{percent: strings.Contains(plain, "%"), date: strings.ContainsAny(plain, "ymdhs") || elapsed.MatchString(code)}
}
