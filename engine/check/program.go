// Package check gives declarations their meaning: it parses every formula,
// resolves every name, checks dimensions and orders the quantities. Its result
// is an immutable Program that package eval runs and package export renders.
package check

import (
	"bankwright/engine/decl"
	"bankwright/engine/formula"
	"bankwright/engine/unit"
)

// Program is a checked model, ready to run.
type Program struct {
	Model      *decl.Model
	Kinds      []*Kind      // parallel to Model.Kinds
	Quantities []*Quantity  // all, Quantity.Index is the place here
	Checks     []*Check     // parallel to Model.Checks
	Questions  []*Question  // parallel to Model.Questions
	Drawings   []*Drawing   // parallel to Model.Drawings
	Axes       []*decl.Axis // the model's, and one for each kind that a set refers to
	Order      []Group      // evaluation order
	Texts      []string     // interned texts; a text value is its index here

	Sweeps     []*Sweep     // parallel to Model.Sweeps
	Doubts     []*Doubt     // parallel to Model.Doubts
	BreakEvens []*BreakEven // parallel to Model.BreakEvens
}

// Kind is a checked kind.
type Kind struct {
	*decl.Kind
	Index      int
	Quantities []*Quantity
	Active     map[*decl.Axis]*Expr // how many steps of an axis are in use for an item, where the axis says so
	Keep       *Quantity            // whether a combination stays, by own formulas; nil: none asks
	Summary    []Part               // the line above the comparison
	Watch      []*Expr              // the inputs of which it is said how far they may move
}

// Quantity is a checked quantity. Its values are stored in Rows() rows of one
// lane for each item (and each point of a sweep).
type Quantity struct {
	*decl.Quantity
	Index int
	Kind  *Kind
	To    *Kind // Reference and Set: the kind it refers to
	// Inverse is, of a set that is not given, the reference of the other kind
	// by which its items are members.
	Inverse *Quantity
	Dim     unit.Dim     // Number
	Axes    []*decl.Axis // as declared; a set runs over the kind it refers to, a Boolean for each item
	Value   *Expr        // a rule's formula, else nil
	Start   *Expr
	Own     []*Expr // for each item: the formula that stands in place of a value, else nil

	// MayBeAbsent tells that a cell can be without a value: an optional input,
	// or what needs one.
	MayBeAbsent bool
}

// Check is a checked check. Its result is stored like that of a rule, in a
// Boolean quantity that is in no kind's list.
type Check struct {
	*decl.Check
	Result  *Quantity
	Message []Part // the sentence, text and values in turn
}

// Question is a checked question.
type Question struct {
	*decl.Question
	Kind     *Kind
	Sentence []Part // the answer, text and values in turn
}

// Part is a piece of a sentence: Text, or the value of Read.
type Part struct {
	Text string
	Read *Expr
}

// Group is what is evaluated together: one quantity or own formula, or several
// that reach each other through prev and so run step by step.
type Group struct {
	Nodes    []Node
	Stepwise bool // Nodes run in turn at each step of their last axis
}

// Node is one unit of evaluation: a rule over all items, or the formula that
// the scenario gives for one item's input (Item >= 0).
type Node struct {
	Quantity *Quantity
	Item     int // -1: all items by Quantity.Value
}

// Op is what an expression does.
type Op uint8

// The operations. Comparisons of numbers snap (see arith.AtMost).
const (
	Literal Op = iota // Num
	Nothing           // no value, written `absent`
	Read              // the value that Ref reaches
	Column            // a table's or an item's column, only as an argument of a table function
	Step              // the number of the current step of Axis, from 1
	Neg
	Not
	Add
	Sub
	Mul
	Div
	Pow
	Eq
	Ne
	Lt
	Le
	Gt
	Ge
	And
	Or
	If   // Args[0] ? Args[1] : Args[2]
	Else // Args[0] ?? Args[1]; Args[0] is a Read
	Call // Fn(Args...)
	Fold // an aggregate, see Fold
)

// Expr is a checked expression. Numbers are in base units, booleans 0 or 1,
// texts indices into Program.Texts.
type Expr struct {
	Op   Op
	At   formula.Span // place in the formula's text
	Type decl.Type    // Number, Boolean or Text
	Dim  unit.Dim
	Args []*Expr

	Num   float64           // Literal
	Ref   *Ref              // Read, and Column of an item's points
	Table *decl.Table       // Column of a table
	Col   int               // Column: which one
	Axis  *decl.Axis        // Step
	Fn    *formula.Function // Call
	Fold  *FoldSpec         // Fold
}

// Origin is where a reference starts from.
type Origin uint8

const (
	// Self is the item for which the formula is evaluated.
	Self Origin = iota
	// One is the only item of a one-kind.
	One
	// Fixed is a named item.
	Fixed
	// Each is the current item of the aggregate around the expression.
	Each
	// AxisItem is the current item of a kind axis.
	AxisItem
)

// Ref is a way from the current item to a quantity: an origin, then references
// followed one after another.
type Ref struct {
	Origin Origin
	Kind   *Kind       // the kind of the origin's item
	Item   int         // Fixed
	Axis   *decl.Axis  // AxisItem
	Hops   []*Quantity // Reference quantities that are followed
	Target *Quantity
	Prev   bool   // the step before, along the reader's last axis
	Path   string // as written, for people
}

// FoldKind says how an aggregate combines values.
type FoldKind uint8

// The aggregates. First and Last are of a series only.
const (
	Sum FoldKind = iota
	Count
	Any
	All
	Min
	Max
	Mean
	First
	Last
	Deviation // standard deviation of a sample; absent where there are fewer than two values
	Length    // number of rows of a Column
	Steps     // no aggregate: the values themselves, an argument of a function that takes a history
)

// FoldSpec is an aggregate, either over the items of a kind (Items set; Args[0]
// is the body, evaluated for each) or over the steps of a series (Items nil;
// Args[0] is a Read whose target has axes that the reader has not, and these
// are collapsed) or of a Column.
type FoldSpec struct {
	Kind  FoldKind
	Items *Kind
	Set   *Ref         // only the members of this set reference count; nil: all items
	Over  []*decl.Axis // series: the axes that are collapsed
}

// Least is how many values an aggregate takes at the least: where there are
// fewer it is absent. It is 0 where having none is a failure, or no fault.
func (f *FoldSpec) Least() int {
	switch f.Kind {
	case Deviation:
		return 2
	case Min, Max, Mean:
		if f.Set != nil && f.Set.Target.Inverse != nil {
			return 1
		}
	}
	return 0
}
