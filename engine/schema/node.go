package schema

import (
	"bytes"
	"encoding/json"
)

// node is a schema, or a part of one. What is empty is left out.
type node struct {
	Draft       string `json:"$schema,omitempty"`
	Title       string `json:"title,omitempty"`
	Description string `json:"description,omitempty"`
	Ref         string `json:"$ref,omitempty"`

	Type    types    `json:"type,omitempty"`
	Enum    []string `json:"enum,omitempty"`
	Pattern string   `json:"pattern,omitempty"`
	Longest int      `json:"maxLength,omitempty"`

	Minimum *float64 `json:"minimum,omitempty"`
	Maximum *float64 `json:"maximum,omitempty"`
	Above   *float64 `json:"exclusiveMinimum,omitempty"`
	Below   *float64 `json:"exclusiveMaximum,omitempty"`

	Least  int   `json:"minItems,omitempty"`
	Most   int   `json:"maxItems,omitempty"`
	Unique bool  `json:"uniqueItems,omitempty"`
	Items  *node `json:"items,omitempty"`

	Names      *node   `json:"propertyNames,omitempty"`
	LeastKeys  int     `json:"minProperties,omitempty"`
	Properties members `json:"properties,omitempty"`
	Others     *others `json:"additionalProperties,omitempty"`
	Required   words   `json:"required,omitempty"`
	Needs      members `json:"dependencies,omitempty"`

	AllOf []*node `json:"allOf,omitempty"`
	AnyOf []*node `json:"anyOf,omitempty"`
	OneOf []*node `json:"oneOf,omitempty"`
	If    *node   `json:"if,omitempty"`
	Then  *node   `json:"then,omitempty"`
	Else  *node   `json:"else,omitempty"`

	Definitions members `json:"definitions,omitempty"`
}

// words are a list of names, or nothing.
type words []string

// types are the types that a value may have; one is written without a list.
type types []string

// MarshalJSON writes the type, or the list of types.
func (t types) MarshalJSON() ([]byte, error) {
	if len(t) == 1 {
		return json.Marshal(t[0])
	}
	return json.Marshal([]string(t))
}

// others is what keys besides the named ones hold; nil in it: there are none.
type others struct{ *node }

// MarshalJSON writes false where there are no other keys.
func (o others) MarshalJSON() ([]byte, error) {
	if o.node == nil {
		return []byte("false"), nil
	}
	return plain(o.node)
}

// members are named parts in the order in which they are written.
type members []member

type member struct {
	name string
	node any // *node, or words
}

// MarshalJSON writes the members in order.
func (m members) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, one := range m {
		if i > 0 {
			b.WriteByte(',')
		}
		name, err := plain(one.name)
		if err != nil {
			return nil, err
		}
		value, err := plain(one.node)
		if err != nil {
			return nil, err
		}
		b.Write(name)
		b.WriteByte(':')
		b.Write(value)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// plain is JSON in which < and & stand as they are.
func plain(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), err
}

// told is a copy of a node with a description.
func (n *node) told(text string) *node {
	out := *n
	out.Description = text
	if out.Ref != "" { // beside $ref, draft-07 looks at nothing
		out.AllOf, out.Ref = []*node{{Ref: out.Ref}}, ""
	}
	return &out
}

func truth() *node    { return &node{Type: types{"boolean"}} }
func sentence() *node { return &node{Type: types{"string"}} }

// upTo is a text of at most so many characters.
func upTo(most int) *node { return &node{Type: types{"string"}, Longest: most} }

func scalar() *node { return &node{Type: types{"string", "number", "boolean"}} }

// integer is a whole number between two limits.
func integer(low, high float64) *node {
	return &node{Type: types{"integer"}, Minimum: &low, Maximum: &high}
}

// list is a list of at least so many entries, and at most so many; most is 0 where
// there is no limit.
func list(of *node, least, most int) *node {
	return &node{Type: types{"array"}, Items: of, Least: least, Most: most}
}

// oneOrMore is a text, or a list of texts.
func oneOrMore(most int) *node {
	return &node{Type: types{"string", "array"}, Items: sentence(), Least: 1, Most: most}
}

// oneOf is one of some words.
func oneOf(choices ...string) *node { return &node{Type: types{"string"}, Enum: choices} }

// table is a table of these keys and no others.
func table(keys members, required ...string) *node {
	return &node{Type: types{"object"}, Properties: keys, Others: &others{}, Required: required}
}

// tables are tables under names of the scenario's own.
func tables(of *node) *node {
	return &node{Type: types{"object"}, Names: name(), Others: &others{of}}
}

// name is the form of every name that a file gives to something.
func name() *node {
	return &node{Type: types{"string"}, Pattern: "^[a-z][a-z0-9_]*$", Longest: 60}
}

func ref(definition string) *node { return &node{Ref: "#/definitions/" + definition} }

// number is a number between two limits.
func number(low, high float64) *node {
	return &node{Type: types{"number"}, Minimum: &low, Maximum: &high}
}
