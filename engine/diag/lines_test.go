package diag

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"time"

	"bankwright/engine/oracle"
)

// TestWindow: what is shown of a long line is the same as where all of it is looked at.
func TestWindow(t *testing.T) {
	line := []byte(strings.Repeat("é0,", 2000))
	for _, at := range []Pos{{Col: 1, Len: 3}, {Col: 300, Len: 3}, {Col: 3000, Len: 3}, {Col: 3000, Len: 2500}, {Col: 5999, Len: 1}, {Col: 6001}, {Col: 9000, Len: 2}, {}} {
		at.Line = 1
		whole, part := &writer{wide: lineWidth}, &writer{wide: lineWidth}
		whole.excerpt(line, at, "")
		near, moved := window(line, at)
		part.excerpt(near, moved, "")
		if whole.out.String() != part.out.String() {
			t.Errorf("%+v:\n%swant\n%s", at, part.out.String(), whole.out.String())
		}
	}
}

// TestManyOnOneLine: messages about one very long line do not each read all that stands in
// front of it, nor make it ready to be shown.
func TestManyOnOneLine(t *testing.T) {
	oracle.Measured(t)
	text := []byte(strings.Repeat("\n", 100_000) + strings.Repeat("10,", 200_000))
	var list List
	for i := range 300 {
		at := Pos{"a.toml", 100_001, 1 + 2000*i, 2}
		list.Add(Diagnostic{Summary: fmt.Sprint("no ", i), At: at, Related: []Related{{at, "here"}}})
	}
	start := oracle.Processor()
	var out bytes.Buffer
	Write(&out, list, func(string) []byte { return text }, false, 0)
	if took := oracle.Processor() - start; took > 2*time.Second || out.Len() > 200_000 {
		t.Errorf("%d bytes took %s", out.Len(), took)
	}
}
