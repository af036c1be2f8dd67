package check

import "bankwright/engine/unit"

// Limits on what is computed. They lie above any comparison that people make, and keep
// a hostile file from taking the machine's memory or time: each of its parts may be as
// large as is allowed, and all of them together be beyond all bounds.
const (
	maxCells = 21_000_000  // values of all items and steps: 168 MB, and half as much for why some are missing
	maxWork  = 500_000_000 // parts of formulas, for each value that they give
)

// amount refuses what would have too many values, or take too long.
func (c *checker) amount() {
	var cells, work, mostCells, hardestWork float64 // they may be beyond whole numbers
	var most, hardest *Quantity
	for _, q := range c.prog.Quantities {
		rows := float64(q.Rows())
		n := rows * float64(len(q.Kind.Items))
		if cells += n; n > mostCells {
			most, mostCells = q, n
		}
		w := n * q.Value.work()
		for _, own := range q.Own {
			w += rows * own.work()
		}
		if work += w; w > hardestWork {
			hardest, hardestWork = q, w
		}
	}
	switch {
	case cells > maxCells:
		c.list.Errorf(most.At, "limit", "Use fewer items, or fewer steps.", "there are %s values, more than the %s that are computed; `%s` alone has %s",
			unit.Format(cells, 0), unit.Format(maxCells, 0), most.Name, unit.Format(mostCells, 0))
	case work > maxWork:
		c.list.Errorf(hardest.At, "limit", "Use fewer items, or shorter formulas over them.", "the formulas take %s steps of calculation, more than the %s that are done; `%s` alone takes %s",
			unit.Format(work, 0), unit.Format(maxWork, 0), hardest.Name, unit.Format(hardestWork, 0))
	}
}

// work is about how many operations one value of an expression takes.
func (e *Expr) work() float64 {
	if e == nil {
		return 0
	}
	n := 1.0
	for _, a := range e.Args {
		n += a.work()
	}
	if e.Op != Fold {
		return n
	}
	if e.Fold.Items != nil {
		return n * max(1, float64(len(e.Fold.Items.Items)))
	}
	for _, a := range e.Fold.Over {
		n *= float64(max(1, a.Steps))
	}
	return n
}
