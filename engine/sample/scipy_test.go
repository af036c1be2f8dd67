package sample

import (
	"encoding/json"
	"os"
	"os/exec"
	"strings"
	"testing"
)

// scipy runs a program in a Python that has SciPy: it gets in as JSON and writes
// what becomes into.
func scipy(t *testing.T, program string, in, into any) {
	t.Helper()
	text, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	for _, python := range []string{"python3", "/usr/bin/python3"} {
		if exec.Command(python, "-c", "import scipy").Run() != nil {
			continue
		}
		cmd := exec.Command(python, "-c", "import json, sys\nimport numpy as np\nfrom scipy import special, stats\nx = json.load(sys.stdin)\n"+program)
		cmd.Stdin = strings.NewReader(string(text))
		var fault strings.Builder
		cmd.Stderr = &fault
		out, err := cmd.Output()
		if err != nil {
			t.Fatal(err, fault.String())
		}
		if err := json.Unmarshal(out, into); err != nil {
			t.Fatal(err)
		}
		return
	}
	if os.Getenv("BANKWRIGHT_REQUIRE") == "1" {
		t.Fatal("python3 with SciPy is required, and is not installed")
	}
	t.Skip("python3 with SciPy is not installed: nothing to compare with")
}
