package picture

import (
	"bytes"
	"crypto/sha256"
	"fmt"
)

// Seal adds a mark to a picture that Write has drawn: a digest of it, by which Sealed
// tells that nobody has changed it. Programs that show pictures pass over it.
func Seal(data []byte, f Format) []byte {
	at := sealPlace(data, f)
	return append(append(bytes.Clone(data[:at]), seal(f, data)...), data[at:]...)
}

// Sealed reports whether a picture is as Seal returned it.
func Sealed(data []byte, f Format) bool {
	mark := len(seal(f, nil))
	at := sealPlace(data, f) - mark
	if at < 0 {
		return false
	}
	bare := append(bytes.Clone(data[:at]), data[at+mark:]...)
	return bytes.Equal(data[at:at+mark], seal(f, bare))
}

// seal is the mark of a picture, as long for every one of a format: a comment, or a chunk
// of text under a keyword that the format names (W3C PNG, third edition, 11.3.3).
func seal(f Format, data []byte) []byte {
	sum := sha256.Sum256(data)
	digest := fmt.Sprintf("bankwright %x", sum)
	if f == PNG {
		return chunk(nil, "tEXt", []byte("Software\x00"+digest))
	}
	return []byte("<!-- " + digest + " -->\n")
}

// sealPlace is where a mark goes or ends: behind a drawing, before the last chunk of an
// image.
func sealPlace(data []byte, f Format) int {
	if f == PNG {
		return len(data) - len(chunk(nil, "IEND", nil))
	}
	return len(data)
}
