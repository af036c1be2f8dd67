package main

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"sort"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"bankwright/engine"
	"bankwright/scenarios"
)

const root = "../.."

// tradeWords are words of the trade. It lives in rules/*.toml, and neither the
// engine's code nor a workbook made from other rules may say one of them.
var tradeWords = strings.Fields(`battery batteries inverter inverters solar photovoltaic fuse fuses cable cables
	wiring bms ampacity lithium alternator alternators charger chargers busbar autonomy amperage`)

// tradeWord is the first word of the trade in a text, and the line it stands in;
// names are taken apart, as in batteryPrice and battery_price.
func tradeWord(text string) (word string, line int) {
	for i, l := range strings.Split(text, "\n") {
		if strings.Contains(strings.ToLower(l), "lifepo") {
			return "LiFePO4", i + 1
		}
		var b strings.Builder
		was := ' '
		for _, r := range l {
			if !unicode.IsLetter(r) || unicode.IsUpper(r) && unicode.IsLower(was) {
				b.WriteByte(' ')
			}
			if unicode.IsLetter(r) {
				b.WriteRune(r)
			}
			was = r
		}
		for _, w := range strings.Fields(b.String()) {
			if slices.Contains(tradeWords, strings.ToLower(w)) {
				return w, i + 1
			}
		}
	}
	return "", 0
}

func TestTradeWord(t *testing.T) {
	for text, want := range map[string]string{
		"refuse to confuse, where applicable": "",
		"the battery":                         "battery",
		"a\nbatteryPrice":                     "battery",
		"a_fuse":                              "fuse",
		"an LiFePO4 cell":                     "LiFePO4",
		"the BMS,":                            "BMS",
	} {
		if got, _ := tradeWord(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

// goFiles are the paths of all Go files below a folder of the project.
func goFiles(t *testing.T, folder string) []string {
	t.Helper()
	var files []string
	err := filepath.WalkDir(filepath.Join(root, folder), func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if name := d.Name(); d.IsDir() && (name == "testdata" || len(name) > 2 && name[0] == '.') {
			return filepath.SkipDir
		}
		if filepath.Ext(path) == ".go" {
			files = append(files, path)
		}
		return nil
	})
	if err != nil || len(files) == 0 {
		t.Fatalf("no Go files in %s: %v", folder, err)
	}
	return files
}

// TestEngineKnowsNoTrade: the engine's code, tests included, says no word of the
// trade.
func TestEngineKnowsNoTrade(t *testing.T) {
	for _, path := range goFiles(t, "engine") {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if word, line := tradeWord(string(text)); word != "" {
			t.Errorf("%s:%d: the engine knows nothing of %s; the trade lives in rules/*.toml", path, line, word)
		}
	}
}

// mayImport lists, for each package, which packages of the project its code may
// import: data walks through once, and imports go one way. Tests may look
// further.
var mayImport = map[string]string{
	"engine/arith":            "",
	"engine/diag":             "",
	"engine/graph":            "",
	"engine/unit":             "engine/diag",
	"engine/recording":        "engine/diag engine/unit",
	"engine/reading":          "engine/diag engine/recording",
	"engine/oracle":           "",
	"engine/sample":           "",
	"engine/formula":          "engine/arith engine/recording engine/unit",
	"engine/decl":             "engine/diag engine/reading engine/recording engine/unit",
	"engine/check":            "engine/arith engine/decl engine/diag engine/formula engine/graph engine/sample engine/unit",
	"engine/eval":             "engine/arith engine/check engine/decl engine/formula engine/reading engine/recording",
	"engine/schema":           "engine/decl engine/unit",
	"engine/sweep":            "engine/arith engine/check engine/decl engine/eval engine/formula engine/sample engine/unit",
	"engine":                  "engine/arith engine/check engine/decl engine/diag engine/eval engine/formula engine/reading engine/recording engine/sweep engine/unit",
	"export/calc":             "",
	"export":                  "engine engine/arith engine/check engine/decl engine/diag engine/eval engine/formula engine/reading engine/recording engine/sample engine/sweep engine/unit export/calc export/picture export/text export/told",
	"export/picture":          "engine/unit",
	"export/reference":        "engine/decl",
	"export/told":             "engine engine/check engine/decl engine/eval engine/sample engine/sweep engine/unit",
	"export/text":             "engine engine/check engine/decl engine/diag engine/eval engine/sample engine/sweep engine/unit export/reference export/told",
	"export/whole":            "",
	"export/xlsx":             "export export/picture export/whole",
	"export/gridfile":         "engine/check engine/decl engine/eval engine/sweep engine/unit export export/xlsx",
	"rules":                   "",
	"scenarios":               "",
	"cmd/bankwright":          "engine engine/check engine/decl engine/diag engine/reading engine/schema engine/sweep engine/unit export export/gridfile export/picture export/reference export/text export/whole export/xlsx rules scenarios",
	"cmd/bankwright/straight": "engine/formula",
}

// mayUse lists, for each module from outside, which packages may import it.
var mayUse = map[string]string{
	"github.com/expr-lang/expr":        "engine/formula engine/eval",
	"github.com/BurntSushi/toml":       "engine/decl",
	"github.com/pelletier/go-toml/v2":  "engine/decl",
	"github.com/xuri/excelize/v2":      "export/xlsx",
	"github.com/klauspost/compress":    "export/xlsx export/picture",
	"github.com/parquet-go/parquet-go": "export/gridfile",
	"github.com/fsnotify/fsnotify":     "cmd/bankwright",
	"github.com/spf13/cobra":           "cmd/bankwright",
	"github.com/spf13/pflag":           "cmd/bankwright",
	"golang.org/x/sys":                 "engine/arith export/whole",
	"golang.org/x/term":                "cmd/bankwright",
	"github.com/rogpeppe/go-internal":  "",
	"gonum.org/v1/gonum":               "engine/formula engine/sample export/calc",
	"gonum.org/v1/plot":                "export/picture",
	"github.com/golang/freetype":       "export/picture",
	"golang.org/x/image":               "export/picture",
}

// testsMayUse is what tests may import beyond that.
var testsMayUse = map[string]string{
	"github.com/rogpeppe/go-internal": "cmd/bankwright",
	"github.com/expr-lang/expr":       "cmd/bankwright", // to time its machine
	"github.com/xuri/excelize/v2":     "export export/gridfile",
	"github.com/BurntSushi/toml":      "cmd/bankwright", // a table of the tests
	"golang.org/x/sys":                "cmd/bankwright", // to give up a right of the superuser
}

// imports are the paths that a file imports.
func imports(t *testing.T, path string) []string {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for _, s := range f.Imports {
		p, err := strconv.Unquote(s.Path.Value)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, p)
	}
	return list
}

// TestImports holds every import to the two lists above.
func TestImports(t *testing.T) {
	seen := map[string]bool{}
	for _, path := range goFiles(t, "") {
		pkg, err := filepath.Rel(root, filepath.Dir(path))
		if err != nil {
			t.Fatal(err)
		}
		pkg = filepath.ToSlash(pkg)
		seen[pkg] = true
		allowed, known := mayImport[pkg]
		if !known {
			t.Errorf("%s: the package %s is not in mayImport", path, pkg)
		}
		for _, imported := range imports(t, path) {
			test := strings.HasSuffix(path, "_test.go")
			if own, ok := strings.CutPrefix(imported, "bankwright/"); ok {
				if !test && !slices.Contains(strings.Fields(allowed), own) {
					t.Errorf("%s: %s may not import %s", path, pkg, own)
				}
				continue
			}
			module := moduleOf(imported)
			users := strings.Fields(mayUse[module])
			if test {
				users = append(users, strings.Fields(testsMayUse[module])...)
			}
			if module != "" && !slices.Contains(users, pkg) {
				t.Errorf("%s: %s may not import %s", path, pkg, imported)
			}
		}
	}
	for pkg := range mayImport {
		if !seen[pkg] {
			t.Errorf("there is no package %s", pkg)
		}
	}
}

// moduleOf is the module of an import path: one of mayUse, else the path itself;
// nothing for the standard library.
func moduleOf(imported string) string {
	if first, _, _ := strings.Cut(imported, "/"); !strings.Contains(first, ".") {
		return ""
	}
	for m := range mayUse {
		if imported == m || strings.HasPrefix(imported, m+"/") {
			return m
		}
	}
	return imported
}

// TestDependencies: the modules that the code imports, the direct ones of go.mod
// and the table in DEVELOPERS.md are the same, and each has a reason.
func TestDependencies(t *testing.T) {
	used := map[string]bool{}
	for _, path := range goFiles(t, "") {
		for _, imported := range imports(t, path) {
			if m := moduleOf(imported); m != "" {
				used[m] = true
			}
		}
	}
	required := map[string]bool{}
	for _, m := range regexp.MustCompile(`(?m)^(?:require|\t)\s*(\S+) v\S+$`).FindAllStringSubmatch(file(t, "go.mod"), -1) {
		required[m[1]] = true // lines with "// indirect" do not match
	}
	listed := map[string]bool{}
	_, section, found := strings.Cut(file(t, "DEVELOPERS.md"), "\n## Dependencies\n")
	if !found {
		t.Fatal("DEVELOPERS.md has no section Dependencies")
	}
	section, _, _ = strings.Cut(section, "\n## ")
	for _, m := range regexp.MustCompile(`(?m)^\| ([^ |]+\.[^ |]+) \| (.*) \|$`).FindAllStringSubmatch(section, -1) {
		listed[m[1]] = true
		if len(strings.Fields(m[2])) < 3 {
			t.Errorf("DEVELOPERS.md gives no reason for %s", m[1])
		}
	}
	if names(used) != names(required) {
		t.Errorf("imported: %s\ndirect in go.mod: %s\ngo mod tidy sets it right", names(used), names(required))
	}
	if names(used) != names(listed) {
		t.Errorf("imported: %s\nin DEVELOPERS.md: %s", names(used), names(listed))
	}
}

func names(set map[string]bool) string {
	var list []string
	for n := range set {
		list = append(list, n)
	}
	sort.Strings(list)
	return strings.Join(list, " ")
}

func file(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(root, name))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// TestTopLevel: the top level holds these names and nothing else but what
// .gitignore leaves out, such as a workbook that somebody has just made.
func TestTopLevel(t *testing.T) {
	allowed := strings.Fields("cmd engine rules scenarios export testdata go.mod go.sum README.md DEVELOPERS.md .ci .gitignore")
	entries, err := os.ReadDir(root)
	if err != nil {
		t.Fatal(err)
	}
	ignored := append(strings.Fields(file(t, ".gitignore")), ".git")
	present := map[string]bool{}
	for _, e := range entries {
		present[e.Name()] = true
		if slices.Contains(allowed, e.Name()) || slices.ContainsFunc(ignored, func(pattern string) bool {
			ok, _ := filepath.Match(strings.Trim(pattern, "/"), e.Name())
			return ok
		}) {
			continue
		}
		t.Errorf("%s has no place at the top level", e.Name())
	}
	for _, name := range allowed {
		if !present[name] {
			t.Errorf("%s is missing at the top level", name)
		}
	}
}

// TestExamples: every scenario that comes with the program is free of faults and
// warnings, and every cell of it is what expr's own machine computes.
func TestExamples(t *testing.T) {
	list, err := fs.Glob(scenarios.Files, "*.toml")
	if err != nil || len(list) < 3 {
		t.Fatalf("examples: %v, %v", list, err)
	}
	for _, name := range list {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			var out, errs strings.Builder
			if status := run([]string{"check", "--verify", filepath.Join(root, "scenarios", name)}, &out, &errs); status != exitDone {
				t.Errorf("exit status %d", status)
			}
			for range warned[name] { // a paragraph each
				_, rest, _ := strings.Cut(errs.String(), "if that is right.\n")
				errs.Reset()
				errs.WriteString(rest)
			}
			number, rest, _ := strings.Cut(errs.String(), " ")
			cells, err := strconv.Atoi(strings.ReplaceAll(number, ",", ""))
			if err != nil || cells < 100 || rest != "formula cells recomputed in a second way, all equal to the last bit\n" {
				t.Errorf("standard error:\n%s", errs.String())
			}
		})
	}
}

// TestRulesAreDocumented: every quantity, check, constant and table of the
// standard rules says what it is, and what encodes a limit says by whom.
func TestRulesAreDocumented(t *testing.T) {
	m, list, _ := engine.Load(sources(""))
	if m == nil {
		t.Fatal(list)
	}
	need := func(at, what, text string) {
		if !strings.HasPrefix(at, "rules/") {
			return // a rule of the scenario
		}
		if len(strings.Fields(text)) < 2 {
			t.Errorf("%s: %s", at, what)
		}
	}
	quantities := 0
	for _, k := range m.Kinds {
		need(k.At.String(), "kind "+k.Name+" has no doc", k.Doc)
		for _, q := range k.Quantities {
			quantities++
			need(q.At.String(), q.Name+" has no doc", q.Doc)
		}
	}
	for _, c := range m.Checks {
		need(c.At.String(), "check "+c.Name+" has no doc", c.Doc)
		need(c.At.String(), "check "+c.Name+" has no source", c.Source)
	}
	for _, n := range m.Model.Notices {
		need(n.At.String(), "caution "+n.Name+" has no text", n.Text)
		need(n.At.String(), "caution "+n.Name+" has no source", n.Source)
	}
	if quantities < 200 || len(m.Checks) < 20 || len(m.Model.Notices) < 5 {
		t.Errorf("only %d quantities, %d checks and %d cautions were looked at", quantities, len(m.Checks), len(m.Model.Notices))
	}
}
