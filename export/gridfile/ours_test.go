package gridfile

import (
	"bytes"
	"testing"
)

// TestOurs: files that were written here are known again; logs, parts without a head,
// workbooks and what is cut off are not.
func TestOurs(t *testing.T) {
	m, g := grid(t, everything)
	for f, want := range map[Format]bool{CSV: true, Parquet: true, XLSX: false} {
		data := file(t, f, m, g, all)
		if got := Ours(bytes.NewReader(data), int64(len(data)), f); got != want {
			t.Errorf("%s: ours %v, want %v", f, got, want)
		}
		for _, part := range []int{0, 3, 11} {
			if Ours(bytes.NewReader(data[:part]), int64(part), f) {
				t.Errorf("%s: the first %d bytes are taken for a file of ours", f, part)
			}
		}
	}
	second := file(t, CSV, m, g, Part{2, 7})
	for name, data := range map[string]string{
		"a part": string(second), "a log": "time,voltage\n0,12.8\n", "a log with units": "Time (s),Bank voltage (V)\n0,12.8\n",
		"numbers": "1.5,2.5\n", "a line": "best\n", "no CSV": "\"a.b\nc\"d", "nothing": "",
	} {
		if Ours(bytes.NewReader([]byte(data)), int64(len(data)), CSV) {
			t.Errorf("%s is taken for points of ours", name)
		}
	}
	for _, data := range []string{"PAR1", "PAR1\xff\xff\xff\xffPAR1", "bankwright version 1\x04\x00\x00\x00PAR2"} {
		if Ours(bytes.NewReader([]byte(data)), int64(len(data)), Parquet) {
			t.Errorf("%q is taken for points of ours", data)
		}
	}
}
