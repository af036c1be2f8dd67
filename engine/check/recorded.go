package check

import (
	"strings"

	"bankwright/engine/decl"
	"bankwright/engine/formula"
)

// ofRecording reports whether e is a column of a recording.
func (e *Expr) ofRecording() bool {
	return e.Op == Column && e.Ref != nil && e.Ref.Target.Type == decl.Recording
}

// Columns is how many of a call's arguments are columns; they come first.
func (e *Expr) Columns() int { return min(e.Fn.Columns(), len(e.Args)) }

// recordedColumn resolves an argument that must be a column of a recording.
func (s *scope) recordedColumn(n *formula.Node, fn *formula.Function) *Expr {
	const mend = "Name a column of a recording: RECORDING.COLUMN."
	if n.Kind != formula.Name {
		s.c.problem(s.f, n.At, "table", mend, "%s takes a column of a recording here", fn.Name)
		return bad(n)
	}
	e := s.name(n)
	if e.Type != unknownType && !e.ofRecording() {
		s.c.problem(s.f, n.At, "table", mend, "%s is not a column of a recording", strings.Join(n.Path, "."))
		return bad(n)
	}
	return e
}

// recorded checks that the columns of a function are of one recording.
func (s *scope) recorded(e *Expr) bool {
	first := e.Args[0]
	for _, col := range e.Args[1:e.Columns()] {
		if pathHead(col.Ref) != pathHead(first.Ref) {
			s.c.problem(s.f, col.At, "table", "Name columns of the same recording.", "the columns of %s must be of one recording", e.Fn.Name)
			return false
		}
	}
	return true
}
