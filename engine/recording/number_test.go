package recording

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
)

func TestNumber(t *testing.T) {
	for text, want := range map[string]float64{
		"0": 0, "-0": math.Copysign(0, -1), "12.345": 12.345, "+7": 7, "-.5": -.5, "5.": 5, " 51.2 ": 51.2,
		"1e3": 1000, "1.5E-7": 1.5e-7, "123456789012345678": 123456789012345678,
		"0.1234567890123456789": 0.1234567890123456789, "9007199254740993": 9007199254740993,
		"000000000000000000001": 1,
	} {
		if v, ok := number(text, '.'); !ok || math.Float64bits(v) != math.Float64bits(want) {
			t.Errorf("%q: %v %v, want %v", text, v, ok, want)
		}
		comma := strings.ReplaceAll(text, ".", ",")
		if v, ok := number(comma, ','); !ok || math.Float64bits(v) != math.Float64bits(want) {
			t.Errorf("%q: %v %v, want %v", comma, v, ok, want)
		}
	}
	for _, text := range []string{"", " ", ".", "-", "+-1", "1.2.3", "1,2", "1 000", "0x1p3", "1_000", "inf", "NaN",
		"1e999", "12V", "e5", "1e", "--", "1.5,5", "١"} {
		if v, ok := number(text, '.'); ok {
			t.Errorf("%q is read as %v", text, v)
		}
	}
	if v, ok := number("1.5", ','); ok {
		t.Errorf("1.5 is read as %v where the comma is the decimal sign", v)
	}
}

// exactly holds a number to strconv.ParseFloat, to the last bit.
func exactly(t *testing.T, text string) {
	t.Helper()
	v, ok := number(text, '.')
	want, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if ok && (err != nil || math.Float64bits(v) != math.Float64bits(want)) {
		t.Errorf("%q: %v, and strconv says %v, %v", text, v, want, err)
	}
	plain := strings.Trim(strings.TrimSpace(text), "0123456789.eE+-") == "" && len(text) < 400
	if !ok && err == nil && plain && !math.IsInf(want, 0) {
		t.Errorf("%q is not read, and strconv says %v", text, want)
	}
}

func TestNumberExact(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 200000 {
		digits := strconv.FormatUint(r.Uint64()>>(r.UintN(64)), 10)
		at := r.IntN(len(digits) + 1)
		exactly(t, digits[:at]+"."+digits[at:])
	}
}

func FuzzNumber(f *testing.F) {
	for _, s := range []string{"0", "-12.345", "1e5", ".5", "9007199254740993", "123456789012345678.9", "1e-400"} {
		f.Add(s)
	}
	f.Fuzz(exactly)
}

func TestSum(t *testing.T) {
	// Neumaier's example (Zeitschrift für angewandte Mathematik und Mechanik 54, 1974):
	// plain and Kahan's summation give 0.
	var s sum
	for _, x := range []float64{1, 1e100, 1, -1e100} {
		s.add(x)
	}
	if s.value() != 2 {
		t.Errorf("the sum is %v, want 2", s.value())
	}
	s = sum{}
	for range 10_000_000 {
		s.add(0.1)
	}
	if v := s.value(); math.Abs(v-1e6) > 1e6*1e-15 {
		t.Errorf("ten million times 0.1 is %v", v)
	}
}
