package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"testing"

	"bankwright/engine"
	"bankwright/engine/oracle"
	"bankwright/export"
	"bankwright/export/xlsx"
)

// sameRuns names the variable in the environment that says how many times TestSameBook
// makes the default workbook: 1000 in .ci/run.
const sameRuns = "BANKWRIGHT_RUNS"

// sameCores are how many cores work at the same time, in turn: also more than there are.
var sameCores = []int{1, 2, 3, 8}

// TestSameBook: a scenario gives the same workbook to the byte each time that it is read,
// computed, studied, laid out, drawn and written anew, on any number of cores, in this
// process and in others. Go walks through a map in another order each time, so that what
// depends on an order differs soon.
func TestSameBook(t *testing.T) {
	oracle.Slow(t)
	for _, c := range []struct {
		title, file string
		runs        int
	}{{"default", "", runsAsked(t, 16)}, {"starter", "../../scenarios/starter.toml", 16}} {
		t.Run(c.title, func(t *testing.T) {
			want := asProgram(t, 1, c.file)
			for _, cores := range sameCores[1:] {
				if !bytes.Equal(asProgram(t, cores, c.file), want) {
					t.Fatalf("a program writes another workbook on %d cores", cores)
				}
			}
			defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
			for run := range c.runs {
				cores := sameCores[run%len(sameCores)]
				runtime.GOMAXPROCS(cores)
				if !bytes.Equal(madeAnew(t, c.file), want) {
					t.Fatalf("run %d, on %d cores, gives another workbook", run+1, cores)
				}
			}
			t.Logf("%d runs give the same %d bytes, and so do %d programs", c.runs, len(want), len(sameCores))
		})
	}
}

// runsAsked is how many runs the environment asks for, or the usual number.
func runsAsked(t *testing.T, usual int) int {
	t.Helper()
	asked := os.Getenv(sameRuns)
	if asked == "" {
		return usual
	}
	n, err := strconv.Atoi(asked)
	if err != nil || n < 1 {
		t.Fatalf("%s is %q", sameRuns, asked)
	}
	return n
}

// madeAnew is the workbook of a scenario, from its text on.
func madeAnew(t *testing.T, file string) []byte {
	t.Helper()
	m, list, _ := engine.Load(sources(file))
	if m == nil {
		t.Fatal(list)
	}
	found, err := m.Study(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	book, err := export.NewBook(m, found)
	if err != nil {
		t.Fatal(err)
	}
	data, err := xlsx.Bytes(book)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// asProgram is the workbook that the program writes, as a process of its own.
func asProgram(t *testing.T, cores int, file string) []byte {
	t.Helper()
	program, err := os.Executable() // a test program that is called bankwright is one: see TestMain
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "book.xlsx")
	args := []string{"bankwright", "book", "-o", path}
	if file != "" {
		args = append(args, file)
	}
	cmd := exec.Cmd{Path: program, Args: args, Env: append(os.Environ(), fmt.Sprintf("GOMAXPROCS=%d", cores))}
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}
