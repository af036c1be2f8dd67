package decl

import (
	"fmt"
	"strings"
	"testing"

	"bankwright/engine/diag"
)

// brief is a diagnostic on one line without its file.
func brief(d diag.Diagnostic) string {
	return fmt.Sprintf("%d:%d+%d %s", d.At.Line, d.At.Col, d.At.Len, d.Summary)
}

// The lines, columns and lengths count characters as editors do. What is and
// is not well-formed follows TOML 1.0 (toml.io).
var syntaxTests = []struct{ src, want string }{
	{"a = \"x\nb = 1", "1:7+0 the text is not closed on its line"},
	{"a = \"x", "1:7+0 the text is not closed on its line"},
	{"a = '''x", "1:8+1 a text is not closed"},
	{`a = "\q"`, "1:6+2 a backslash in a text means something else here"},
	{`a = "\u00"`, "1:6+5 the character code after the backslash cannot be read"},
	{"a = 2025-13-40", "1:5+10 `2025-13-40` is not a date that exists"},
	{"a = 99999999999999999999", "1:5+20 the number is too large"},
	{"a = 1e999", "1:5+5 the number is too large"},
	{"a = 007", "1:5+3 a number cannot begin with a zero that is not needed"},
	{"a = 1__0", "1:5+4 an underscore in a number stands between two digits"},
	{"a = 1.", "1:5+2 the number cannot be read"},
	{"a = .5", "1:5+1 the number cannot be read"},
	{"a = [1 2]", "1:8+1 a comma or the closing bracket ] of the list is missing"},
	{"a = {b = 1 c = 2}", "1:12+1 a comma or the closing brace } is missing"},
	{"a = [1,,2]", "1:8+1 a comma stands where a value belongs"},
	{"[]\n", "1:2+1 a heading has no name"},
	{"[a\nb = 1", "1:3+0 the heading is not closed"},
	{"[[a]\nb = 1", "1:4+1 the heading is not closed"},
	{"mass 3", "1:6+1 an equals sign is missing behind the key"},
	{"= 3", "1:1+1 a key has no name"},
	{"a = 3 kg", "1:5+4 `3 kg` does not stand between quotes"},
	{"a = 80 %", "1:5+4 `80 %` does not stand between quotes"},
	{"a = kg", "1:5+2 `kg` does not stand between quotes"},
	{"a = ", "1:4+1 a value is missing or cannot be read"},
	{"a = \"x\x01\"", "1:6+1 the file holds a control character"},
	{"a = [1,", "1:7+1 a value is missing or cannot be read"},
	{"a = 1\na = 2\na = 3", "2:1+1 `a` is already given at line 1; 3:1+1 `a` is already given at line 1"},
	{"[a]\nb=1\n[a]\nb=2\n[a.c]\nd = 1", "3:2+1 `a` is already given at line 1"},
	{"a = {x = 1, x = 2}\nb = [{y = 1, y = {z = 1, z = 2}}]\na.q = 3", "1:13+1 `x` is already given at line 1; 2:14+1 `y` is already given at line 2; 2:26+1 `z` is already given at line 2; 3:1+1 `a` is already given at line 1"},
	{"a = 1\n[a.b]\nc = 1", "2:2+1 `a` is already given at line 1"},
	{"[[a]]\n[a]\nb = 1", "2:2+1 `a` is already given at line 1"},
	{"a = []\n[[a]]\nb = 1", "2:3+1 `a` is already given at line 1"},
	{"a.b = 1\n[a]\nc = 1", "2:2+1 `a` is already given at line 1"},
	{"[a.b]\nx = 1\n[a]\nb.y = 2", "4:1+1 `b` is already given at line 1"},
	{"a = \"x\u009b\"", "1:7+1 the text holds a control character"},
	{"a = nan\nb = [-inf]", "1:5+3 `nan` is not a number that can be used; 2:6+4 `-inf` is not a number that can be used"},
	{"a = " + strings.Repeat("[", 70), "1:69+1 brackets are nested more than 64 deep"},
	{"a = \"\x00\"", "1:6+1 the file is not plain text: it holds a zero byte"},
	{"a = 1\nb = \"\xff\"", "2:6+1 the file is not written in UTF-8"},
	{strings.Repeat("a.", 70) + "b = 1", "1:128+1 a name has more than 64 parts"},
	{strings.Repeat("a", 300) + " = 1", "1:1+1 a word is longer than 200 characters"},
	{`"` + strings.Repeat("a", 300) + `" = 1`, "1:1+1 a key is longer than 200 characters"},
}

func TestSyntaxErrors(t *testing.T) {
	for _, tt := range syntaxTests {
		var diags diag.List
		parse("a.toml", []byte(tt.src), &diags)
		var got []string
		for _, d := range diags {
			got = append(got, brief(d))
		}
		if strings.Join(got, "; ") != tt.want {
			t.Errorf("%.60q:\n got %s\nwant %s", tt.src, strings.Join(got, "; "), tt.want)
		}
		for _, d := range diags {
			if d.Mend == "" || strings.Contains(d.Summary, "toml:") {
				t.Errorf("%.60q: %q with the mend %q", tt.src, d.Summary, d.Mend)
			}
		}
	}
}
