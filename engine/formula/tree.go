// Package formula reads the formulas of rules and scenarios: expr source in a
// documented numeric and boolean subset. Parsing and trees are here, and the
// one registry of functions; what names mean is decided in package check.
package formula

// Span is a part of a formula's text, in characters (runes).
type Span struct{ Start, Len int }

// To is the span from the start of s to the end of t.
func (s Span) To(t Span) Span {
	from, end := min(s.Start, t.Start), max(s.Start+s.Len, t.Start+t.Len)
	return Span{from, end - from}
}

// NodeKind is what a node of a formula is.
type NodeKind uint8

// The kinds of nodes.
const (
	Number NodeKind = iota // Num
	Text                   // Text
	Truth                  // Num is 0 or 1
	Name                   // Path, or with Dot a path from the aggregate's item
	Unary                  // Op is "-" or "not"
	Binary                 // Op is one of + - * / ** == != < <= > >= and or ??
	Cond                   // Args[0] ? Args[1] : Args[2]
	Call                   // Text(Args...)
	Each                   // Text(Args[0], Args[1]): an aggregate with a body for each item
)

// Node is a node of a formula as it was written, names not yet resolved.
type Node struct {
	Kind NodeKind
	At   Span
	Op   string
	Text string
	Num  float64
	Path []string
	Dot  bool
	Args []*Node
}

// Walk calls f for n and every node below it, parents first.
func (n *Node) Walk(f func(*Node)) {
	f(n)
	for _, a := range n.Args {
		a.Walk(f)
	}
}
