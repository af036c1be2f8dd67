// Package scenarios holds the example scenarios, as plain TOML. There is
// nothing to run here; the files are read by bankwright/engine/decl.
package scenarios

import "embed"

// Files are the example scenarios, in lists what they include, and in logs what an
// instrument recorded.
//
//go:embed *.toml lists/*.toml logs/*.csv
var Files embed.FS

// Default is the scenario that is taken where no file is named.
const Default = "alder_bay.toml"

// Starter is the commented scenario from which people begin their own.
const Starter = "starter.toml"
