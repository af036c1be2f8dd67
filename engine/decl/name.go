package decl

import (
	"regexp"
	"slices"
	"strings"

	"bankwright/engine/diag"
)

// validName is the form of every name that a file gives to something.
var validName = regexp.MustCompile(`^[a-z][a-z0-9_]*$`)

const maxNameLength = 60

// reserved words have a meaning of their own in formulas.
var reserved = []string{
	"true", "false", "nil", "in", "not", "and", "or", "let", "if", "else",
	"matches", "contains", "map", "prev",
}

// aggregates are called like functions on kinds and series; a kind of that
// name would read like the call.
var aggregates = []string{
	"sum", "count", "any", "all", "min", "max", "mean", "deviation", "first", "last", "len",
}

// sections are the tables of a rules file that declare something other than
// the quantities of a kind.
var sections = []string{"kind", "axis", "constant", "table", "check", "caution", "question", "drawing"}

// itemKeys are keys of an item that are not quantities.
var itemKeys = []string{"label", "each", "keep"}

// nameOK reports whether a name may be used, and says why not otherwise.
// Further words may be taken besides those that formulas reserve.
func (l *loader) nameOK(name string, at diag.Pos, taken ...[]string) bool {
	switch {
	case !validName.MatchString(name):
		mend := "Begin with a small letter."
		if s := suggestName(name); s != "" {
			mend = "Write " + s + "."
		}
		l.diags.Errorf(at, "bad-name", mend,
			"`%s` cannot be a name: names are made of small letters, digits and _", shorten(name, 60))
	case len(name) > maxNameLength:
		l.diags.Errorf(at, "bad-name", "Shorten it; `label` may say more.", "the name is longer than 60 characters")
	case slices.Contains(reserved, name):
		l.diags.Errorf(at, "bad-name", "Choose another name.",
			"`%s` has a meaning of its own in formulas and cannot be a name", name)
	case slices.ContainsFunc(taken, func(words []string) bool { return slices.Contains(words, name) }):
		l.diags.Errorf(at, "bad-name", "Choose another name.", "`%s` has a meaning of its own and cannot be a name here", name)
	default:
		return true
	}
	return false
}

// plainLetters writes letters of European languages by those that names have.
var plainLetters = strings.NewReplacer("ä", "ae", "ö", "oe", "ü", "ue", "ß", "ss", "æ", "ae", "œ", "oe", "ø", "oe", "å", "aa",
	"à", "a", "á", "a", "â", "a", "ã", "a", "ç", "c", "è", "e", "é", "e", "ê", "e", "ë", "e", "ì", "i", "í", "i", "î", "i", "ï", "i",
	"ñ", "n", "ò", "o", "ó", "o", "ô", "o", "õ", "o", "ù", "u", "ú", "u", "û", "u", "ý", "y", "č", "c", "š", "s", "ž", "z", "ł", "l")

// suggestName is a valid name near to what was written, or nothing.
func suggestName(name string) string {
	var out strings.Builder
	gap := false
	for _, r := range plainLetters.Replace(strings.ToLower(name)) {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9' && out.Len() > 0:
			if gap && out.Len() > 0 {
				out.WriteByte('_')
			}
			out.WriteRune(r)
			gap = false
		default:
			gap = true
		}
	}
	s := out.String()
	if len(s) > maxNameLength || slices.Contains(reserved, s) {
		return ""
	}
	return s
}

// words is a name for people: "hour_length" is "hour length".
func words(name string) string { return strings.ReplaceAll(name, "_", " ") }

// heading is a name as a heading: "hour_length" is "Hour length".
func heading(name string) string {
	if name == "" {
		return ""
	}
	return strings.ToUpper(name[:1]) + words(name[1:])
}

// maxGuesses is how many names are compared in search of the nearest before
// that is given up: enough for every slip of a person, a second at most.
const maxGuesses = 1_000_000

// near is the candidate that a misspelt name most likely means, or nothing.
func (l *loader) near(name string, candidates []string) string {
	if l.guesses += len(candidates); l.guesses > maxGuesses || len(name) > maxNameLength {
		return ""
	}
	return diag.Nearest(name, candidates)
}

// didYouMean is the mend for a name that is not known: the nearest of the
// candidates, else a few of them.
func (l *loader) didYouMean(name string, candidates []string) string {
	if near := l.near(name, candidates); near != "" {
		return diag.Meant(name, near, "`"+near+"`")
	}
	return listing(candidates)
}

// listing names what may be written, or the first of it.
func listing(candidates []string) string {
	switch n := len(candidates); {
	case n == 0:
		return "Leave it out, or declare it first."
	case n == 1:
		return "There is only `" + candidates[0] + "`."
	case n > 12:
		return "Use one of " + strings.Join(candidates[:12], ", ") + " …"
	}
	return "Use one of " + strings.Join(candidates, ", ") + "."
}
