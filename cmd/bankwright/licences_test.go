package main

import (
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// licences are names of licences (SPDX) by the words that only they have. All of them
// let the program be passed on, sold and changed, if their notices go with it.
var licences = []struct{ name, words string }{
	{"Apache-2.0", "Apache License Version 2.0, January 2004"},
	{"MIT", "Permission is hereby granted, free of charge, to any person obtaining a copy of this software"},
	{"BSD-3-Clause", "to endorse or promote products derived from this software without specific prior written permission"},
	{"BSD-2-Clause", "other materials provided with the distribution. This software is provided"},
	{"FTL", "The FreeType License, which is similar to the original BSD license"},
	{"OFL-1.1", "SIL OPEN FONT LICENSE Version 1.1"},
	{"CC-BY-4.0", "Creative Commons Attribution 4.0 International Public License"},
}

// licencesOf are the licences of a module by the texts in its folder.
func licencesOf(t *testing.T, folder string) string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(folder, "*"))
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]bool{}
	for _, path := range files {
		if !regexp.MustCompile(`(?i)^(licen[cs]e|copying)`).MatchString(filepath.Base(path)) || strings.HasSuffix(path, "link.txt") {
			continue
		}
		text, err := os.ReadFile(path)
		if err != nil {
			continue // a folder
		}
		flat := strings.ToLower(strings.Join(strings.Fields(string(text)), " "))
		for _, l := range licences {
			if strings.Contains(flat, strings.ToLower(l.words)) {
				found[l.name] = true
			}
		}
	}
	return strings.Join(slices.Sorted(maps.Keys(found)), ", ")
}

// TestLicences: DEVELOPERS.md lists every module of which something is in the program, on
// any system that it is built for, with its licence as its own files have it; a module
// under any other licence fails. To renew the table:
//
//	go test ./cmd/bankwright -run TestLicences -update
func TestLicences(t *testing.T) {
	table := map[string]string{}
	for _, system := range []string{"linux", "darwin", "windows"} {
		list := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}} {{.Dir}}{{end}}{{end}}", ".")
		list.Env = append(os.Environ(), "GOOS="+system, "GOARCH=amd64", "CGO_ENABLED=0")
		out, err := list.Output()
		if err != nil {
			t.Fatalf("the modules for %s cannot be listed: %v", system, err)
		}
		for _, line := range strings.Split(strings.TrimSpace(string(out)), "\n") {
			if module, folder, ok := strings.Cut(line, " "); ok && table[module] == "" {
				if table[module] = licencesOf(t, folder); table[module] == "" {
					t.Errorf("%s has no licence that is known", module)
				}
			}
		}
	}
	want := "\n"
	for _, module := range slices.Sorted(maps.Keys(table)) {
		want += fmt.Sprintf("- %s: %s\n", module, table[module])
	}
	const begin, end = "<!-- licences -->\n", "\n<!-- end of licences -->"
	page := file(t, "DEVELOPERS.md")
	before, rest, ok := strings.Cut(page, begin)
	listed, after, ends := strings.Cut(rest, end)
	if !ok || !ends {
		t.Fatalf("DEVELOPERS.md has no %s", begin)
	}
	if listed == want {
		return
	}
	if !*update {
		t.Fatalf("DEVELOPERS.md lists\n%s\nbut in the program are\n%s", listed, want)
	}
	if err := os.WriteFile(filepath.Join(root, "DEVELOPERS.md"), []byte(before+begin+want+end+after), 0o644); err != nil {
		t.Fatal(err)
	}
}
