package engine_test

import (
	"math/rand/v2"
	"os"
	"regexp"
	"testing"
	"testing/fstest"

	"bankwright/engine"
	"bankwright/engine/oracle"
)

// TestSpoilt puts words and signs of a file into other places of it: whatever
// that makes of it, it is read to its end, and every message says what to do.
func TestSpoilt(t *testing.T) {
	oracle.OneCore(t)
	word := regexp.MustCompile(`[a-z_]{3,}|[-+*/<>().{}]`)
	random := rand.New(rand.NewPCG(7, 8))
	for _, file := range []string{"good/market_garden.toml", "bad/cycles_and_faults.toml", "bad/mends.toml", "bad/studies.toml"} {
		text, err := os.ReadFile("testdata/" + file)
		if err != nil {
			t.Fatal(err)
		}
		places := word.FindAllIndex(text, -1)
		for range 200 {
			to, from := places[random.IntN(len(places))], places[random.IntN(len(places))]
			spoilt := string(text[:to[0]]) + string(text[from[0]:from[1]]) + string(text[to[1]:])
			_, list, _ := engine.Load(engine.Sources{Files: fstest.MapFS{"a.toml": {Data: []byte(spoilt)}}, Scenario: "a.toml"})
			for _, d := range list {
				if d.Mend == "" {
					t.Errorf("%s: %q for %q: without a mend: %s", file, text[from[0]:from[1]], text[to[0]:to[1]], d.Error())
				}
			}
		}
	}
}
