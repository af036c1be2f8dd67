package gridfile

import (
	"fmt"
	"io"

	"github.com/parquet-go/parquet-go"

	"bankwright/engine/unit"
)

// What the writing of Parquet may take of memory, and so where files end: the values
// of a row group are held, compressed, until it is full, and the file's index, which
// has a line for every column of every row group, until the file is.
const (
	groupValues = 1 << 22 // in a row group, of all columns: 32 MB before compression
	pageBytes   = 1 << 24 // of the pages of all columns that are being filled
	mostIndexed = 1 << 15 // columns of row groups in a file
)

// writeParquet writes a table as Parquet: doubles, truths, and texts that are listed
// once in a dictionary. The unit of a column stands in the file's metadata under the
// column's name.
func writeParquet(out io.Writer, t *table, points int, run func(each func(n int) error) error) error {
	n := len(t.columns)
	rows := groupValues / n
	if most := rows * min(mostIndexed/n, parquet.MaxRowGroups); points > most {
		return fmt.Errorf("a Parquet file of %d columns holds %s points, not %s; write it in parts, or take CSV", n, unit.Format(float64(most), 0), unit.Format(float64(points), 0))
	}
	options := []parquet.WriterOption{
		schemaOf(t),
		parquet.CreatedBy(maker, "", ""),
		parquet.Compression(&parquet.Zstd),
		parquet.PageBufferSize(min(pageBytes/n, parquet.DefaultPageBufferSize)),
	}
	for _, c := range t.columns {
		if c.unit != "" {
			options = append(options, parquet.KeyValueMetadata(c.name, c.unit))
		}
	}
	w := parquet.NewWriter(out, options...)
	fields := w.ColumnWriters()
	cells := make([]cells, n)
	for j, c := range t.columns {
		cells[j].prepare(c, j)
	}
	held := 0
	err := run(func(n int) error {
		for j, c := range t.columns {
			if _, err := fields[j].WriteRowValues(cells[j].column(c)); err != nil {
				return err
			}
		}
		if held += n; held < rows {
			return nil
		}
		held = 0
		return w.Flush()
	})
	if err != nil {
		return err
	}
	return w.Close()
}

// schemaOf is what the columns of a table are.
func schemaOf(t *table) *parquet.Schema {
	group := parquet.Group{}
	for _, c := range t.columns {
		group[c.name] = nodeOf(c)
	}
	byName := map[string]parquet.Field{}
	for _, f := range group.Fields() {
		byName[f.Name()] = f
	}
	s := inOrder{Group: group}
	for _, c := range t.columns {
		s.fields = append(s.fields, byName[c.name])
	}
	return parquet.NewSchema("point", s)
}

// inOrder is a group whose columns stand in an order of their own: the library's are
// sorted by name.
type inOrder struct {
	parquet.Group
	fields []parquet.Field
}

// Fields are the columns in order.
func (s inOrder) Fields() []parquet.Field { return s.fields }

func nodeOf(c *column) parquet.Node {
	var node parquet.Node
	switch c.kind {
	case word:
		node = parquet.Encoded(parquet.String(), &parquet.RLEDictionary)
	case truth:
		node = parquet.Leaf(parquet.BooleanType)
	default:
		node = parquet.Leaf(parquet.DoubleType)
	}
	if !c.always {
		node = parquet.Optional(node)
	}
	return node
}

// cells are the values of a column as the library takes them.
type cells struct {
	index, level int
	words        []parquet.Value
	out          []parquet.Value
}

func (s *cells) prepare(c *column, index int) {
	if s.index = index; !c.always {
		s.level = 1 // of a value that is there
	}
	for _, text := range c.words {
		s.words = append(s.words, parquet.ByteArrayValue([]byte(text)).Level(0, s.level, index))
	}
}

// column is the values of a column.
func (s *cells) column(c *column) []parquet.Value {
	s.out = s.out[:0]
	for _, v := range c.values {
		var value parquet.Value
		switch {
		case v != v:
			value = parquet.NullValue().Level(0, 0, s.index)
		case c.kind == word:
			value = s.words[int(v)]
		case c.kind == truth:
			value = parquet.BooleanValue(v != 0).Level(0, s.level, s.index)
		default:
			value = parquet.DoubleValue(v).Level(0, s.level, s.index)
		}
		s.out = append(s.out, value)
	}
	return s.out
}
