package check

import (
	"slices"
	"strings"

	"bankwright/engine/diag"
)

// Quantities that are named by what people call them.

// pathOf takes a name apart at its points, but for those between quotes, which are left
// out: shelf.oak."price per m".
func pathOf(name string) []string {
	var out []string
	var part strings.Builder
	quoted := false
	for _, r := range name {
		switch {
		case r == '"':
			quoted = !quoted
		case r == '.' && !quoted:
			out = append(out, part.String())
			part.Reset()
		default:
			part.WriteRune(r)
		}
	}
	return append(out, part.String())
}

// labelled is the quantity of a kind that alone has a label, in any case, or nil.
func (k *Kind) labelled(label string) *Quantity {
	var found *Quantity
	for _, q := range k.Quantities {
		if strings.EqualFold(q.Label, label) {
			if found != nil {
				return nil
			}
			found = q
		}
	}
	return found
}

// nearestQuantity asks for the quantity that was perhaps meant, by its name or its
// label; it is empty where none resembles it.
func nearestQuantity(name string, of []*Quantity) string {
	var names, labels []string
	for _, q := range of {
		names, labels = append(names, q.Name), append(labels, q.Label)
	}
	if diag.Nearest(name, names) == "" {
		if i := slices.Index(labels, diag.Nearest(name, labels)); i >= 0 && labels[i] != "" {
			return "Did you mean " + names[i] + " (" + labels[i] + ")?"
		}
	}
	if mend := nearest(name, names, ""); strings.HasSuffix(mend, "?") || len(of) <= mostListed {
		return mend
	}
	return ""
}

// listsAll says by what the quantities of a kind are listed.
func listsAll(k *Kind) string { return "`bankwright rules " + k.Name + "` lists what there is" }

// noNumber is the error for the name of an item alone: it proposes what is compared.
func (k *Kind) noNumber(name, item string) error {
	var few []string
	if k.Compare != nil {
		few = append(few, k.Compare.Show...)
		if !slices.Contains(few, k.Compare.By) {
			few = append(few, k.Compare.By)
		}
	}
	const most = 3 // the deciding one comes last
	few = few[max(0, len(few)-most):]
	if len(few) == 0 && len(k.Quantities) > 0 {
		few = []string{someName(k)}
	}
	for i := range few {
		few[i] = item + "." + few[i]
	}
	mend := listsAll(k)
	if len(few) > 0 {
		mend = "Name one of its quantities, such as " + either(few) + "; " + mend
	}
	return misnamed(mend, "%s is an item, not one number", name)
}
