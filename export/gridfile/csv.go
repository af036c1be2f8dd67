package gridfile

import (
	"bufio"
	"encoding/csv"
	"io"
	"math"
	"strconv"
)

// writeCSV writes a table as comma-separated values (RFC 4180, lines ending in a
// line feed alone). Numbers have as many digits as give them back to the last bit.
func writeCSV(out io.Writer, t *table, head bool, run func(each func(n int) error) error) error {
	w := csv.NewWriter(bufio.NewWriterSize(out, 1<<16))
	record := make([]string, len(t.columns))
	if head {
		for j, c := range t.columns {
			if record[j] = c.name; c.unit != "" {
				record[j] += " (" + c.unit + ")"
			}
		}
		if err := w.Write(record); err != nil {
			return err
		}
	}
	written := make([]writing, len(t.columns))
	for j, c := range t.columns {
		for _, text := range c.words {
			written[j].words = append(written[j].words, guarded(text))
		}
	}
	err := run(func(n int) error {
		for j, c := range t.columns {
			written[j].column(c)
		}
		for i := range n {
			for j := range record {
				record[j] = written[j].fields[i]
			}
			if err := w.Write(record); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	w.Flush()
	return w.Error()
}

// guarded is a text that a spreadsheet program takes for a text: not for a formula,
// which it might carry out (OWASP, CSV Injection).
func guarded(text string) string {
	if text != "" {
		switch text[0] {
		case '=', '+', '-', '@', '\t', '\r':
			return "'" + text
		}
	}
	return text
}

// writing is how the values of a column are written.
type writing struct {
	words  []string
	fields []string
	buf    []byte
	ends   []int
}

var truths = []string{"false", "true"}

// column writes the values of a column.
func (w *writing) column(c *column) {
	w.fields = w.fields[:0]
	if c.kind == number {
		w.numbers(c)
		return
	}
	words := w.words
	if c.kind == truth {
		words = truths
	}
	for _, v := range c.values {
		field := ""
		if v == v {
			field = words[int(v)]
		}
		w.fields = append(w.fields, field)
	}
}

// numbers writes numbers into one string, of which the fields are parts.
func (w *writing) numbers(c *column) {
	w.buf, w.ends = w.buf[:0], w.ends[:0]
	for i, v := range c.values {
		if i == 0 || !c.same {
			w.buf = appendNumber(w.buf, v)
		}
		w.ends = append(w.ends, len(w.buf))
	}
	all, from := string(w.buf), 0
	for _, to := range w.ends {
		w.fields = append(w.fields, all[from:to])
		if !c.same {
			from = to
		}
	}
}

// appendNumber appends the shortest decimal that reads back as v, nothing for NaN.
func appendNumber(b []byte, v float64) []byte {
	if v != v {
		return b
	}
	format := byte('f')
	if a := math.Abs(v); a != 0 && a < 1e-6 || a >= 1e21 {
		format = 'e'
	}
	return strconv.AppendFloat(b, v, format, -1, 64)
}
