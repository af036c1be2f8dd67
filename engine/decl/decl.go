// Package decl reads rules files and scenario files and turns them into
// declarations: what kinds of things there are, which quantities they have,
// and what a scenario says of them. Values are converted to base units here
// and checked against the type, unit, bounds and choices of their quantity.
// Formulas stay text; package check gives them their meaning.
//
// This is the only package that reads TOML.
package decl

import (
	"bankwright/engine/diag"
	"bankwright/engine/reading"
	"bankwright/engine/unit"
)

// Model is everything that the rules files and the scenario declare.
type Model struct {
	Title    string
	About    string // the story at the head of the scenario, may have several lines
	Question string // what the client asked; may be empty
	Date     string // as the scenario gives it, may be empty
	Currency string // ISO 4217 code that stands for money in this scenario

	Kinds     []*Kind // in the order of declaration; constants are the one-kind "constant"
	Axes      []*Axis
	Tables    []*Table
	Checks    []*Check
	Notices   []*Notice // sentences that every output carries
	Questions []*Question
	Drawings  []*Drawing
	Shortlist []Named // items of the compared kind that are always shown in full

	Sweeps     []*Sweep
	Doubts     []*Doubt
	BreakEvens []*BreakEven

	Files []*File // every file read, in order: the scenario first
}

// File is a file that was read, kept so that diagnostics can show its lines.
type File struct {
	Name  string
	Text  []byte
	Rules bool // a rules file rather than a scenario or an included list

	Recording bool // a recording, of which only some lines are kept
}

// Kind is a class of things: many named items, or one.
type Kind struct {
	Name       string
	Plural     string // table name for a many-kind in formulas: sum(heaters, .power); empty for a one-kind
	Many       bool
	Title      string // heading for people; by default the plural or the name
	Doc        string
	Compare    *Compare // on the kind that is compared, else nil
	NameForm   string   // names combinations, "{heater}_{count}x"
	Least      int      // items that a scenario must have
	Quantities []*Quantity
	Items      []*Item  // a one-kind has exactly one, named like the kind
	Dropped    []string // combinations that their condition left out, once that is known
	At         diag.Pos
}

// Constants reports whether the kind holds the constants of the rules.
func (k *Kind) Constants() bool { return k.Name == constantKind }

// Compare says how the items of a kind are ranked and what is shown of them.
type Compare struct {
	By      string   // the quantity that decides
	Lowest  bool     // lowest is best; otherwise highest
	Show    []string // quantities side by side, in this order; the deciding one comes last
	Summary string   // one line above the comparison, with {paths} filled in

	Shortlist int       // how many items are shown in full where there are many
	Table     []string  // quantities of the one table of all others; nil: those of Show
	Frontier  *Frontier // nil: none is asked for
	Parts     *Parts    // nil: none are told
	Chart     []string  // quantities in one unit, drawn side by side
	Watch     []string  // paths from the best item to inputs: it is said how far each may move before another is best
	At        diag.Pos
}

// Type is what values of a quantity are.
type Type int

const (
	// Number is a number with a unit (possibly none).
	Number Type = iota
	// Boolean is true or false.
	Boolean
	// Text is one of the quantity's choices, or any text where it has none.
	Text
	// Reference names an item of another kind.
	Reference
	// Set names several items of another kind.
	Set
	// Points is a small table of the item's own: named columns of numbers.
	Points
	// Recording is a file of rows that an instrument wrote, with named columns of
	// numbers, the first of which is the time.
	Recording
)

// Tabular reports whether what is given is no single value but a table.
func (t Type) Tabular() bool { return t == Points || t == Recording }

// Quantity is a property of the items of a kind. Without a formula it is an
// input, with one a rule.
type Quantity struct {
	Kind    *Kind
	Name    string
	Label   string // for people; by default the name with spaces
	Section string // heading under which it is shown; carried on from the quantity before it in the file
	Sheet   string // name of a sheet of the workbook that has the rules of the section; empty: that of the kind
	Doc     string
	Source  string
	At      diag.Pos

	Type     Type
	Unit     unit.Unit // Number only
	Decimals int       // digits after the point when shown, -1: chosen by size
	Refers   *Kind     // Reference and Set
	Choices  []string  // Text
	Columns  []Column  // Points; sorted by the first column; Recording
	MaxRows  int       // Points: rows laid out

	Over    []*Axis  // the axes of a series, the last runs fastest
	Formula *Formula // a rule
	Start   *Formula // a series: the value before the first step of the last axis

	Inverse *Quantity // a set that is not given: the items of Refers whose Inverse is the item

	Default  *Given    // an input that the scenario need not give
	Optional bool      // an input that may be absent
	Unless   *Quantity // an optional input that is required where this one is not given

	Min, Max  *Bound // hard limits
	Whole     bool   // only whole numbers are possible; plain numbers alone
	Otherwise string // a sentence of the rules' own for a value beyond these limits
	UsualMin  *Bound // outside the usual range: a warning
	UsualMax  *Bound

	UsualSource string   // where that range comes from; may be empty
	UsualIn     []string // currencies in which it holds; nil: any

	Instead map[string]Instead // what is meant by spellings that are no units, in small letters
}

// Bound is a limit on a number.
type Bound struct {
	Value   float64 // base units
	Written string  // as written: "0 Ah"
}

// Column is a column of a table. Unit is unused where Text is set.
type Column struct {
	Name string
	Text bool
	Unit unit.Unit

	Min, Max *Bound // hard limits, in an item's own table
	Falling  bool   // values that rise with the first column are unusual

	Optional bool // of a recording: the file may lack it
	Counter  bool // of a recording: it only grows
}

// Axis is what a series runs over. Kind is set where the items of a many-kind
// are the steps; Steps is then their number.
type Axis struct {
	Name   string
	Title  string
	Doc    string
	Steps  int
	Labels []string // names of the steps, or nil: they are numbered from 1
	Active *Formula // a plain name or path: how many steps are in use for an item; nil: all
	Kind   *Kind
	At     diag.Pos
}

// Table is a table of published values.
type Table struct {
	Name    string
	Columns []Column
	Rows    []Row
	Doc     string
	Source  string
	At      diag.Pos
}

// Row is one row of a table: Numbers (base units) and Texts run parallel to
// the columns, the one that does not apply being zero.
type Row struct {
	Numbers []float64
	Texts   []string
}

// Check is a condition that each item of a kind must meet.
type Check struct {
	Name        string
	Of          *Kind
	Severity    Severity
	Require     *Formula
	Otherwise   string // a sentence with {paths} that are filled in; place in OtherwiseAt
	Doc         string
	Source      string
	At          diag.Pos
	OtherwiseAt diag.Pos
}

// Severity of a check that is not met.
type Severity int

const (
	// Stop: must not be built so.
	Stop Severity = iota
	// Unfit: safe, but does not serve.
	Unfit
	// Caution: look here.
	Caution
)

// String is the word that rules files use.
func (s Severity) String() string { return [...]string{"stop", "unfit", "caution"}[s] }

// Question is what people ask of each item of a kind, answered by a sentence
// with values in it ([question.NAME] in a rules file).
type Question struct {
	Name     string
	Of       *Kind
	Ask      string
	Answer   string // a sentence with {paths} that are filled in; place in AnswerAt
	At       diag.Pos
	AnswerAt diag.Pos
}

// Notice is a sentence that every output carries ([caution.NAME] in a rules file).
type Notice struct {
	Name   string
	Text   string
	Source string
	At     diag.Pos
}

// Item is one named thing of a kind.
type Item struct {
	Name  string
	Label string // for people: the scenario's `label`, else the name
	Given map[string]*Given
	Group string   // the table that `each` expanded, else empty
	Keep  *Formula // only combinations that meet it stay; nil: all
	At    diag.Pos
}

// Given is what a file says of one quantity of one item. Exactly one of
// Formula, Values, Texts, Points and Recording is used, by the quantity's type:
// Values for Number (base units) and Boolean (0 or 1), Texts for Text,
// Reference and Set, Points (a slice for each column) for Points.
type Given struct {
	At      diag.Pos
	Written string // as written, without quotes: "80 lb"
	Default bool   // from the rules' default, not from the scenario
	Formula *Formula
	Values  []float64 // one, or one for each step of a series
	Texts   []string
	Points  [][]float64

	Recording *reading.Recording
}

// Formula is formula source as it stands in a file, without a leading "=".
type Formula struct {
	Text string
	At   diag.Pos // the whole value in the file, quotes included

	spans []span // of the value that holds it; nil where the text was escaped
	shift int    // characters of the value before Text[0]
}

// Pos is the place in the file of a part of the text; offset and length count
// characters (runes). Where the text does not stand in the file letter by
// letter, it is the place of the whole value.
func (f *Formula) Pos(offset, length int) diag.Pos { return f.pos(offset, length) }
