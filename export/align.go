package export

// pairing tells for each entry of one list where it stands in another, -1 where it
// does not, and which entries of the other are new.
type pairing struct {
	to    []int
	added []int
}

// mostTable is how many pairs of entries are compared, which is a quarter of a
// second's work.
const mostTable = 16 << 20

// align pairs the entries of two lists in their order, as many equal ones as can be.
// Where as many were changed as stood there, these are paired too, save those that may
// have moved: what stands elsewhere by its own name is not what stood here.
func align(a, b []string) pairing {
	p := pairing{to: make([]int, len(a))}
	first := 0
	for first < len(a) && first < len(b) && a[first] == b[first] {
		p.to[first] = first
		first++
	}
	lastA, lastB := len(a), len(b)
	for lastA > first && lastB > first && a[lastA-1] == b[lastB-1] {
		lastA, lastB = lastA-1, lastB-1
		p.to[lastA] = lastB
	}
	equal := common(a[first:lastA], b[first:lastB])
	renamed := renaming(a[first:lastA], b[first:lastB], equal)
	i, j := first, first
	for _, m := range append(equal, [2]int{lastA - first, lastB - first}) {
		nextA, nextB := first+m[0], first+m[1]
		alike := nextA-i == nextB-j
		for ; i < nextA; i++ {
			if p.to[i] = -1; alike {
				if renamed(a[i], b[j]) {
					p.to[i] = j
				} else {
					p.added = append(p.added, j)
				}
				j++
			}
		}
		for ; j < nextB; j++ {
			p.added = append(p.added, j)
		}
		if i < lastA {
			p.to[i] = j
		}
		i, j = i+1, j+1
	}
	return p
}

// elsewhere tells for entries that were not paired where they stand among those that are
// new, of which each is there once: the order is another.
func (p pairing) elsewhere(a, b []string) map[int]int {
	lost, found := map[string][]int{}, map[string][]int{}
	for i, j := range p.to {
		if j < 0 && a[i] != "" {
			lost[a[i]] = append(lost[a[i]], i)
		}
	}
	for _, j := range p.added {
		found[b[j]] = append(found[b[j]], j)
	}
	out := map[int]int{}
	for key, at := range lost {
		if len(at) == 1 && len(found[key]) == 1 {
			out[at[0]] = found[key][0]
		}
	}
	return out
}

// renaming tells whether an entry can stand in the place of another: neither is found
// elsewhere among those that are left beside the pairs of equal ones.
func renaming(a, b []string, equal [][2]int) func(old, now string) bool {
	leftA, leftB := map[string]bool{}, map[string]bool{}
	i, j := 0, 0
	for _, m := range append(equal, [2]int{len(a), len(b)}) {
		for ; i < m[0]; i++ {
			leftA[a[i]] = a[i] != ""
		}
		for ; j < m[1]; j++ {
			leftB[b[j]] = b[j] != ""
		}
		i, j = i+1, j+1
	}
	return func(old, now string) bool { return old == now || !leftB[old] && !leftA[now] }
}

// common is a longest common subsequence: pairs of places, rising. It is empty where
// the lists are too long for that.
func common(a, b []string) (out [][2]int) {
	if len(a)*len(b) > mostTable {
		return nil
	}
	width := len(b) + 1
	length := make([]uint32, (len(a)+1)*width) // of what is common from i and j on
	for i := len(a) - 1; i >= 0; i-- {
		for j := len(b) - 1; j >= 0; j-- {
			if a[i] == b[j] {
				length[i*width+j] = length[(i+1)*width+j+1] + 1
			} else {
				length[i*width+j] = max(length[(i+1)*width+j], length[i*width+j+1])
			}
		}
	}
	for i, j := 0, 0; i < len(a) && j < len(b); {
		switch {
		case a[i] == b[j]:
			out = append(out, [2]int{i, j})
			i, j = i+1, j+1
		case length[(i+1)*width+j] >= length[i*width+j+1]:
			i++
		default:
			j++
		}
	}
	return out
}
