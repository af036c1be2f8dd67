package main

import (
	"archive/zip"
	"bytes"
	"errors"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime/debug"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/rogpeppe/go-internal/testscript"

	"bankwright/engine/oracle"
)

// programs are what tests run as programs of their own; systems may add to them.
var programs = map[string]func(){"bankwright": main}

// TestMain lets scripts run bankwright as a program of its own. A rule may be broken
// on purpose: see TestMutations.
func TestMain(m *testing.M) {
	if err := breakRule(); err != nil {
		panic(err)
	}
	testscript.Main(roomy{m}, programs)
}

// roomy runs the tests with more garbage in memory at a time: they read hundreds
// of scenarios, and collecting after each took a quarter of the time. The program
// that scripts run is not changed by it.
type roomy struct{ *testing.M }

func (m roomy) Run() int {
	debug.SetGCPercent(400)
	return m.M.Run()
}

// TestScripts runs testdata/script/*.txtar. Beside the commands of testscript
// they have:
//
//	status N COMMAND...   runs a command that must end with exit status N
//	width N FILE...       no line of the files is longer than N characters
//	plain FILE...         no file holds an escape character
//	edit BOOK PART OLD NEW  replaces a text in a part of a workbook, as a
//	                      spreadsheet program would that saves it
//
// and the conditions [root], which holds where permissions bind nobody, and
// [need:PROGRAM], which holds where it is installed, as it must be where everything is
// required; stdout and stderr stand for what the last command printed. Where data
// races are looked for, the scripts are those of what works on several cores.
func TestScripts(t *testing.T) {
	pattern := "*.txtar"
	if oracle.Brief() {
		pattern = "s[tw]*.txtar" // sweep, studyfiles
	}
	files, err := filepath.Glob(filepath.Join("../../testdata/script", pattern))
	if err != nil || len(files) == 0 {
		t.Fatal(pattern, err)
	}
	testscript.Run(t, testscript.Params{
		Files:               files,
		RequireExplicitExec: true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("NO_COLOR", "")
			return nil
		},
		Condition: func(name string) (bool, error) {
			if program, ok := strings.CutPrefix(name, "need:"); ok {
				_, err := exec.LookPath(program)
				if err != nil && oracle.Required() {
					return false, errors.New(program + " is not installed, and it is required")
				}
				return err == nil, nil
			}
			if name != "root" {
				return false, errors.New("unknown condition " + name)
			}
			return os.Geteuid() == 0, nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"status": status,
			"width":  width,
			"plain":  plain,
			"edit":   edit,
		},
	})
}

func status(ts *testscript.TestScript, neg bool, args []string) {
	want, err := strconv.Atoi(args[0])
	if err != nil || neg {
		ts.Fatalf("usage: status N COMMAND...")
	}
	got := 0
	if err := ts.Exec(args[1], args[2:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("exit status %d, want %d\n%s", got, want, ts.ReadFile("stderr"))
	}
}

func width(ts *testscript.TestScript, neg bool, args []string) {
	most, err := strconv.Atoi(args[0])
	if err != nil || neg {
		ts.Fatalf("usage: width N FILE...")
	}
	for _, name := range args[1:] {
		for i, line := range strings.Split(ts.ReadFile(name), "\n") {
			if n := utf8.RuneCountInString(line); n > most {
				ts.Fatalf("%s:%d has %d characters: %s", name, i+1, n, line)
			}
		}
	}
}

func plain(ts *testscript.TestScript, neg bool, args []string) {
	for _, name := range args {
		if strings.Contains(ts.ReadFile(name), "\x1b") != neg {
			ts.Fatalf("%s: escape characters: %t", name, !neg)
		}
	}
}

func edit(ts *testscript.TestScript, neg bool, args []string) {
	if len(args) != 4 || neg {
		ts.Fatalf("usage: edit BOOK PART OLD NEW")
	}
	path := ts.MkAbs(args[0])
	ts.Check(editBook(path, args[1], args[2], args[3]))
}

// editBook replaces a text in a part of a workbook and keeps the rest.
func editBook(path, part, old, new string) error {
	z, err := zip.OpenReader(path)
	if err != nil {
		return err
	}
	defer z.Close()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	found := false
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			return err
		}
		text, err := io.ReadAll(r)
		r.Close()
		if err != nil {
			return err
		}
		if f.Name == part && bytes.Contains(text, []byte(old)) {
			found = true
			text = bytes.Replace(text, []byte(old), []byte(new), 1)
		}
		to, err := w.Create(f.Name)
		if err != nil {
			return err
		}
		if _, err := to.Write(text); err != nil {
			return err
		}
	}
	if !found {
		return errors.New(part + " does not hold " + old)
	}
	if err := w.Close(); err != nil {
		return err
	}
	return os.WriteFile(path, b.Bytes(), 0o644)
}
