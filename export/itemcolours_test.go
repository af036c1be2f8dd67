package export

import (
	"slices"
	"testing"

	"bankwright/engine"
	"bankwright/engine/decl"
)

// TestItemColours: where series of a chart are items, each is drawn in the look of its own,
// which is that of its cells on maps, whatever the order is in which they stand.
func TestItemColours(t *testing.T) {
	b, k, drawn := Studied(t), trayModel(t).Compared(), 0
	for _, s := range b.Sheets {
		for _, c := range s.Charts {
			for _, x := range c.Series {
				name, _ := b.Find(x.Name.Sheet).At(x.Name.Row, x.Name.Col).Value.(string)
				item := slices.IndexFunc(k.Items, func(it *decl.Item) bool { return engine.ItemAlias(it) == name })
				if x.Item != item+1 {
					t.Errorf("%q: the series of %q is drawn as item %d of those counted from 1", c.Title, name, x.Item)
				}
				drawn += btoi(x.Item > 0)
			}
		}
		for _, row := range s.Rows() {
			for _, cell := range row {
				name, _ := cell.Value.(string)
				item := slices.IndexFunc(k.Items, func(it *decl.Item) bool { return engine.ItemAlias(it) == name })
				if hue := cell.Style.Hue(); hue >= 0 && item >= 0 && hue != item%Hues {
					t.Errorf("%s: %q has the colour of item %d", s.Name, name, hue)
				}
			}
		}
	}
	if drawn == 0 {
		t.Error("no chart has items as series")
	}
}
