package export_test

import (
	"path/filepath"
	"regexp"
	"testing"

	"bankwright/engine/oracle"
	"bankwright/export"
	"bankwright/export/xlsx"
)

// TestLanguage: on a computer that writes a comma before decimals and dots between
// thousands a workbook says the same, in figures as they are written there.
func TestLanguage(t *testing.T) {
	oracle.Slow(t)
	t.Parallel()
	from, to := t.TempDir(), t.TempDir()
	names := []string{"cabin", "bench"}
	args := []string{"--convert-to", "xlsx", "--outdir", to}
	for _, name := range names {
		path := filepath.Join(from, name+".xlsx")
		if err := xlsx.Write(path, export.Workbook(t, name)); err != nil {
			t.Fatal(err)
		}
		args = append(args, path)
	}
	officeIn(t, "de-DE", args...)
	for _, name := range names {
		saved, err := xlsx.Open(filepath.Join(to, name+".xlsx"))
		if err != nil {
			t.Fatal(err)
		}
		defer saved.Close()
		written, other := 0, 0
		for _, s := range export.Workbook(t, name).Sheets {
			there, err := saved.Read(s.Name, 1_000_000)
			if err != nil {
				t.Fatal(err)
			}
			for i, row := range s.Rows() {
				for j, c := range row {
					words, ok := c.Value.(string)
					if !ok || c.Formula == "" {
						continue
					}
					got, _ := there.At(i+1, j+1).Value.(string)
					if got != words {
						other++
					}
					if unmarked(got) != unmarked(words) {
						t.Errorf("%s!R%dC%d of %s says %q, in English %q: %s", s.Name, i+1, j+1, name, got, words, c.Formula)
					}
					written++
				}
			}
		}
		if written < 100 || other < 5 {
			t.Errorf("%s: of %d texts %d are other than in English", name, written, other)
		}
	}
}

var mark = regexp.MustCompile(`(\d)[.,](\d)`)

// unmarked has the same between digits wherever a language writes a dot or a comma.
func unmarked(s string) string {
	return mark.ReplaceAllString(mark.ReplaceAllString(s, "$1|$2"), "$1|$2")
}
