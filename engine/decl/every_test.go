package decl

import (
	"testing"
	"testing/fstest"
)

// racks are shelves of boards, in racks: each refers to the kind before.
const racks = `
[kind.board]
many = "boards"
[board.width]
unit = "cm"
[kind.shelf]
many = "shelves"
name = "{board}_{count}"
[shelf.board]
refers = "board"
[shelf.count]
default = 1
[kind.rack]
many    = "racks"
name    = "{shelf}_{side}"
compare = { by = "side", best = "lowest", shortlist = 3, table = ["side"], frontier = { lowest = "side", highest = "other" } }
[rack.shelf]
refers = "shelf"
[rack.side]
default = 1
[rack.other]
default = 1
`

// TestEveryItem: "all" takes every item, wherever in the files it stands, those
// of included lists and of combinations as well, and the items keep the order
// of the files.
func TestEveryItem(t *testing.T) {
	m, diags := Load(Sources{Files: fstest.MapFS{
		"s.toml": {Data: []byte(`
currency  = "EUR"
include   = ["more.toml"]
shortlist = ["wide", "elm_2_1"]
[rack.every]
each = { shelf = "all", side = [1, 2] }
keep = "side < 3"
[rack.wide]
shelf = "plain"
[board.oak]
width = "20 cm"
[shelf.made]
each = { board = "all", count = [1, 2] }
[shelf.plain]
board = "oak"
[board.sawn]
each = { width = ["1 cm", "2 cm"] }
[rack.last]
shelf = "elm_2"
`)},
		"more.toml": {Data: []byte("[board.elm]\nwidth = \"30 cm\"\n")},
	}, Scenario: "s.toml", Standard: fstest.MapFS{"r.toml": {Data: []byte(racks)}}})
	if len(diags) > 0 {
		t.Fatal(told(diags))
	}
	shelves := []string{"oak_1", "oak_2", "sawn_1_1", "sawn_1_2", "sawn_2_1", "sawn_2_2", "elm_1", "elm_2", "plain"}
	var want []string
	for _, s := range shelves {
		want = append(want, "rack."+s+"_1", "rack."+s+"_2")
	}
	want = append(want, "rack.wide", "rack.last")
	for _, s := range shelves {
		want = append(want, "shelf."+s)
	}
	want = append(want, "board.oak", "board.sawn_1", "board.sawn_2", "board.elm")
	var got []string
	for i := len(m.Kinds) - 1; i >= 0; i-- {
		for _, it := range m.Kinds[i].Items {
			got = append(got, m.Kinds[i].Name+"."+it.Name)
		}
	}
	compare(t, "items", got, want...)
	if g := m.item(t, "rack.sawn_2_1_2").Given["shelf"]; g.Texts[0] != "sawn_2_1" || g.Written != "sawn_2_1" {
		t.Errorf("the shelf is %+v", g)
	}
	if it := m.item(t, "rack.oak_1_1"); it.Group != "every" || it.Keep.Text != "side < 3" {
		t.Errorf("the combination is %+v", it)
	}
	if len(m.Shortlist) != 2 || m.Shortlist[1].Name != "elm_2_1" || m.Shortlist[1].At.Line != 4 {
		t.Errorf("the shortlist is %+v", m.Shortlist)
	}
	if c := m.Kinds[2].Compare; c.Shortlist != 3 || c.Table[0] != "side" || c.Frontier.Lowest != "side" || c.Frontier.Highest != "other" {
		t.Errorf("the comparison is %+v", c)
	}
}
