// Package oracle finds the outside programs that tests ask for a second opinion. Only
// tests use it. A test whose program is not installed is skipped with a sentence, and
// fails where everything is required: with BANKWRIGHT_REQUIRE=1 in the environment, as
// .ci/run sets it.
package oracle

import (
	"encoding/json"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"
)

// Required reports whether a test must fail where it would be skipped.
func Required() bool { return os.Getenv("BANKWRIGHT_REQUIRE") == "1" }

// Missing ends a test because something is not there: "LibreOffice is not installed".
func Missing(t testing.TB, what string) {
	t.Helper()
	if Required() {
		t.Fatal(what + ", and it is required")
	}
	t.Skip(what + ": nothing to compare with")
}

// Slow skips a test that takes long where short ones are asked for.
func Slow(t testing.TB) {
	t.Helper()
	if testing.Short() && !Required() {
		t.Skip("takes long")
	}
}

// Brief reports whether data races alone are looked for: in a short run with the race
// detector, which takes many times as long, where nothing is required.
func Brief() bool { return Raced && testing.Short() && !Required() }

// OneCore skips a test that takes long with the race detector, and in which nothing works
// at the same time as something else that shorter tests do not have as well.
func OneCore(t testing.TB) {
	t.Helper()
	if Brief() {
		t.Skip("takes long with the race detector")
	}
}

// Measured skips a test that holds time or memory to a limit, under the race detector,
// which takes several times as much of both. The ordinary run holds the limit.
func Measured(t testing.TB) {
	t.Helper()
	if Raced {
		t.Skip("the race detector takes several times the time and memory")
	}
}

// Fuzzed is how much processor time one input of a fuzz target may take: many times what
// any does.
const Fuzzed = 2 * time.Second

// Within is to be deferred, as in defer oracle.Within(t, oracle.Fuzzed)(): the test fails
// where it took more processor time, unless with the race detector.
func Within(t testing.TB, most time.Duration) func() {
	start := Processor()
	return func() {
		t.Helper()
		if took := Processor() - start; took > most && !Raced {
			t.Errorf("took %s of processor time, more than %s", took, most)
		}
	}
}

// Program is the path of a program.
func Program(t testing.TB, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		Missing(t, name+" is not installed")
	}
	return path
}

// Python is a Python that has a module: the first of the path, or the system's own.
func Python(t testing.TB, module string) string {
	t.Helper()
	for _, program := range []string{"python3", "/usr/bin/python3"} {
		if exec.Command(program, "-c", "import "+module).Run() == nil {
			return program
		}
	}
	Missing(t, "python3 with "+module+" is not installed")
	return ""
}

// SciPy runs a program in a Python that has SciPy: it gets in as JSON on its input and
// writes as JSON what becomes out.
func SciPy(t testing.TB, program string, in, out any) {
	t.Helper()
	text, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(Python(t, "scipy.stats"), "-c", program)
	cmd.Stdin = strings.NewReader(string(text))
	var faults strings.Builder
	cmd.Stderr = &faults
	result, err := cmd.Output()
	if err != nil {
		t.Fatal(err, faults.String())
	}
	if err := json.Unmarshal(result, out); err != nil {
		t.Fatal(err)
	}
}
