package export

import "strings"

// mostNamed is how many items a kind may have for the cells of each to have names of
// their own; of more, the rows alone have names. A catalogue would fill the list of
// names with thousands.
const mostNamed = 12

// longestDefined is how long a defined name may be here; programs take 255 characters.
const longestDefined = 200

// defineNames gives names to all inputs, before formulas are laid out, which use them:
// kind_quantity is all that stands in the row or rows of an input, kind_item_quantity
// what one of several items has there. A constant goes by its own name.
func (pl *plan) defineNames() {
	for _, l := range pl.inputs.lines {
		switch name := l.q.Kind.Name + "_" + l.q.Name; {
		case l.q.Kind.Many || l.rows > 1:
			l.blockName = pl.freeName(name)
		case l.q.Kind.Name == "constant":
			l.name = pl.freeName(l.q.Name)
		default:
			l.name = pl.freeName(name)
		}
	}
}

// freeName is a name that nothing has yet, which it takes: the one that is asked for or
// that with a number; "" where it would be too long or read as something else.
func (pl *plan) freeName(name string) string {
	if looksLikeCell(name) || len(name) > longestDefined {
		return ""
	}
	free := name
	for n := 2; pl.namesTaken[strings.ToUpper(free)]; n++ {
		free = name + "_" + number(float64(n))
	}
	pl.namesTaken[strings.ToUpper(free)] = true
	return free
}

// nameInputs tells where the defined names of inputs are.
func (pl *plan) nameInputs() {
	for _, l := range pl.inputs.lines {
		if l.row == 0 {
			l.name, l.blockName = "", ""
			continue
		}
		at := Range{Sheet: pl.inputs.name, Row: l.row, Col: l.col, ToRow: l.row + l.rows - 1, ToColumn: l.col + l.items() - 1}
		pl.nameRange(l.name+l.blockName, at)
		if k := l.kind; k.Many && len(k.Items) <= mostNamed {
			for i, it := range k.Items {
				at.Col, at.ToColumn = l.column(i), l.column(i)
				pl.nameRange(pl.freeName(k.Name+"_"+it.Name+"_"+l.q.Name), at)
			}
		}
	}
}

func (pl *plan) nameRange(name string, at Range) {
	if name != "" {
		pl.book.Names = append(pl.book.Names, Name{name, at.String()})
	}
}
