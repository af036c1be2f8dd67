package graph

import "slices"

// mostHops bounds the search for a shorter cycle in very large components.
const mostHops = 1_000_000

// Cycle is a shortest cycle inside a component, hop by hop from its smallest
// node; the last node leads back to the first. Among the shortest it is the one
// with the smallest first node, so the same graph always gives the same cycle.
// It is nil where there is none. In a component so large that the search takes
// more than a million hops, the shortest cycle found by then is given.
func Cycle(component []int, edges func(i int) []int) []int {
	nodes := slices.Clone(component)
	slices.Sort(nodes)
	place := make(map[int]int, len(nodes))
	for p, i := range nodes {
		place[i] = p
	}
	to := make([][]int, len(nodes)) // as places in nodes, so that they can be compared
	for p, i := range nodes {
		for _, j := range edges(i) {
			if q, ok := place[j]; ok {
				to[p] = append(to[p], q)
			}
		}
		slices.Sort(to[p])
	}
	var best []int
	hops := 0
	for start := range nodes {
		if best != nil && (len(best) == 1 || hops > mostHops) {
			break
		}
		if c := through(start, to, len(best), &hops); c != nil {
			best = c
		}
	}
	for k, p := range best {
		best[k] = nodes[p]
	}
	return best
}

// through is a shortest cycle from start through later nodes only, nil if there
// is none shorter than limit (0: no limit).
func through(start int, to [][]int, limit int, hops *int) []int {
	from, depth := map[int]int{}, map[int]int{start: 1}
	queue := []int{start}
	for len(queue) > 0 {
		i := queue[0]
		queue = queue[1:]
		if limit > 0 && depth[i] >= limit {
			return nil
		}
		for _, j := range to[i] {
			*hops++
			if j == start {
				return back(start, i, from)
			}
			if _, seen := depth[j]; j > start && !seen {
				from[j], depth[j] = i, depth[i]+1
				queue = append(queue, j)
			}
		}
	}
	return nil
}

// back is the way by which a search from start reached end.
func back(start, end int, from map[int]int) []int {
	path := []int{end}
	for i := end; i != start; {
		i = from[i]
		path = append(path, i)
	}
	slices.Reverse(path)
	return path
}
