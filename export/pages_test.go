package export_test

import (
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"bankwright/engine/oracle"
	"bankwright/export"
	"bankwright/export/xlsx"
)

// TestFrontPage: LibreOffice prints the first sheet on one page, with nothing that is too
// narrow for its number, and the contents on the second.
func TestFrontPage(t *testing.T) {
	oracle.Slow(t)
	program, reader := oracle.Program(t, "soffice"), oracle.Program(t, "pdftotext")
	folder := t.TempDir()
	for _, name := range []string{"cabin", "boat", "quarry", "greenhouse"} {
		file := filepath.Join(folder, name+".xlsx")
		if err := xlsx.Write(file, export.Workbook(t, name)); err != nil {
			t.Fatal(err)
		}
		run := exec.Command(program, "-env:UserInstallation=file://"+filepath.Join(folder, "profile"), "--headless",
			"--convert-to", `pdf:calc_pdf_Export:{"PageRange":{"type":"string","value":"1-2"}}`, "--outdir", folder, file)
		if out, err := run.CombinedOutput(); err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		out, err := exec.Command(reader, "-layout", filepath.Join(folder, name+".pdf"), "-").Output()
		if err != nil {
			t.Fatal(err)
		}
		pages := strings.Split(string(out), "\f")
		if len(pages) < 2 {
			t.Fatalf("%s: %d pages", name, len(pages))
		}
		foot := func(page string) string {
			lines := strings.Split(strings.TrimSpace(page), "\n")
			return lines[len(lines)-1]
		}
		if !strings.Contains(foot(pages[0]), "Answer") || !strings.Contains(foot(pages[0]), "Page 1 of") || !strings.Contains(foot(pages[1]), "Contents") {
			t.Errorf("%s: the pages end with %q and %q", name, foot(pages[0]), foot(pages[1]))
		}
		for _, want := range []string{"Version of the rules", "Cautions", "What was assumed"} {
			if !strings.Contains(pages[0], want) && (name != "greenhouse" || want != "Cautions") {
				t.Errorf("%s: the first page lacks %q", name, want)
			}
		}
		if strings.Contains(pages[0], "###") {
			t.Errorf("%s: a number has no room:\n%s", name, pages[0])
		}
	}
}
