package gridfile

import (
	"fmt"
	"io"

	"bankwright/engine/unit"
	"bankwright/export"
	"bankwright/export/xlsx"
)

// headRows stand above the points: the names of the columns and their units.
const headRows = 2

// writeXLSX writes a table as a workbook of one sheet.
func writeXLSX(out io.Writer, t *table, title string, points int, run func(each func(n int) error) error) error {
	if most := export.MostRows - headRows; points > most {
		return fmt.Errorf("a sheet of a workbook holds %s points, not %s; take CSV or Parquet", unit.Format(float64(most), 0), unit.Format(float64(points), 0))
	}
	if n := len(t.columns); n > export.MostColumns {
		return fmt.Errorf("a sheet of a workbook holds %s columns, not %s; take CSV or Parquet", unit.Format(export.MostColumns, 0), unit.Format(float64(n), 0))
	}
	sheet := &export.Sheet{Name: "Points", FreezeRows: headRows, Print: export.Print{Landscape: true, RepeatRows: headRows}}
	for j, c := range t.columns {
		style := export.Head
		if c.kind == word {
			style = export.HeadText
		}
		sheet.Set(1, j+1, export.Cell{Value: c.name, Style: style})
		if c.unit != "" {
			sheet.Set(2, j+1, export.Cell{Value: c.unit, Style: export.Unit})
		}
		sheet.Widths = append(sheet.Widths, min(max(float64(len(c.name)+2), 10), 40))
	}
	row := make([]export.Cell, len(t.columns))
	return xlsx.Stream(out, title, sheet, func(put func([]export.Cell) error) error {
		return run(func(n int) error {
			for i := range n {
				for j, c := range t.columns {
					row[j].Value = c.content(i)
				}
				if err := put(row); err != nil {
					return err
				}
			}
			return nil
		})
	})
}

// content is what the cell of a point holds, nil where there is no value.
func (c *column) content(i int) any {
	v := c.values[i]
	switch {
	case v != v:
		return nil
	case c.kind == word:
		return c.words[int(v)]
	case c.kind == truth:
		return v != 0
	}
	return v
}
