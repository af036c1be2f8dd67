package recording_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"bankwright/engine/oracle"
	"bankwright/engine/recording"
)

// integrals reads a recording by numpy's own reader of text, and integrates by its
// own rule.
const integrals = `
import sys, numpy as np
t, temperature, power = np.loadtxt(sys.argv[1], delimiter=",", skiprows=1, unpack=True)
rule = getattr(np, "trapezoid", None) or np.trapz
print(repr(float(rule(power, t) / 3600)))
print(repr(float(rule(power * power, t) / 3600)))
print(repr(float(rule(temperature, t) / (t[-1] - t[0]))))
print(repr(float(power.min())), repr(float(power.max())))
`

func TestAgainstNumpy(t *testing.T) {
	python := oracle.Python(t, "numpy")
	text := written(walk(rand.New(rand.NewPCG(10, 11)), 50000))
	path := filepath.Join(t.TempDir(), "recording.csv")
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(python, "-c", integrals, path).Output()
	if err != nil {
		t.Fatal(err)
	}
	m := measured(t, text, recording.Integral{Of: "power"}, recording.Integral{Of: "power", Times: "power"},
		recording.Mean{Of: "temperature"}, recording.Min{Of: "power"}, recording.Max{Of: "power"})
	words := strings.Fields(string(out))
	if len(words) != len(m) {
		t.Fatalf("numpy says %q", out)
	}
	for i, w := range words {
		var want float64
		if _, err := fmt.Sscan(w, &want); err != nil {
			t.Fatal(err)
		}
		near(t, fmt.Sprint("measure ", i), m[i].Value, want, 1e-11*math.Abs(want))
	}
}
