package reading

import (
	"errors"
	"io"
	"math"
	"strings"
	"sync"
	"testing"

	"bankwright/engine/recording"
	"bankwright/engine/unit"
)

func recordingOf(text string, opened *int) *Recording {
	hour, _ := unit.Parse("h")
	mass, _ := unit.Parse("kg")
	return &Recording{
		Layout: recording.Layout{Time: "time", Columns: []recording.Column{{Name: "time", Unit: hour}, {Name: "mass", Unit: mass}}},
		Source: recording.Source{File: "scale.csv"},
		Open: func() (io.ReadCloser, error) {
			*opened++
			if text == "" {
				return nil, errors.New("gone")
			}
			return io.NopCloser(strings.NewReader(text)), nil
		},
	}
}

// TestRead: what is asked for together is found in one pass, what is known costs
// none, and several may ask at once.
func TestRead(t *testing.T) {
	opened := 0
	r := recordingOf("time [h],mass\n0,1\n1,3\n2,x\n3,5\n", &opened)
	r.Read(recording.Max{Of: "mass"}, recording.Integral{Of: "mass"}, recording.Max{Of: "mass"})
	if got := r.Result(recording.Integral{Of: "mass"}).Value; got != 10 || opened != 1 || r.Passes() != 1 {
		t.Errorf("integral %v, opened %d times", got, opened)
	}
	var wait sync.WaitGroup
	for range 8 {
		wait.Go(func() {
			if got := r.Result(recording.Min{Of: "mass"}).Value; got != 1 {
				t.Errorf("smallest %v", got)
			}
		})
	}
	wait.Wait()
	if opened != 2 || r.Report().Rows != 4 {
		t.Errorf("opened %d times, %d rows", opened, r.Report().Rows)
	}
	if got := string(r.Lines()); got != "\n\n\n2,x\n" {
		t.Errorf("the lines that are named: %q", got)
	}
}

// TestLongLine: of a line without end as much is shown as fits a screen.
func TestLongLine(t *testing.T) {
	opened := 0
	r := recordingOf("time [h],mass\n0,1\n1,"+strings.Repeat("x", 20_000)+"\n2,3\n", &opened)
	shown := "\n\n1," + strings.Repeat("x", 398)
	if got := string(r.Lines()); got != shown {
		t.Errorf("%d bytes, want %d", len(got), len(shown))
	}
	r = recordingOf("time [h],mass\n0,1\n1,"+strings.Repeat("x", 20_000)+"\n2,y\n3,4\n", &opened)
	if got, want := string(r.Lines()), shown+"\n2,y\n"; got != want {
		t.Errorf("with a line behind it %d bytes, want %d", len(got), len(want))
	}
}

// TestGone: a recording that cannot be opened is told, and has nothing.
func TestGone(t *testing.T) {
	opened := 0
	r := recordingOf("", &opened)
	if v := r.Result(recording.Max{Of: "mass"}).Value; !math.IsNaN(v) || r.Report().Usable() || len(r.Lines()) > 0 {
		t.Errorf("%v, %v", v, r.Report().Problems)
	}
}

// TestShelf: the same recording is kept, another is not mistaken for it.
func TestShelf(t *testing.T) {
	var s Shelf
	opened := 0
	a, b := recordingOf("x", &opened), recordingOf("x", &opened)
	if s.Keep("one", a) != a || s.Keep("one", b) != a || s.Keep("two", b) != b {
		t.Error("recordings are mixed up")
	}
}

// TestAhead: what a shelf knows to be asked later is found in the first pass.
func TestAhead(t *testing.T) {
	opened := 0
	shelf := Shelf{Ahead: func(l recording.Layout) []recording.Measure {
		return []recording.Measure{recording.Max{Of: l.Columns[1].Name}, recording.Curves{Points: 500}}
	}}
	r := shelf.Keep("scale", recordingOf("time [h],mass\n0,1\n1,3\n", &opened))
	r.Read(recording.Min{Of: "mass"})
	if low, top, curve := r.Result(recording.Min{Of: "mass"}), r.Result(recording.Max{Of: "mass"}), r.Result(recording.Curves{Points: 500}); low.Value != 1 || top.Value != 3 || curve.Value != 2 {
		t.Errorf("from %v to %v in %v rows", low.Value, top.Value, curve.Value)
	}
	if opened != 1 || r.Passes() != 1 {
		t.Errorf("opened %d times", opened)
	}
}
