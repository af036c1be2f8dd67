package diag

import (
	"strings"
	"unicode"
)

// lookalikes are letters of other scripts that are drawn as Latin ones, each in front of
// its likeness. Source: Unicode Technical Standard 39, Unicode Security Mechanisms,
// confusables; of it, single letters of Cyrillic and Greek that look like one of Latin.
const lookalikes = "АAВBЕEЅSІIЈJКKМMНHОOРPСCТTУYХXԚQԜWаaеeѕsіiјjкkоoрpсcуyхxһhӏlԁdԛqԝwѵv" +
	"ΑAΒBΕEΖZΗHΙIΚKΜMΝNΟOΡPΤTΥYΧXαaιiκkνvοoρpυuχxγy"

var latinOf = func() map[rune]rune {
	of, pairs := map[rune]rune{}, []rune(lookalikes)
	for i := 0; i < len(pairs); i += 2 {
		of[pairs[i]] = pairs[i+1]
	}
	return of
}()

// Latin is a name whose letters that look like Latin ones are such. Where there are any,
// say tells of the first: "The letter а is Cyrillic; write a".
func Latin(name string) (latin, say string) {
	latin = strings.Map(func(r rune) rune {
		l, ok := latinOf[r]
		if !ok {
			return r
		}
		if say == "" {
			script := "Cyrillic"
			if unicode.Is(unicode.Greek, r) {
				script = "Greek"
			}
			say = "The letter " + string(r) + " is " + script + "; write " + string(l)
		}
		return l
	}, name)
	return latin, say
}

// Meant asks whether a name that is not known means another, or says which of its
// letters only look like those of the other; near is as the sentence shows it.
func Meant(name, other, near string) string {
	if latin, say := Latin(name); say != "" && latin == other {
		return say + ": " + near + "."
	}
	return "Did you mean " + near + "?"
}
