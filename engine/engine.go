// Package engine is the way in: it loads rules and a scenario, checks them,
// evaluates them, and answers what a comparison needs to know. It knows units,
// formulas and checks, and nothing of any trade: that stands in the rules.
package engine

import (
	"slices"

	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/diag"
	"bankwright/engine/eval"
	"bankwright/engine/reading"
)

// Sources says where rules and scenario are read from.
type Sources = decl.Sources

// Model is a scenario that has been read, checked and evaluated.
type Model struct {
	*check.Program
	Result  *eval.Result
	Dropped []string // combinations that their keep condition left out

	src Sources // for reading it anew
}

// Load reads, checks and evaluates a scenario. The list holds every fault and
// warning, in file order; the model is nil where something is at fault. The
// text of the files that were read is returned for showing diagnostics.
func Load(src Sources) (*Model, diag.List, []*decl.File) {
	if src.Recordings == nil {
		src.Recordings = &reading.Shelf{}
	}
	declared, list := decl.Load(src)
	var files []*decl.File
	if declared != nil {
		files = declared.Files
	}
	finish := func(m *Model) (*Model, diag.List, []*decl.File) {
		list.Sort()
		if list.HasErrors() {
			m = nil
		}
		return m, list, files
	}
	if declared == nil {
		return finish(nil)
	}
	prog, faults := check.Resolve(declared)
	list = append(list, faults...)
	if list.HasErrors() {
		return finish(nil)
	}
	m := &Model{Program: prog, Result: eval.Run(prog), src: src}
	problems, recorded := recordingProblems(declared)
	files = append(slices.Clone(files), recorded...)
	if list = append(list, problems...); list.HasErrors() {
		return finish(nil)
	}
	if dropped, faults := m.dropCombinations(); len(dropped) > 0 || len(faults) > 0 {
		list = append(list, faults...)
		if list.HasErrors() {
			return finish(nil)
		}
		prog, faults = check.Resolve(declared)
		list = append(list, faults...)
		if list.HasErrors() {
			return finish(nil)
		}
		m = &Model{Program: prog, Result: eval.Run(prog), Dropped: dropped, src: src}
	}
	list = append(list, m.Faults()...)
	list = append(list, m.lostPicks()...)
	m.partsFault(&list)
	if !list.HasErrors() {
		list = append(list, m.unusual(list)...)
	}
	return finish(m)
}

// dropCombinations takes out of the declarations the combinations that do not
// meet their condition.
func (m *Model) dropCombinations() (dropped []string, list diag.List) {
	for _, k := range m.Kinds {
		if k.Keep == nil {
			continue
		}
		var stay []*decl.Item
		for i, it := range k.Items {
			if it.Keep == nil {
				stay = append(stay, it)
				continue
			}
			v := m.Result.At(k.Keep, i, 0)
			switch {
			case v != v:
				list.Errorf(it.Keep.At, "absent", "Use only what is given for every combination.", "whether %s stays cannot be told: %s", it.Name, m.whySentence(m.Result.Why(eval.Cell{Quantity: k.Keep, Item: i})))
				stay = append(stay, it)
			case v != 0:
				stay = append(stay, it)
			default:
				k.Kind.Dropped = append(k.Kind.Dropped, it.Name)
			}
		}
		dropped = append(dropped, k.Kind.Dropped...)
		list = append(list, emptied(k, stay)...)
		k.Kind.Items = stay
	}
	m.resizeKindAxes()
	return dropped, list
}

// emptied tells of tables of which no combination stays: a warning where other
// items are left, a fault where none is.
func emptied(k *check.Kind, stay []*decl.Item) (list diag.List) {
	made, left := map[*decl.Formula]int{}, map[*decl.Formula]int{}
	for _, it := range k.Items {
		made[it.Keep]++
	}
	for _, it := range stay {
		left[it.Keep]++
	}
	for _, it := range k.Items {
		if it.Keep == nil || left[it.Keep] > 0 {
			continue
		}
		left[it.Keep] = made[it.Keep] // told once
		say, so := list.Warnf, ""
		if len(stay) == 0 {
			say, so = list.Errorf, ", so that there is no "+k.Name
		}
		say(it.Keep.At, "conflict", "Loosen the condition, or vary other values.", "`keep` leaves none of the %d combinations of `%s`%s", made[it.Keep], it.Group, so)
	}
	return list
}

// resizeKindAxes lets axes over items follow the items that are left.
func (m *Model) resizeKindAxes() {
	for _, a := range m.Axes {
		if a.Kind != nil {
			a.Steps = len(a.Kind.Items)
		}
	}
}
