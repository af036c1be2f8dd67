package text

import (
	"fmt"
	"io"
	"strings"
)

// Change is an input that a workbook has otherwise than its scenario, and the address
// of its cell.
type Change struct{ Cell, Address, Old, New string }

// Changes writes the inputs that a workbook has otherwise than its scenario, a line
// for each, or two where one would be too long.
func Changes(w io.Writer, list []Change, st Style) {
	if len(list) == 0 {
		fmt.Fprintln(w, "No input was changed.")
		return
	}
	var cells, values, addresses []string
	for _, c := range list {
		cells = append(cells, c.Cell)
		values = append(values, c.Old+" -> "+c.New)
		addresses = append(addresses, c.Address)
	}
	first, second, third := widest(cells), widest(values), widest(addresses)
	apart := first+2+second+2+third > st.Width
	for i := range list {
		if apart {
			gap := max(2, st.Width-width(cells[i])-width(addresses[i]))
			fmt.Fprintf(w, "%s%s%s\n", cells[i], strings.Repeat(" ", gap), addresses[i])
			fmt.Fprintln(w, "    "+strings.Join(wrap(values[i], st.Width-4), "\n    "))
			continue
		}
		fmt.Fprintf(w, "%s  %s  %s\n", padRight(cells[i], first), padRight(values[i], second), addresses[i])
	}
}

func widest(list []string) (n int) {
	for _, s := range list {
		n = max(n, width(s))
	}
	return n
}
