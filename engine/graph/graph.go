// Package graph orders things by what they need. Nodes are numbers from 0, and
// edges(i) are the nodes that i needs.
package graph

import (
	"container/heap"
	"slices"
)

// Components returns the strongly connected components of a graph of n nodes,
// needed ones before those that need them; where several could be next, the
// one with the smallest node is. Each component is sorted. The result does not
// depend on the order of the edges. It takes time in proportion to nodes and
// edges but for a logarithm, and any depth.
func Components(n int, edges func(i int) []int) [][]int {
	to := make([][]int, n)
	for i := range to {
		to[i] = edges(i)
	}
	return inOrder(to, connected(to))
}

// connected finds the components. Source: R. Tarjan, Depth-first search and
// linear graph algorithms (1972), with a stack of its own in place of recursion.
func connected(to [][]int) [][]int {
	const unseen = -1
	index, low := make([]int, len(to)), make([]int, len(to))
	for i := range index {
		index[i] = unseen
	}
	pending := make([]bool, len(to)) // on the stack
	taken := make([]int, len(to))    // edges followed
	var stack, path []int
	var out [][]int
	next := 0
	enter := func(i int) {
		index[i], low[i], pending[i] = next, next, true
		next++
		stack = append(stack, i)
		path = append(path, i)
	}
	for root := range to {
		if index[root] == unseen {
			enter(root)
		}
		for len(path) > 0 {
			i := path[len(path)-1]
			if taken[i] < len(to[i]) {
				j := to[i][taken[i]]
				taken[i]++
				if index[j] == unseen {
					enter(j)
				} else if pending[j] {
					low[i] = min(low[i], index[j])
				}
				continue
			}
			path = path[:len(path)-1]
			if len(path) > 0 {
				up := path[len(path)-1]
				low[up] = min(low[up], low[i])
			}
			if low[i] == index[i] {
				var component []int
				component, stack = split(stack, i)
				for _, j := range component {
					pending[j] = false
				}
				out = append(out, component)
			}
		}
	}
	return out
}

// split takes what lies on a stack from i upwards, sorted.
func split(stack []int, i int) (component, rest []int) {
	at := len(stack) - 1
	for stack[at] != i {
		at--
	}
	component = slices.Clone(stack[at:])
	slices.Sort(component)
	return component, stack[:at]
}

// inOrder sorts components: needed ones first, then by smallest node.
func inOrder(to [][]int, components [][]int) [][]int {
	slices.SortFunc(components, func(a, b []int) int { return a[0] - b[0] })
	of := make([]int, len(to))
	for c, nodes := range components {
		for _, i := range nodes {
			of[i] = c
		}
	}
	missing := make([]int, len(components)) // edges to components not yet out
	needers := make([][]int, len(components))
	ready := &smallest{}
	for c, nodes := range components {
		for _, i := range nodes {
			for _, j := range to[i] {
				if of[j] != c {
					missing[c]++
					needers[of[j]] = append(needers[of[j]], c)
				}
			}
		}
		if missing[c] == 0 {
			heap.Push(ready, c)
		}
	}
	out := make([][]int, 0, len(components))
	for ready.Len() > 0 {
		c := heap.Pop(ready).(int)
		out = append(out, components[c])
		for _, d := range needers[c] {
			if missing[d]--; missing[d] == 0 {
				heap.Push(ready, d)
			}
		}
	}
	return out
}

// smallest is a heap of numbers.
type smallest []int

func (h smallest) Len() int           { return len(h) }
func (h smallest) Less(i, j int) bool { return h[i] < h[j] }
func (h smallest) Swap(i, j int)      { h[i], h[j] = h[j], h[i] }
func (h *smallest) Push(x any)        { *h = append(*h, x.(int)) }
func (h *smallest) Pop() any {
	last := len(*h) - 1
	x := (*h)[last]
	*h = (*h)[:last]
	return x
}
