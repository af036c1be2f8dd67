package diag

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
)

// Nearest is the candidate that a misspelt name most likely means, or "" when
// none is near. A name that differs in upper and lower case alone is always
// near; otherwise at most a third of the letters may be inserted, left out,
// replaced or swapped with their neighbour, so that a name of two letters may
// at most be written back to front. The order of the candidates does not
// matter.
func Nearest(name string, candidates []string) string {
	const longest = 64 // longer names are no slips, and the search is quadratic
	written := []rune(name)
	if len(written) == 0 || len(written) > longest {
		return ""
	}
	if latin, say := Latin(name); say != "" { // what looks the same is nearest
		written = []rune(latin)
	}
	folded := fold(written)
	best, bestEdits, bestCase := "", 0, 0
	for _, c := range candidates {
		runes := []rune(c)
		if len(runes) == 0 || len(runes) > longest {
			continue
		}
		edits, ok := near(folded, fold(runes))
		if !ok {
			continue
		}
		exact := sameLetters(written, runes)
		better := best == "" || edits < bestEdits || edits == bestEdits && (exact > bestCase || exact == bestCase && c < best)
		if better {
			best, bestEdits, bestCase = c, edits, exact
		}
	}
	return best
}

// Alike are at most so many of the candidates that have a word of the name in them,
// or the name as a part, or of which it is the initials, in their order: what was
// perhaps meant where none is near.
// Names of many words come last.
func Alike(name string, candidates []string, most int) []string {
	const least = 4 // letters of a word that says something
	var words []string
	for _, w := range append(strings.Split(string(fold([]rune(name))), "_"), name) {
		if len(w) >= least && len(w) <= 60 {
			words = append(words, w)
		}
	}
	share := func(c string) (n int) {
		if len(name) > 1 && initials(c) == strings.ToLower(name) {
			n = len(words) + 1 // before all others
		}
		for _, w := range words {
			if strings.Contains(c, w) {
				n++
			}
		}
		return n
	}
	var out []string
	for _, c := range candidates {
		if share(c) > 0 {
			out = append(out, c)
		}
	}
	slices.SortStableFunc(out, func(a, b string) int {
		return cmp.Or(cmp.Compare(share(b), share(a)), cmp.Compare(len(a), len(b)))
	})
	return out[:min(len(out), most)]
}

// initials are the first letters of the words of a name: "dof" of degree_of_freedom.
func initials(name string) string {
	var out strings.Builder
	for _, w := range strings.Split(string(fold([]rune(name))), "_") {
		if w != "" {
			out.WriteByte(w[0])
		}
	}
	if out.Len() < 2 {
		return ""
	}
	return out.String()
}

// near reports whether two folded names are close enough, and their distance.
func near(a, b []rune) (int, bool) {
	if slices.Equal(a, b) {
		return 0, true
	}
	if len(a) == 2 && len(b) == 2 {
		return swap, a[0] == b[1] && a[1] == b[0]
	}
	limit := max(len(a), len(b)) / 3
	if max(len(a), len(b))-min(len(a), len(b)) > limit {
		return 0, false
	}
	d := distance(a, b)
	return d, d <= limit*edit
}

// What a letter inserted, left out or replaced weighs, and two neighbours that
// are swapped: the commonest slip of the hand is the nearest.
const (
	edit = 3
	swap = 2
)

// distance is the optimal string alignment distance, weighted.
func distance(a, b []rune) int {
	before, last, this := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j * edit
	}
	for i := 1; i <= len(a); i++ {
		this[0] = i * edit
		for j := 1; j <= len(b); j++ {
			replaced := last[j-1]
			if a[i-1] != b[j-1] {
				replaced += edit
			}
			this[j] = min(replaced, last[j]+edit, this[j-1]+edit)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				this[j] = min(this[j], before[j-2]+swap)
			}
		}
		before, last, this = last, this, before
	}
	return last[len(b)]
}

// fold writes letters small, and a hyphen or space as the underscore that
// names have.
func fold(name []rune) []rune {
	return []rune(strings.Map(func(r rune) rune {
		if r == '-' || r == ' ' {
			return '_'
		}
		return unicode.ToLower(r)
	}, string(name)))
}

// sameLetters counts the places in which two names have the same letter in the
// same case.
func sameLetters(a, b []rune) int {
	n := 0
	for i := range min(len(a), len(b)) {
		if a[i] == b[i] {
			n++
		}
	}
	return n
}

// DidYouMean asks for the nearest name; it is empty where none is near.
func DidYouMean(name string, candidates []string) string {
	if near := Nearest(name, candidates); near != "" {
		return Meant(name, near, near)
	}
	return ""
}
