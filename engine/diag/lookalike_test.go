package diag

import "testing"

// TestMeant: letters that only look like Latin ones are named where the name is known
// without them, and nothing is said of others.
func TestMeant(t *testing.T) {
	names := []string{"large", "small", "house"}
	for name, want := range map[string]string{
		"l\u0430rge": "The letter \u0430 is Cyrillic; write a: large.",
		"h\u03bfuse": "The letter \u03bf is Greek; write o: house.",
		"larg":       "Did you mean large?",
		"l\u0430rg":  "Did you mean large?", // more is wrong with it
		"gro\u00df":  "",
	} {
		if got := DidYouMean(name, names); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
	pairs := []rune(lookalikes)
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i] < 0x370 || pairs[i] > 0x52f || pairs[i+1] > 'z' {
			t.Errorf("%c is no likeness of %c", pairs[i], pairs[i+1])
		}
	}
}
