package engine_test

import (
	"strings"
	"testing"

	"bankwright/engine"
	"bankwright/engine/diag"
)

// TestTold: of very many messages a hundred are told, errors before warnings, and how
// many more there are, where there are more.
func TestTold(t *testing.T) {
	for faults, more := range map[int]string{1: "", engine.MostTold: "", engine.MostTold + 1: "left out: 1 more message", engine.MostTold + 1500: "left out: 1,500 more messages"} {
		var list diag.List
		for i := range faults {
			if i%2 == 0 && faults > engine.MostTold && i < 20 {
				list.Warnf(diag.Pos{Line: i + 1}, "unusual", "", "a warning")
			} else {
				list.Errorf(diag.Pos{Line: i + 1}, "wrong-kind", "", "an error")
			}
		}
		before := len(list)
		told := engine.Told(list)
		want := faults
		if more != "" {
			want = engine.MostTold + 1
		}
		last := told[len(told)-1]
		if len(told) != want || len(list) != before || (last.Code == "limit") != (more != "") || !strings.Contains(last.Summary, more) {
			t.Errorf("of %d messages %d are told, at last: %s", faults, len(told), last.Summary)
		}
		if more != "" && told[0].Severity != diag.Error {
			t.Errorf("of %d messages warnings are told first", faults)
		}
	}
}
