package decl

import (
	"fmt"
	"io/fs"
	"path"
	"strings"
	"testing"

	"bankwright/engine/diag"
	"bankwright/rules"
)

// TestKnownFiles: of the standard rules the library that knows places reads the same
// values as the one that otherwise reads them, and all of them.
func TestKnownFiles(t *testing.T) {
	var values func(n *node, out *strings.Builder)
	values = func(n *node, out *strings.Builder) {
		fmt.Fprintf(out, "%s %d %q %q %v %v %v\n", n.key, n.kind, n.written, n.text, n.number, n.whole, n.truth)
		for _, kid := range n.kids {
			values(kid, out)
		}
	}
	files := 0
	err := fs.WalkDir(rules.Files, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || path.Ext(name) != ".toml" {
			return err
		}
		files++
		data, err := fs.ReadFile(rules.Files, name)
		if err != nil {
			return err
		}
		var known, full strings.Builder
		var diags diag.List
		b := builder{lines: newLines(name, data), data: data, diags: &diags, plainly: true}
		b.root = &node{kind: tableNode, heading: true}
		b.current = b.root
		if message, _ := b.walk(); message != "" || !b.plainly {
			t.Errorf("%s holds values that are not plain, or cannot be read: %s", name, message)
		}
		values(b.root, &known)
		root := parse(name, data, &diags)
		if root == nil || len(diags) > 0 {
			t.Fatal(name, diags)
		}
		values(root, &full)
		if known.String() != full.String() {
			t.Errorf("%s is read in two ways", name)
		}
		return nil
	})
	if err != nil || files == 0 {
		t.Fatal(files, err)
	}
}
