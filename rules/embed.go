// Package rules holds the standard rules: what is known of batteries, loads,
// inverters, banks, money and checks, as plain TOML. A scenario is read
// together with them unless it says otherwise. There is nothing to run here;
// the files are read by bankwright/engine/decl.
package rules

import (
	"embed"
	"io/fs"
)

//go:embed *.toml tables/*.toml
var embedded embed.FS

// Files are the standard rules, one file for each subject; published values
// stand in tables. Tests put others in their place.
var Files fs.FS = embedded

// Checked is what a run of published values through the standard rules has found, as
// JSON, renewed by the tests of bankwright/cmd/bankwright.
//
//go:embed checked.json
var Checked []byte
