package unit

import "testing"

func TestAngle(t *testing.T) {
	for text, want := range map[string]string{
		`48° 30' N`:      "48.5 deg",
		`48°30′36″N`:     "48.51 deg",
		`33.5° S`:        "-33.5 deg",
		`-33° 30'`:       "-33.5 deg",
		`12° W`:          "-12 deg",
		`10 deg`:         "10 deg",
		`48`:             "",
		`48° 30' N of X`: "",
		`5 °C`:           "",
	} {
		if got := Angle(text); got != want {
			t.Errorf("Angle(%q) = %q, want %q", text, got, want)
		}
	}
}

func TestMeant(t *testing.T) {
	of := func(name string) Dim { u, _ := Parse(name); return u.Dim }
	for _, c := range []struct{ name, of, want string }{
		{"a", "h", "year"}, {"a", "A", "A"}, {"C", "°C", "°C"}, {"C", "A", ""}, {"S", "V", ""}, {"amps", "A", "A"}, {"amps", "V", ""}, {"m", "h", "month"},
	} {
		if got := Meant(c.name, of(c.of)); got != c.want {
			t.Errorf("Meant(%q, %s) = %q, want %q", c.name, c.of, got, c.want)
		}
	}
}
