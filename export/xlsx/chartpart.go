package xlsx

import (
	"bytes"
	"cmp"
	"encoding/xml"
	"fmt"
	"html"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"bankwright/export"
)

// notOfValues stands in an axis of names only. The library writes it in the axis of
// values that lies below a scatter chart, too, where the schema of the format (ECMA-376,
// CT_ValAx) has no place for it.
var notOfValues = regexp.MustCompile(`<auto val="[01]"></auto><lblAlgn val="\w+"></lblAlgn><lblOffset val="\d+"></lblOffset><noMultiLvlLbl val="[01]"></noMultiLvlLbl></valAx>`)

// reference is where a chart refers to cells: what for, and which. Behind it the library
// leaves out their values, or the place of them empty.
var reference = regexp.MustCompile(`<(tx|cat|val|xVal|yVal)><(?:str|num)Ref><f>([^<]*)</f>(?:<numCache>.*?</numCache>)?</(?:str|num)Ref>`)

// chartPart finishes the part of a chart that the library has just made: only what the
// schema knows, and the values of the cells that it refers to, without which a program
// that shows files but calculates nothing would show no lines and bars.
func (w *writer) chartPart(c export.Chart) error {
	w.charts++
	name := fmt.Sprintf("xl/charts/chart%d.xml", w.charts)
	part, ok := w.f.Pkg.Load(name)
	text, is := part.([]byte)
	if !ok || !is {
		return fmt.Errorf("the library has kept no part %s", name)
	}
	ranges := map[string]export.Range{}
	for _, s := range c.Series {
		for _, r := range []export.Range{s.Name, s.X, s.Y} {
			ranges[r.String()] = r
		}
	}
	text = notOfValues.ReplaceAll(text, []byte("</valAx>"))
	text = reference.ReplaceAllFunc(text, func(ref []byte) []byte {
		found := reference.FindSubmatch(ref)
		r, ok := ranges[html.UnescapeString(string(found[2]))]
		if !ok {
			return ref
		}
		return referred(string(found[1]), found[2], w.cells(r))
	})
	w.f.Pkg.Store(name, text)
	return nil
}

// cells are those of a range, row by row.
func (w *writer) cells(r export.Range) (out []export.Cell) {
	s := w.book[r.Sheet]
	for row := r.Row; s != nil && row <= max(r.Row, r.ToRow); row++ {
		for col := r.Col; col <= max(r.Col, r.ToColumn); col++ {
			out = append(out, s.At(row, col))
		}
	}
	return out
}

// referred is a reference to cells with their values. Heights are numbers; names of
// series are texts; what stands along the axis is both, numbers if no cell holds anything
// else. A cell that holds nothing of this sort has no point.
func referred(element string, formula []byte, cells []export.Cell) []byte {
	sort := "num"
	if element == "tx" || element != "val" && element != "yVal" && slices.ContainsFunc(cells, isWords) {
		sort = "str"
	}
	var out bytes.Buffer
	fmt.Fprintf(&out, `<%s><%sRef><f>%s</f><%[2]sCache>`, element, sort, formula)
	if sort == "num" && len(cells) > 0 {
		out.WriteString("<formatCode>")
		xml.EscapeText(&out, []byte(cmp.Or(cells[0].Format, "General"))) // into a buffer, which takes everything
		out.WriteString("</formatCode>")
	}
	fmt.Fprintf(&out, `<ptCount val="%d"></ptCount>`, len(cells))
	for i, c := range cells {
		value, ok := "", c.Value != nil
		switch v := c.Value.(type) {
		case float64:
			value = strconv.FormatFloat(v, 'g', -1, 64)
		case string:
			value, ok = clean(v), sort == "str"
		case bool:
			value, ok = strings.ToUpper(strconv.FormatBool(v)), sort == "str"
		}
		if !ok {
			continue
		}
		fmt.Fprintf(&out, `<pt idx="%d"><v>`, i)
		xml.EscapeText(&out, []byte(value))
		out.WriteString("</v></pt>")
	}
	fmt.Fprintf(&out, `</%sCache></%[1]sRef>`, sort)
	return out.Bytes()
}

// isWords reports whether a cell holds something that is no number.
func isWords(c export.Cell) bool {
	_, number := c.Value.(float64)
	return !number && c.Value != nil
}
