package graph

import (
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
)

func edgesOf(to [][]int) func(int) []int { return func(i int) []int { return to[i] } }

func TestComponents(t *testing.T) {
	for _, c := range []struct {
		what string
		to   [][]int
		want [][]int
	}{
		{"nothing", nil, [][]int{}},
		{"no edges: by number", [][]int{{}, {}, {}}, [][]int{{0}, {1}, {2}}},
		{"only what must move moves", [][]int{{3}, {}, {}, {}}, [][]int{{1}, {2}, {3}, {0}}},
		{"a chain", [][]int{{1}, {2}, {}}, [][]int{{2}, {1}, {0}}},
		{"a node that needs itself", [][]int{{0}, {0}}, [][]int{{0}, {1}}},
		{"two in a circle, one that needs them twice", [][]int{{1, 2, 1}, {2}, {1}}, [][]int{{1, 2}, {0}}},
		{"two circles", [][]int{{2}, {3}, {0, 3}, {1}}, [][]int{{1, 3}, {0, 2}}},
	} {
		if got := Components(len(c.to), edgesOf(c.to)); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %v, want %v", c.what, got, c.want)
		}
	}
}

// reach is the transitive closure by the plain triple loop (S. Warshall, A
// theorem on Boolean matrices, 1962).
func reach(to [][]int) [][]bool {
	n := len(to)
	r := make([][]bool, n)
	for i := range r {
		r[i] = make([]bool, n)
		for _, j := range to[i] {
			r[i][j] = true
		}
	}
	for k := range n {
		for i := range n {
			for j := range n {
				r[i][j] = r[i][j] || r[i][k] && r[k][j]
			}
		}
	}
	return r
}

// naiveComponents takes, again and again, the smallest node whose needs are
// all out already, but for those it shares a component with.
func naiveComponents(to [][]int) [][]int {
	r := reach(to)
	together := func(i, j int) bool { return i == j || r[i][j] && r[j][i] }
	out := [][]int{}
	done := make([]bool, len(to))
	free := func(i int) bool {
		for j := range to {
			if r[i][j] && !together(i, j) && !done[j] {
				return false
			}
		}
		return !done[i]
	}
	for {
		i := 0
		for ; i < len(to) && !free(i); i++ {
		}
		if i == len(to) {
			return out
		}
		var component []int
		for j := range to {
			if together(i, j) {
				component = append(component, j)
				done[j] = true
			}
		}
		out = append(out, component)
	}
}

func randomGraph(random *rand.Rand) [][]int {
	to := make([][]int, 1+random.IntN(12))
	for range random.IntN(2*len(to) + 1) {
		i := random.IntN(len(to))
		to[i] = append(to[i], random.IntN(len(to)))
	}
	return to
}

func TestComponentsAgainstNaive(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 3000 {
		to := randomGraph(random)
		want := naiveComponents(to)
		if got := Components(len(to), edgesOf(to)); !reflect.DeepEqual(got, want) {
			t.Fatalf("%v: %v, want %v", to, got, want)
		}
		for _, e := range to {
			random.Shuffle(len(e), func(i, j int) { e[i], e[j] = e[j], e[i] })
		}
		if got := Components(len(to), edgesOf(to)); !reflect.DeepEqual(got, want) {
			t.Fatalf("%v depends on the order of the edges", to)
		}
	}
}

// Depth costs no stack.
func TestDeep(t *testing.T) {
	const n = 100_000
	chain := Components(n, func(i int) []int {
		if i == n-1 {
			return nil
		}
		return []int{i + 1}
	})
	if len(chain) != n || chain[0][0] != n-1 || chain[n-1][0] != 0 {
		t.Errorf("a chain of %d makes %d components", n, len(chain))
	}
	ring := func(i int) []int { return []int{(i + 1) % n} }
	round := Components(n, ring)
	if len(round) != 1 || len(round[0]) != n {
		t.Fatalf("a ring of %d makes %d components", n, len(round))
	}
	if c := Cycle(round[0], ring); len(c) != n || c[0] != 0 || c[1] != 1 {
		t.Errorf("the cycle of a ring of %d has %d nodes", n, len(c))
	}
}

func TestCycle(t *testing.T) {
	for _, c := range []struct {
		what      string
		component []int
		to        [][]int
		want      []int
	}{
		{"none", []int{0}, [][]int{{1}, {}}, nil},
		{"nothing", nil, nil, nil},
		{"itself", []int{0}, [][]int{{0}}, []int{0}},
		{"two", []int{1, 0}, [][]int{{1}, {0}}, []int{0, 1}},
		{"begins at its smallest", []int{2, 1, 3}, [][]int{{}, {3}, {1}, {2}}, []int{1, 3, 2}},
		{"the shortest, though a longer one begins earlier", []int{0, 1, 2, 3}, [][]int{{1}, {2}, {3, 1}, {0}}, []int{1, 2}},
		{"the first of two, whatever the order of the edges", []int{0, 1, 2}, [][]int{{2, 1}, {0}, {0}}, []int{0, 1}},
		{"the first of two that begin at different nodes", []int{0, 1, 2}, [][]int{{1}, {0, 2}, {1}}, []int{0, 1}},
		{"stays inside", []int{0, 2}, [][]int{{1, 2}, {0}, {0}}, []int{0, 2}},
	} {
		if got := Cycle(c.component, edgesOf(c.to)); !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %v, want %v", c.what, got, c.want)
		}
	}
}

// A cycle closes, stays in its component, begins at its smallest node, and no
// shorter one exists: the shortest has as many hops as the first power of the
// adjacency matrix with an entry on the diagonal.
func TestCycleAgainstNaive(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	for range 2000 {
		to := randomGraph(random)
		for _, component := range naiveComponents(to) {
			got := Cycle(component, edgesOf(to))
			if len(got) != shortest(to, component) {
				t.Fatalf("%v in %v: %v, but the shortest has %d nodes", to, component, got, shortest(to, component))
			}
			for k, i := range got {
				next := got[(k+1)%len(got)]
				if !slices.Contains(to[i], next) || !slices.Contains(component, i) || i < got[0] {
					t.Fatalf("%v in %v: %v is no cycle from its smallest node", to, component, got)
				}
			}
		}
	}
}

// shortest is the length of the shortest cycle through nodes of a component,
// 0 if there is none.
func shortest(to [][]int, component []int) int {
	walks := make([]map[int]bool, len(to)) // where walks of so many hops from i end
	for _, i := range component {
		walks[i] = map[int]bool{i: true}
	}
	for hops := 1; hops <= len(component); hops++ {
		for _, i := range component {
			ends := map[int]bool{}
			for j := range walks[i] {
				for _, k := range to[j] {
					ends[k] = true
				}
			}
			walks[i] = ends
		}
		for _, i := range component {
			if walks[i][i] {
				return hops
			}
		}
	}
	return 0
}
