package decl

import (
	"fmt"
	"strings"
	"testing"

	"bankwright/engine/diag"
)

// dump lists every key and value of a tree with its place, one a line.
func dump(n *node, path string, out *strings.Builder) {
	for i, kid := range n.kids {
		name := path + "." + kid.key
		if kid.key == "" {
			name = fmt.Sprintf("%s[%d]", path, i)
		}
		fmt.Fprintf(out, "%s key %d:%d+%d value %d:%d+%d %s\n", strings.TrimPrefix(name, "."),
			kid.keyAt.Line, kid.keyAt.Col, kid.keyAt.Len, kid.at.Line, kid.at.Col, kid.at.Len, kid.shown())
		dump(kid, name, out)
	}
}

const placesText = `title = "Größe 5"  # a comment = [
size = 1_000
  ratio=-0.5e1
dry = true
day = 2025-04-30
"odd key" = 'C:\x'
list = [ 1, # one, two
  [ "a", 'b' ],
  {x = 1, y.z = "é", w = []}, ]
[crate.small]
mass = "3 kg"
inner.deep = 4
[[step]]
a = 1
[[step]]
a = 2
story = """
first
  second"""
`

const placesWanted = `title key 1:1+5 value 1:9+9 Größe 5
size key 2:1+4 value 2:8+5 1_000
ratio key 3:3+5 value 3:9+6 -0.5e1
dry key 4:1+3 value 4:7+4 true
day key 5:1+3 value 5:7+10 2025-04-30
odd key key 6:1+9 value 6:13+6 C:\x
list key 7:1+4 value 7:8+15 [1, ["a", "b"], { x = 1, y = { z = "é" }, w = [] }]
list[0] key 7:10+1 value 7:10+1 1
list[1] key 8:3+12 value 8:3+12 ["a", "b"]
list[1][0] key 8:5+3 value 8:5+3 a
list[1][1] key 8:10+3 value 8:10+3 b
list[2] key 9:3+26 value 9:3+26 { x = 1, y = { z = "é" }, w = [] }
list[2].x key 9:4+1 value 9:8+1 1
list[2].y key 9:11+1 value 9:11+1 { z = "é" }
list[2].y.z key 9:13+1 value 9:17+3 é
list[2].w key 9:22+1 value 9:26+2 []
crate key 10:2+5 value 10:2+5 { small = { mass = "3 kg", inner = { deep = 4 } } }
crate.small key 10:8+5 value 10:8+5 { mass = "3 kg", inner = { deep = 4 } }
crate.small.mass key 11:1+4 value 11:8+6 3 kg
crate.small.inner key 12:1+5 value 12:1+5 { deep = 4 }
crate.small.inner.deep key 12:7+4 value 12:14+1 4
step key 13:3+4 value 13:3+4 [{ a = 1 }, { a = 2, story = "first   second" }]
step.step key 13:3+4 value 13:3+4 { a = 1 }
step.step.a key 14:1+1 value 14:5+1 1
step.step key 15:3+4 value 15:3+4 { a = 2, story = "first   second" }
step.step.a key 16:1+1 value 16:5+1 2
step.step.story key 17:1+5 value 17:9+3 first   second
`

func TestPlaces(t *testing.T) {
	for _, src := range []string{placesText, strings.ReplaceAll(placesText, "\n", "\r\n")} {
		var diags diag.List
		root := parse("a.toml", []byte(src), &diags)
		if root == nil || len(diags) > 0 {
			t.Fatal(diags)
		}
		var out strings.Builder
		dump(root, "", &out)
		if got := out.String(); got != placesWanted {
			t.Errorf("got\n%s\nwant\n%s", got, placesWanted)
		}
	}
}

func TestFormulaPlaces(t *testing.T) {
	tests := []struct {
		src, text    string
		offset, size int
		want         string // line:column+length
	}{
		{`a = "mass * price"`, "mass * price", 7, 5, "1:13+5"},
		{`a = '  = é * price'`, "é * price", 4, 5, "1:14+5"},
		{"a = \"\"\"mass\n * price\"\"\"", "mass\n * price", 8, 5, "2:4+5"},
		{"a = \"\"\"\n=mass\n * price\"\"\"", "mass\n * price", 0, 20, "2:2+4"},
		{"a = '''\r\nmass\r\n * price'''", "mass\n * price", 8, 5, "3:4+5"},
		{`a = "mass \u002A price"`, "mass * price", 7, 5, "1:5+19"},
		{"a = \"\"\"mass \\\n  * price\"\"\"", "mass * price", 7, 5, "1:5+9"},
		{`a = "mass"`, "mass", 4, 1, "1:10+0"},
	}
	for _, tt := range tests {
		var diags diag.List
		root := parse("a.toml", []byte(tt.src), &diags)
		if root == nil {
			t.Fatal(diags)
		}
		f := root.get("a").formula()
		if f.Text != tt.text {
			t.Errorf("%s: text %q, want %q", tt.src, f.Text, tt.text)
		}
		at := f.Pos(tt.offset, tt.size)
		if got := fmt.Sprintf("%d:%d+%d", at.Line, at.Col, at.Len); got != tt.want {
			t.Errorf("%q: %s, want %s", tt.src, got, tt.want)
		}
	}
}
