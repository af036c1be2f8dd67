package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"bankwright/engine/oracle"
	"bankwright/scenarios"
)

// hostile is a file, or several, that somebody made to do harm or that was spoilt.
type hostile struct {
	name string
	text string // of s.toml
	and  map[string]string
	make func(t *testing.T, folder string) // what files alone do not say

	args   []string // nil: check s.toml
	in     string   // on standard input
	status int
	want   string // what is told must contain this
}

// The most that a hostile file may take of the machine: what people wait for without
// asking themselves whether it hangs, and what any machine has.
const (
	mostSeconds = 2.0 // of processor time, so that other work on the machine does not count
	mostMemory  = 500 // MB in memory at a time
)

// TestHostileFiles runs the program on every hostile file, as a process of its own. It
// ends by itself, soon and in little memory, with the exit status that is true, says
// what is wrong and where, and never that it failed itself.
func TestHostileFiles(t *testing.T) {
	oracle.Measured(t)
	t.Parallel()
	all := slices.Concat(hostileTexts(), hostileNesting(), hostileNumbers(), hostileFormulas(), hostileSizes(), hostileStudies(),
		hostileIncludes(), hostileDevices(), hostileLogs(), hostileBooks(t), hostileLines())
	if len(all) < 200 {
		t.Errorf("only %d", len(all))
	}
	names := map[string]bool{}
	for _, h := range all {
		if names[h.name] {
			t.Errorf("%s is there twice", h.name)
		}
		names[h.name] = true
		t.Run(h.name, func(t *testing.T) {
			t.Parallel()
			h.try(t)
		})
	}
}

func (h *hostile) try(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "job")
	if err := os.Mkdir(folder, 0o755); err != nil {
		t.Fatal(err)
	}
	put := func(name, text string) {
		path := filepath.Join(folder, name)
		os.MkdirAll(filepath.Dir(path), 0o755)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if h.text != "" {
		put("s.toml", h.text)
	}
	for name, text := range h.and {
		put(name, text)
	}
	if h.make != nil {
		h.make(t, folder)
	}
	args := h.args
	if args == nil {
		args = []string{"check", "s.toml"}
	}
	status, told, used := runWithin(t, folder, h.in, args...)
	what := "bankwright " + strings.Join(args, " ")
	switch {
	case status != h.status:
		t.Errorf("%s: exit status %d, want %d\n%s", what, status, h.status, cutTo(told, 2000))
	case !strings.Contains(told, h.want) || h.status != exitDone && h.want == "":
		t.Errorf("%s: want %q\n%s", what, h.want, cutTo(told, 2000))
	}
	for _, word := range []string{"inside the program", "goroutine ", "runtime error", "panic:", "fatal error", "please report"} {
		if strings.Contains(told, word) {
			t.Errorf("%s: %q is told\n%s", what, word, cutTo(told, 2000))
		}
	}
	if goType.MatchString(told) {
		t.Errorf("%s: %q is a word of the program's own", what, goType.FindString(told))
	}
	if underRace() {
		return // whose tools take many times of both
	}
	if used.Seconds > mostSeconds || used.MB > mostMemory {
		t.Errorf("%s took %.2f s and %d MB", what, used.Seconds, used.MB)
	}
	t.Logf("%.2f s, %d MB", used.Seconds, used.MB)
}

// goType is how Go and its libraries speak of values and files, which no reader knows.
var goType = regexp.MustCompile(`\*\w+\.\w+|strconv\.|open [^ ]+: |map\[|<nil>|%!\w\(|zip: |xml: |syntax error on line`)

func cutTo(s string, n int) string {
	if len(s) > n {
		return s[:n] + "…"
	}
	return s
}

func underRace() bool {
	info, _ := debug.ReadBuildInfo()
	return info != nil && slices.ContainsFunc(info.Settings, func(s debug.BuildSetting) bool { return s.Key == "-race" && s.Value == "true" })
}

// spent is what a run took of the machine.
type spent struct {
	Seconds float64
	MB      int
}

// hangs is how long a run may stand still, waiting for what never comes, until it is
// ended: far longer than any run needs, however busy the machine is.
const hangs = 2 * time.Minute

// runWithin runs a command line in a folder as a process of its own that is ended where it
// takes far too much, and returns what it told on both streams.
func runWithin(t *testing.T, folder, in string, args ...string) (status int, told string, used spent) {
	t.Helper()
	ctx, stop := context.WithTimeout(t.Context(), hangs)
	defer stop()
	report := filepath.Join(t.TempDir(), "taken.json")
	cmd := exec.CommandContext(ctx, "bankwright-bounded", args...)
	var out bytes.Buffer
	cmd.Dir, cmd.Stdin, cmd.Stdout, cmd.Stderr = folder, strings.NewReader(in), &out, &out
	cmd.Env = append(os.Environ(), "BANKWRIGHT_TAKEN="+report, "GOMAXPROCS=2")
	err := cmd.Run()
	if ctx.Err() != nil {
		t.Errorf("bankwright %s does not end", strings.Join(args, " "))
	}
	data, fault := os.ReadFile(report)
	if fault != nil || json.Unmarshal(data, &used) != nil {
		t.Errorf("bankwright %s ended before its end: %v\n%s", strings.Join(args, " "), err, cutTo(out.String(), 2000))
	}
	return cmd.ProcessState.ExitCode(), out.String(), used
}

func init() { programs["bankwright-bounded"] = runBounded }

// runBounded is main within bounds, which says at its end what it took. The memory is
// asked for from within: what the system tells a parent contains the parent's own.
func runBounded() {
	if !underRace() {
		hold(syscall.RLIMIT_AS, 4<<30)
		hold(syscall.RLIMIT_CPU, 20)
	}
	collectLate()
	status := run(os.Args[1:], os.Stdout, os.Stderr)
	used := spent{MB: peak()}
	used.Seconds = oracle.Processor().Seconds()
	data, err := json.Marshal(used)
	if err == nil {
		err = os.WriteFile(os.Getenv("BANKWRIGHT_TAKEN"), data, 0o644)
	}
	if err != nil {
		panic(err)
	}
	os.Exit(status)
}

func hold(what int, most uint64) {
	if err := syscall.Setrlimit(what, &syscall.Rlimit{Cur: most, Max: most}); err != nil {
		panic(err)
	}
}

// peak is the most memory that this process had at a time, in MB.
func peak() int {
	data, err := os.ReadFile("/proc/self/status")
	if err != nil {
		panic(err)
	}
	_, rest, found := strings.Cut(string(data), "VmHWM:")
	fields := strings.Fields(rest)
	if !found || len(fields) == 0 {
		panic("the system does not say how much memory was used")
	}
	kb, err := strconv.Atoi(fields[0])
	if err != nil {
		panic(err)
	}
	return kb >> 10
}

// many is a text written n times, with the number of each in place of %d.
func many(n int, text string) string {
	var b strings.Builder
	parts := strings.Split(text, "%d")
	for i := range n {
		for j, p := range parts {
			if j > 0 {
				b.WriteString(strconv.Itoa(i))
			}
			b.WriteString(p)
		}
	}
	return b.String()
}

// crates is a scenario with rules of its own and something more in it.
func crates(more string) string { return cratesHead + more }

const cratesHead = `title = "Crates"
currency = "EUR"
standard_rules = false
[rules.kind.crate]
many = "crates"
doc = "A crate."
[rules.kind.shed]
doc = "Where they stand."
[rules.crate.mass]
unit = "kg"
default = "3 kg"
doc = "Its mass."
[rules.crate.count]
default = 1
doc = "How many."
[rules.shed.total]
unit = "kg"
formula = "sum(crates, .mass * .count)"
doc = "The mass of all."
[rules.shed.depth]
unit = "m"
default = "2 m"
doc = "How deep it is."
`

// valued is that scenario with a formula of a quantity `tried` of every crate.
func valued(formula string) string {
	text, err := json.Marshal(formula) // which TOML reads as well
	if err != nil {
		panic(err)
	}
	return crates(fmt.Sprintf("[rules.crate.tried]\nformula = %s\ndoc = \"What is tried.\"\n[crate.a]\n[crate.b]\ncount = 2\n", text))
}

// starterText is the scenario that people begin with.
func starterText() string {
	data, err := scenarios.Files.ReadFile(scenarios.Starter)
	if err != nil {
		panic(err)
	}
	return string(data)
}
