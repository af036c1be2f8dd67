package gridfile

import (
	"bytes"
	"encoding/binary"
	"encoding/csv"
	"io"
	"regexp"
)

// maker is who a Parquet file says that it was written by.
const maker = "bankwright"

// mostHead is how many bytes of a file are looked at to see whose it is.
const mostHead = 1 << 20

// Ours reports whether a file of so many bytes is plainly one that Write has written: CSV
// by the names of its columns, which a part other than the first has not, Parquet by what
// it says of its maker. A workbook says nothing: whoever has it may have worked in it.
func Ours(file io.ReaderAt, size int64, f Format) bool {
	switch f {
	case CSV:
		return oursCSV(file, size)
	case Parquet:
		return oursParquet(file, size)
	}
	return false
}

// columnName is a name of a cell, and its unit where it has one.
var columnName = regexp.MustCompile(`^[\pL_][^\s.]*(\.[\pL_][^\s.]*)+( \(.+\))?$`)

func oursCSV(file io.ReaderAt, size int64) bool {
	r := csv.NewReader(io.NewSectionReader(file, 0, min(size, mostHead)))
	head, err := r.Read()
	if err != nil || r.InputOffset() >= size { // no points
		return false
	}
	for j, name := range head {
		if !columnName.MatchString(name) && !(name == "best" && j > 0 && j == len(head)-1) {
			return false
		}
	}
	return true
}

// oursParquet looks into the metadata at the end of a file, whose length stands before
// the four last bytes (Apache Parquet, file format).
func oursParquet(file io.ReaderAt, size int64) bool {
	const magic = "PAR1"
	var end [8]byte
	if size < int64(len(end)) {
		return false
	}
	if _, err := file.ReadAt(end[:], size-int64(len(end))); err != nil || string(end[4:]) != magic {
		return false
	}
	at := size - int64(len(end)) - min(int64(binary.LittleEndian.Uint32(end[:4])), mostHead)
	if at < 0 {
		return false
	}
	last := make([]byte, size-int64(len(end))-at)
	if _, err := file.ReadAt(last, at); err != nil {
		return false
	}
	return bytes.Contains(last, []byte(maker+" version"))
}
