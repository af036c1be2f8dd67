package unit

import "testing"

func TestFixed(t *testing.T) {
	for text, want := range map[string]string{
		"5 kg":        "5 kg",
		"80 KG":       "80 kg",
		"$640":        "640 USD",
		"2,6 kwh":     "2.6 kWh",
		"640 USD USD": "640 USD",
		"80 percnt":   "80 %",
		"12 inchs":    "12 in",
		"100 amp hrs": "100 A·h",
		"shed":        "",
		"5 xyzzy":     "",
		"":            "",
	} {
		if got := Fixed(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}
