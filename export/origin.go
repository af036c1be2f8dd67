package export

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"slices"

	"bankwright/engine/decl"
)

// firstName is the first sheet, which says where a workbook comes from.
const firstName = "Answer"

// What the first sheet says at its end of where the workbook comes from, by which
// one that is sent back is known again.
const (
	originFile   = "Scenario file"
	originDigest = "Digest of the scenario"
	originRules  = "Version of the rules"
)

// Origin is where a workbook comes from: the name of the scenario's file, without
// folders, and short digests of the scenario with its lists and of all rules files.
type Origin struct{ File, Digest, Rules string }

// OriginFor is the origin of the workbooks of a scenario.
func OriginFor(m *decl.Model) Origin {
	return Origin{scenarioFile(m), scenarioDigest(m), rulesVersion(m)}
}

// OriginOf reads where a workbook comes from. The error is a sentence that goes on
// from the workbook's name.
func OriginOf(book Returned) (Origin, error) {
	const sheet = firstName
	s, err := book.Read(sheet, 0)
	if err != nil {
		if !slices.Contains(book.Sheets(), sheet) {
			err = errors.New("is not a workbook of ours: it has no sheet " + sheet)
		}
		return Origin{}, err
	}
	var o Origin
	to := map[string]*string{originFile: &o.File, originDigest: &o.Digest, originRules: &o.Rules}
	last := map[string][2]int{} // where a label stands twice, the one at the end of the sheet counts
	for at := range s.cells {
		label := s.text(at[0], at[1])
		if says := s.text(at[0], at[1]+1); to[label] != nil && says != "" && later(at, last[label]) {
			*to[label], last[label] = says, at
		}
	}
	if o.File == "" || o.Digest == "" {
		return Origin{}, errors.New("is not a workbook of ours, or the end of its sheet " + sheet + " was removed, where the scenario is named")
	}
	return o, nil
}

// later reports whether a cell stands behind another one, row by row.
func later(a, b [2]int) bool { return a[0] > b[0] || a[0] == b[0] && a[1] > b[1] }

// rulesVersion is a short digest of all rules files that were read: two
// workbooks with the same one follow the same rules.
func rulesVersion(m *decl.Model) string {
	return digestOf(m, func(f *decl.File) bool { return f.Rules })
}

// scenarioDigest is a short digest of the scenario and the lists that it includes.
func scenarioDigest(m *decl.Model) string {
	return digestOf(m, func(f *decl.File) bool { return !f.Rules && !f.Recording })
}

func digestOf(m *decl.Model, of func(f *decl.File) bool) string {
	h := sha256.New()
	for _, f := range m.Files {
		if of(f) {
			h.Write(f.Text)
			h.Write([]byte{0})
		}
	}
	return hex.EncodeToString(h.Sum(nil))[:12]
}
