package picture

import (
	"bytes"
	"encoding/xml"
	"image/png"
	"io"
	"testing"
)

// TestSeal: a picture that is sealed is one still, the same for those who look at it, and
// one that was changed in any place is not taken for it.
func TestSeal(t *testing.T) {
	for _, f := range []Format{SVG, PNG} {
		bare := drawn(t, tornado(3), f)
		sealed := Seal(bare, f)
		if !Sealed(sealed, f) || Sealed(bare, f) || Sealed(nil, f) {
			t.Errorf("%s: sealed %v, not sealed %v, nothing %v", f, Sealed(sealed, f), Sealed(bare, f), Sealed(nil, f))
		}
		for at := 0; at < len(sealed); at += 1 + len(sealed)/200 {
			changed := bytes.Clone(sealed)
			changed[at] ^= 1
			if Sealed(changed, f) {
				t.Errorf("%s: changed at %d, and taken for ours", f, at)
			}
		}
		if f == PNG {
			one, err := png.Decode(bytes.NewReader(sealed))
			other, err2 := png.Decode(bytes.NewReader(bare))
			if err != nil || err2 != nil || one.Bounds() != other.Bounds() {
				t.Errorf("it is an image no more: %v, %v", err, err2)
			}
			continue
		}
		for d := xml.NewDecoder(bytes.NewReader(sealed)); ; {
			if _, err := d.Token(); err == io.EOF {
				break
			} else if err != nil {
				t.Fatal(err)
			}
		}
	}
}
