package diag

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// Every code that the engine gives is documented, and every documented code is
// given somewhere. Codes are the text literals
// beside Code: in a Diagnostic, and an argument of Errorf, Warnf and of the
// methods that other packages put around them.
func TestCodesAreDocumented(t *testing.T) {
	files := token.NewFileSet()
	place := map[string]int{"Errorf": 1, "Warnf": 1, "fault": 1, "warn": 1, "refuse": 1, "problem": 2} // of the code among the arguments
	literals := map[string]bool{}
	check := func(e ast.Expr) {
		if code, ok := literal(e); ok && Codes[code] == "" {
			t.Errorf("%s: the code %q is not in codes.go", files.Position(e.Pos()), code)
		}
	}
	walk := func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		f, err := parser.ParseFile(files, path, nil, parser.SkipObjectResolution)
		if err != nil {
			return nil // the compiler tells
		}
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.BasicLit:
				if text, err := strconv.Unquote(n.Value); err == nil && filepath.Base(path) != "codes.go" {
					literals[text] = true
				}
			case *ast.KeyValueExpr:
				if key, ok := n.Key.(*ast.Ident); ok && key.Name == "Code" {
					check(n.Value)
				}
			case *ast.CallExpr:
				sel, ok := n.Fun.(*ast.SelectorExpr)
				if at := place[selected(sel)]; ok && at > 0 && len(n.Args) >= 4 {
					check(n.Args[at])
				}
			}
			return true
		})
		return nil
	}
	for _, folder := range []string{"..", "../../export"} {
		if err := filepath.WalkDir(folder, walk); err != nil {
			t.Fatal(err)
		}
	}
	for code := range Codes {
		if !literals[code] {
			t.Errorf("the code %q is documented, but nothing gives it", code)
		}
	}
}

// literal is the text that an expression is, if it is one.
func literal(e ast.Expr) (text string, ok bool) {
	lit, ok := e.(*ast.BasicLit)
	if !ok || lit.Kind != token.STRING {
		return "", false
	}
	text, err := strconv.Unquote(lit.Value)
	return text, err == nil
}

func selected(sel *ast.SelectorExpr) string {
	if sel == nil {
		return ""
	}
	return sel.Sel.Name
}

func TestCodes(t *testing.T) {
	form := regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)
	for code, meaning := range Codes {
		if !form.MatchString(code) || meaning == "" || strings.HasSuffix(meaning, ".") || strings.Contains(meaning, "\n") {
			t.Errorf("%q: %q", code, meaning)
		}
	}
}
