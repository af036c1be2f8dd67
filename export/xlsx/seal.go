package xlsx

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"io/fs"
	"os"
	"slices"
	"sort"
	"strings"

	"github.com/xuri/excelize/v2"
)

// The seal is a document property that holds a digest of all other parts of
// the file. Who edits the workbook in a spreadsheet program changes those
// parts, and the seal no longer fits.
const (
	sealName = "bankwright seal"
	sealPart = "docProps/custom.xml"
)

// unsealed stands in the place of the digest until it is known.
var unsealed = strings.Repeat("0", 64)

// seal saves the file with its parts in a fixed order and its seal filled in.
func (w *writer) seal() ([]byte, error) {
	f := w.f
	if err := f.SetCustomProps(excelize.CustomProperty{Name: sealName, Value: unsealed}); err != nil {
		return nil, err
	}
	sortTypes(f)
	parts := newParts(w.sheets)
	f.SetZipWriter(func(io.Writer) excelize.ZipWriter { return &parts })
	if _, err := f.WriteToBuffer(); err != nil {
		return nil, err
	}
	content := map[string]pieces{}
	sums := map[string]sum{}
	for name := range parts.data {
		content[name] = parts.content(name)
		sums[name] = sum{uint64(content[name].size()), content[name].crc32()}
	}
	content[sealPart] = pieces{bytes.Replace(slices.Concat(content[sealPart]...), []byte(unsealed), []byte(digest(sums)), 1)}
	return pack(content)
}

// corePart holds the title; what begins with sheetParts is a sheet.
const (
	corePart   = "docProps/core.xml"
	sheetParts = "xl/worksheets/"
)

type pairs [][2]string

// usual gives elements the prefixes that they usually have. The library writes
// others, which is the same to XML but not to every reader.
var usual = pairs{
	{"<coreProperties xmlns=", "<cp:coreProperties xmlns:cp="}, {"</coreProperties>", "</cp:coreProperties>"},
	{"<lastModifiedBy></lastModifiedBy>", ""},
	{`<drawing xmlns:relationships="http://schemas.openxmlformats.org/officeDocument/2006/relationships" relationships:id=`,
		`<drawing xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships" r:id=`},
}

// replace replaces the last of each.
func (list pairs) replace(b []byte) []byte {
	for _, p := range list {
		if i := bytes.LastIndex(b, []byte(p[0])); i >= 0 {
			b = slices.Concat(b[:i], []byte(p[1]), b[i+len(p[0]):])
		}
	}
	return b
}

// sortTypes brings what the library lists in random order into a fixed one.
func sortTypes(f *excelize.File) {
	sort.SliceStable(f.ContentTypes.Defaults, func(i, j int) bool {
		return f.ContentTypes.Defaults[i].Extension < f.ContentTypes.Defaults[j].Extension
	})
	sort.SliceStable(f.ContentTypes.Overrides, func(i, j int) bool {
		return f.ContentTypes.Overrides[i].PartName < f.ContentTypes.Overrides[j].PartName
	})
}

// pieces are a part of a file, one piece behind the other.
type pieces [][]byte

// Write adds a piece.
func (p *pieces) Write(b []byte) (int, error) {
	*p = append(*p, slices.Clone(b))
	return len(b), nil
}

// crc32 is the sum that a zip file keeps of it.
func (p pieces) crc32() (sum uint32) {
	for _, b := range p {
		sum = crc32.Update(sum, crc32.IEEETable, b)
	}
	return sum
}

// size is how many bytes there are.
func (p pieces) size() int {
	n := 0
	for _, b := range p {
		n += len(b)
	}
	return n
}

// parts collects the parts of the file in place of a zip writer.
type parts struct {
	data   map[string]*pieces
	sheets map[string]*kept
}

func newParts(sheets map[string]*kept) parts {
	return parts{map[string]*pieces{}, sheets}
}

// Create begins a part.
func (p *parts) Create(name string) (io.Writer, error) {
	p.data[name] = &pieces{}
	return withRows(p.data[name], p.sheets[name]), nil
}

// content is a part as it is saved. Of a sheet the last piece is what stands behind the rows.
func (p *parts) content(name string) pieces {
	out := *p.data[name]
	if name == corePart || strings.HasPrefix(name, sheetParts) {
		last := &out[len(out)-1]
		*last = usual.replace(*last)
	}
	return out
}

// AddFS is not used by the writer of workbooks.
func (p *parts) AddFS(fs.FS) error { return errors.New("a folder cannot be added to a workbook") }

// Close has nothing to do.
func (p *parts) Close() error { return nil }

func names[T any](content map[string]T) []string {
	out := make([]string, 0, len(content))
	for name := range content {
		out = append(out, name)
	}
	sort.Strings(out)
	return out
}

// pack is a zip file of the parts, with the parts that readers look for first
// in front.
func pack(content map[string]pieces) ([]byte, error) {
	var buf bytes.Buffer
	z := zipTo(&buf)
	for _, name := range names(content) {
		if err := put(z, name, content[name]); err != nil {
			return nil, err
		}
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return buf.Bytes(), nil
}

// sum tells a part of a file from others of its name.
type sum struct {
	size  uint64
	crc32 uint32
}

// digest is taken over the sums of all parts but the one that holds the seal. They stand
// at the end of a zip file, so that nothing need be unpacked to compare them.
func digest(parts map[string]sum) string {
	h := sha256.New()
	for _, name := range names(parts) {
		if name != sealPart {
			fmt.Fprintf(h, "%s\x00%d\x00%d\x00", name, parts[name].size, parts[name].crc32)
		}
	}
	return hex.EncodeToString(h.Sum(nil))
}

// Limits on a file that is looked at, against hostile ones.
const (
	mostParts = 2000
	mostBytes = 1 << 20 // of the part that holds the seal
)

// Changed reports whether the file at path is other than we wrote it: changed
// since, or not ours at all. The error is of reading the file.
func Changed(path string) (bool, error) {
	file, err := os.Open(path)
	if err != nil {
		return false, err
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return false, err
	}
	z, err := zip.NewReader(file, info.Size())
	if err != nil || len(z.File) > mostParts {
		return true, nil
	}
	parts, seal := map[string]sum{}, []byte(nil)
	for _, f := range z.File {
		if _, twice := parts[f.Name]; twice {
			return true, nil
		}
		parts[f.Name] = sum{f.UncompressedSize64, f.CRC32}
		if f.Name == sealPart {
			if seal, err = part(f, mostBytes); err != nil {
				return true, nil
			}
		}
	}
	return !bytes.Contains(seal, []byte(sealName)) || !bytes.Contains(seal, []byte(digest(parts))), nil
}

func part(f *zip.File, most int64) ([]byte, error) {
	r, err := f.Open()
	if err != nil {
		return nil, err
	}
	defer r.Close()
	b, err := io.ReadAll(io.LimitReader(r, most+1))
	if err == nil && int64(len(b)) > most {
		err = errors.New("the file is too large")
	}
	if b == nil {
		b = []byte{}
	}
	return b, err
}
