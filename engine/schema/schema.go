// Package schema describes scenario files as a JSON Schema, from what rules declare,
// so that editors complete and check them. It is draft-07, which the language server
// for TOML understands; a schema knows single values and keys, not what formulas and
// names mean, and so refuses nothing that package decl would take.
package schema

import (
	"bytes"
	"encoding/json"
	"io"

	"bankwright/engine/decl"
	"bankwright/engine/unit"
)

// Title is the title of every schema.
const Title = "A scenario of bankwright"

// Write writes the schema of scenarios: those that have the rules of one of the
// models. The same models give the same bytes.
func Write(w io.Writer, models ...*decl.Model) error {
	data, err := plain(scenario(models))
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := json.Indent(&b, data, "", " "); err != nil {
		return err
	}
	b.WriteByte('\n')
	_, err = w.Write(b.Bytes())
	return err
}

// builder collects the parts that others refer to.
type builder struct {
	definitions members
	known       map[string]bool
}

// define adds a part, once.
func (b *builder) define(id string, make func() *node) {
	if b.known[id] {
		return
	}
	b.known[id] = true
	n := make() // which may define others before it
	b.definitions = append(b.definitions, member{id, n})
}

// scenario is the schema of scenarios and of the lists that they include.
func scenario(models []*decl.Model) *node {
	b := &builder{known: map[string]bool{}}
	n := header().node()
	n.Draft, n.Title = "http://json-schema.org/draft-07/schema#", Title
	money := false
	for _, k := range kinds(models) {
		n.Properties = append(n.Properties, member{k.Name, b.items(k)})
		for _, in := range k.inputs {
			money = money || in.Unit.Dim.HasMoney()
		}
	}
	if money { // a file with a title is a scenario, not a list that one includes
		n.Needs = members{{"title", words{"currency"}}}
	}
	for _, what := range decl.Tables() {
		if id, ok := shared[what]; ok {
			b.define(id, fixed[what]().node)
		}
	}
	n.Definitions = b.definitions
	return n
}

// kinds are those of all models, in the order in which they are declared first.
func kinds(models []*decl.Model) (list []*kind) {
	byName := map[string]*kind{}
	for _, m := range models {
		for _, from := range m.Kinds {
			k := byName[from.Name]
			if k == nil {
				k = &kind{Kind: from}
				byName[from.Name] = k
				list = append(list, k)
			}
			k.merge(from)
		}
	}
	return list
}

// currencies are the codes that a scenario may count in.
func currencies() *node { return oneOf(unit.Currencies()...) }
