package xlsx

import (
	"fmt"
	"io"
	"math"
	"os"
	"strconv"
	"unicode/utf8"

	"bankwright/export"
)

// rows are the rows of a sheet as they stand in its file. Books have so many cells with
// so long formulas that to hand them to the library, which copies and allocates for each,
// would take several times as long as this.
type rows struct {
	pieces [][]byte // the last of them is written on
	spills bool     // there may be too many for memory
	file   *os.File // what came before the pieces, where there is as much
}

// pieceRoom is how large a piece is, in bytes, and nearlyFull how much of it is left when
// the next one is begun: then few rows make it grow.
const (
	pieceRoom  = 1 << 18
	nearlyFull = 1 << 14
)

// begin is the piece in which the next row goes.
func (r *rows) begin() []byte {
	if n := len(r.pieces); n > 0 && cap(r.pieces[n-1])-len(r.pieces[n-1]) > nearlyFull {
		return r.pieces[n-1]
	}
	r.pieces = append(r.pieces, make([]byte, 0, pieceRoom))
	return r.pieces[len(r.pieces)-1]
}

// end keeps a piece to which a row has been added.
func (r *rows) end(piece []byte) error {
	r.pieces[len(r.pieces)-1] = piece
	if !r.spills || cap(piece)-len(piece) > nearlyFull {
		return nil
	}
	if r.file == nil {
		var err error
		if r.file, err = os.CreateTemp("", "bankwright-"); err != nil {
			return err
		}
	}
	_, err := r.file.Write(piece)
	r.pieces = append(r.pieces[:0], piece[:0])
	return err
}

// write writes all rows; into a part that is collected, without a copy of them.
func (r *rows) write(to io.Writer) error {
	if p, ok := to.(*pieces); ok && r.file == nil {
		*p = append(*p, r.pieces...)
		return nil
	}
	if r.file != nil {
		if _, err := r.file.Seek(0, io.SeekStart); err != nil {
			return err
		}
		if _, err := io.Copy(to, r.file); err != nil {
			return err
		}
	}
	for _, p := range r.pieces {
		if _, err := to.Write(p); err != nil {
			return err
		}
	}
	return nil
}

// close removes what is on disk.
func (r *rows) close() {
	if r.file != nil {
		r.file.Close()
		os.Remove(r.file.Name())
	}
}

// appendColumn adds the letters of a column, counted from 0.
func appendColumn(to []byte, col int) []byte {
	if col >= 26 {
		to = appendColumn(to, col/26-1)
	}
	return append(to, byte('A'+col%26))
}

// appendCell adds a cell. Its place in the sheet is a column, counted from 0, and the
// number of its row.
func appendCell(to []byte, c *export.Cell, col int, row []byte, style int) ([]byte, error) {
	text, isText := c.Value.(string)
	if isText && !isPlain(text) {
		text = clean(text)
	}
	to = append(to, "<c"...)
	if isText && c.Formula != "" && spaced(text) {
		to = append(to, ` xml:space="preserve"`...)
	}
	to = append(append(appendColumn(append(to, ` r="`...), col), row...), '"')
	if style != 0 {
		to = append(strconv.AppendInt(append(to, ` s="`...), int64(style), 10), '"')
	}
	switch c.Value.(type) {
	case float64:
	case bool:
		to = append(to, ` t="b"`...)
	case string:
		if c.Formula == "" {
			return appendText(to, text), nil
		}
		to = append(to, ` t="str"`...)
	case nil:
		if c.Formula != "" {
			to = append(to, ` t="str"`...)
		}
	default:
		return to, fmt.Errorf("a cell holds numbers, texts and truths, not %v", c.Value)
	}
	to = append(to, '>')
	if c.Formula != "" {
		to = append(escaped(append(to, "<f>"...), c.Formula, false, false), "</f>"...)
	}
	switch v := c.Value.(type) {
	case float64:
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return to, fmt.Errorf("a number is too large")
		}
		to = append(appendNumber(append(to, "<v>"...), v), "</v>"...)
	case bool:
		to = append(to, "<v>0</v>"...)
		if v {
			to[len(to)-5] = '1'
		}
	case string:
		if text != "" {
			to = append(escaped(append(to, "<v>"...), text, true, false), "</v>"...)
		}
	}
	return append(to, "</c>"...), nil
}

// appendText ends a cell that is a text.
func appendText(to []byte, text string) []byte {
	to = append(to, ` t="inlineStr"><is><t`...)
	if spaced(text) {
		to = append(to, ` xml:space="preserve"`...)
	}
	return append(escaped(append(to, '>'), text, true, true), "</t></is></c>"...)
}

// spaced reports whether a text begins or ends with what XML would take away.
func spaced(s string) bool {
	white := func(b byte) bool { return b == ' ' || b == '\t' || b == '\n' || b == '\r' }
	return s != "" && (white(s[0]) || white(s[len(s)-1]))
}

// entities are what stands for what XML does not let stand between tags, by byte. Quotes
// may stand there, and formulas are full of them.
var entities = [utf8.RuneSelf]string{
	'&': "&amp;", '<': "&lt;", '>': "&gt;", '\t': "&#x9;", '\n': "&#xA;", '\r': "&#xD;",
}

// stays tells of nearly all bytes that they stay as they are wherever they stand.
var stays [256]bool

func init() {
	for b := range byte(utf8.RuneSelf) {
		if b < ' ' && entities[b] == "" {
			entities[b] = "\uFFFD"
		}
		stays[b] = entities[b] == "" && b != '_'
	}
}

// escaped adds a text as it stands in XML; in values that look like the file format's
// own way to write a character are written so that they stay what they are. Breaks of
// lines stay as they are on request.
func escaped(to []byte, s string, value, breaks bool) []byte {
	from := 0
	for i := 0; i < len(s); {
		b, n, as := s[i], 1, ""
		if stays[b] {
			i++
			continue
		}
		switch {
		case b >= utf8.RuneSelf:
			var r rune
			if r, n = utf8.DecodeRuneInString(s[i:]); r == utf8.RuneError && n == 1 || r == 0xFFFE || r == 0xFFFF {
				as = "\uFFFD"
			}
		case b == '\n' && breaks:
		case b == '_' && value && isCode(s[i:]):
			as = "_x005F_"
		default:
			as = entities[b]
		}
		if as != "" {
			to = append(append(to, s[from:i]...), as...)
			from = i + n
		}
		i += n
	}
	return append(to, s[from:]...)
}

// isCode reports whether a text begins as the file format writes a character: _x0041_.
func isCode(s string) bool {
	if len(s) < 7 || s[1] != 'x' || s[6] != '_' {
		return false
	}
	for _, b := range []byte(s[2:6]) {
		if b < '0' || b > '9' && b < 'A' || b > 'F' && b < 'a' || b > 'f' {
			return false
		}
	}
	return true
}

// appendNumber adds a number with the 15 digits that the file keeps, without an exponent.
func appendNumber(to []byte, x float64) []byte {
	if math.Abs(x) < 1e15 && x == math.Trunc(x) {
		return strconv.AppendFloat(to, x, 'f', -1, 64)
	}
	var room [32]byte
	d := strconv.AppendFloat(room[:0], x, 'e', 14, 64) // -d.dddddddddddddde±dd
	if d[0] == '-' {
		to, d = append(to, '-'), d[1:]
	}
	power := 0
	for _, b := range d[18:] {
		power = 10*power + int(b-'0')
	}
	if d[17] == '-' {
		power = -power
	}
	d[1] = d[0]
	d = d[1:16]
	for len(d) > 1 && d[len(d)-1] == '0' {
		d = d[:len(d)-1]
	}
	if power < 0 {
		to = append(to, "0."...)
		for range -power - 1 {
			to = append(to, '0')
		}
		return append(to, d...)
	}
	for i := range max(power+1, len(d)) {
		switch {
		case i == power+1:
			to = append(to, '.', d[i])
		case i < len(d):
			to = append(to, d[i])
		default:
			to = append(to, '0')
		}
	}
	return to
}
