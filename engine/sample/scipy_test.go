package sample

import (
	"testing"

	"bankwright/engine/oracle"
)

// scipy runs a program with SciPy: it has x, and writes what becomes into as JSON.
func scipy(t *testing.T, program string, in, into any) {
	t.Helper()
	oracle.SciPy(t, "import json, sys\nimport numpy as np\nfrom scipy import special, stats\nx = json.load(sys.stdin)\n"+program, in, into)
}
