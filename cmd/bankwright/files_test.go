package main

import "testing"

// TestQuoted: names as shells take them, of Unix and of Windows.
func TestQuoted(t *testing.T) {
	for _, c := range []struct{ name, unix, windows string }{
		{"cabin.toml", "cabin.toml", "cabin.toml"},
		{"Häuser/Hütte.toml", "Häuser/Hütte.toml", "Häuser/Hütte.toml"},
		{"Häuser am See/Hütte 1.toml", "'Häuser am See/Hütte 1.toml'", `"Häuser am See/Hütte 1.toml"`},
		{`Häuser\Hütte.toml`, `'Häuser\Hütte.toml'`, `Häuser\Hütte.toml`},
		{"Anna's.toml", `'Anna'\''s.toml'`, `"Anna's.toml"`},
		{"-x.toml", "./-x.toml", `.\-x.toml`},
		{"#1.toml", "'#1.toml'", "#1.toml"},
	} {
		if got := quotedFor('/', c.name); got != c.unix {
			t.Errorf("%s: %s, want %s", c.name, got, c.unix)
		}
		if got := quotedFor('\\', c.name); got != c.windows {
			t.Errorf("%s on Windows: %s, want %s", c.name, got, c.windows)
		}
	}
}
