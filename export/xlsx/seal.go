package xlsx

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
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
	parts := &parts{data: map[string]*bytes.Buffer{}, cols: w.cols}
	f.SetZipWriter(func(io.Writer) excelize.ZipWriter { return parts })
	if _, err := f.WriteToBuffer(); err != nil {
		return nil, err
	}
	content := map[string][]byte{}
	for name, b := range parts.data {
		content[name] = b.Bytes()
		if name == corePart || strings.HasPrefix(name, sheetParts) {
			content[name] = usual.replace(b.Bytes())
		}
	}
	content[sealPart] = bytes.Replace(content[sealPart], []byte(unsealed), []byte(digest(content)), 1)
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

// replace replaces the last of each, in a sheet behind the cells, and uses b up.
func (list pairs) replace(b []byte) []byte {
	cells := max(0, bytes.LastIndex(b, []byte("</sheetData>")))
	rest := slices.Clone(b[cells:])
	for _, p := range list {
		if i := bytes.LastIndex(rest, []byte(p[0])); i >= 0 {
			rest = slices.Concat(rest[:i], []byte(p[1]), rest[i+len(p[0]):])
		}
	}
	return append(b[:cells], rest...)
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

// parts collects the parts of the file in place of a zip writer.
type parts struct {
	data map[string]*bytes.Buffer
	cols map[string]string
}

// Create begins a part.
func (p *parts) Create(name string) (io.Writer, error) {
	p.data[name] = &bytes.Buffer{}
	return withColumns(p.data[name], p.cols[name]), nil
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
func pack(content map[string][]byte) ([]byte, error) {
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

// digest is taken over all parts but the one that holds the seal.
func digest(content map[string][]byte) string {
	h := sha256.New()
	for _, name := range names(content) {
		if name != sealPart {
			fmt.Fprintf(h, "%s\x00%d\x00", name, len(content[name]))
			h.Write(content[name])
		}
	}
	return hex.EncodeToString(h.Sum(nil))
}

// Limits on a file that is looked at, against hostile ones.
const (
	mostParts = 2000
	mostBytes = 1 << 30
)

// Changed reports whether the file at path is other than we wrote it: changed
// since, or not ours at all. The error is of reading the file.
func Changed(path string) (bool, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return false, err
	}
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil || len(z.File) > mostParts {
		return true, nil
	}
	content := map[string][]byte{}
	left := int64(mostBytes)
	for _, f := range z.File {
		b, err := part(f, left)
		if err != nil || content[f.Name] != nil {
			return true, nil
		}
		left -= int64(len(b))
		content[f.Name] = b
	}
	want := digest(content)
	return !bytes.Contains(content[sealPart], []byte(sealName)) || !bytes.Contains(content[sealPart], []byte(want)), nil
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
