// Package graph orders things by what they need. Nodes are numbers from 0.
package graph

import "sort"

// Components returns the strongly connected components of a graph of n nodes
// (Tarjan's method, without recursion), those that are needed before those that
// need them. Each component is sorted.
func Components(n int, edges func(i int) []int) [][]int {
	const unseen = -1
	index, low := make([]int, n), make([]int, n)
	for i := range index {
		index[i] = unseen
	}
	onStack := make([]bool, n)
	var stack []int
	var out [][]int
	next := 0
	type frame struct {
		node int
		to   []int
	}
	visit := func(i int) frame {
		index[i], low[i] = next, next
		next++
		stack = append(stack, i)
		onStack[i] = true
		return frame{i, edges(i)}
	}
	for root := range n {
		if index[root] != unseen {
			continue
		}
		path := []frame{visit(root)}
		for len(path) > 0 {
			f := &path[len(path)-1]
			if len(f.to) > 0 {
				j := f.to[0]
				f.to = f.to[1:]
				if index[j] == unseen {
					path = append(path, visit(j))
				} else if onStack[j] {
					low[f.node] = min(low[f.node], index[j])
				}
				continue
			}
			i := f.node
			path = path[:len(path)-1]
			if len(path) > 0 {
				up := path[len(path)-1].node
				low[up] = min(low[up], low[i])
			}
			if low[i] != index[i] {
				continue
			}
			var comp []int
			for {
				j := stack[len(stack)-1]
				stack = stack[:len(stack)-1]
				onStack[j] = false
				comp = append(comp, j)
				if j == i {
					break
				}
			}
			sort.Ints(comp)
			out = append(out, comp)
		}
	}
	return out
}

// Cycle is a shortest way through a component from its smallest node back to
// itself, hop by hop, without the return. It is nil where there is none.
func Cycle(component []int, edges func(i int) []int) []int {
	inside := map[int]bool{}
	for _, i := range component {
		inside[i] = true
	}
	start := component[0]
	from := map[int]int{}
	queue := []int{start}
	for len(queue) > 0 {
		i := queue[0]
		queue = queue[1:]
		for _, j := range edges(i) {
			if j == start {
				var path []int
				for k := i; ; k = from[k] {
					path = append([]int{k}, path...)
					if k == start {
						return path
					}
				}
			}
			if _, seen := from[j]; inside[j] && !seen {
				from[j] = i
				queue = append(queue, j)
			}
		}
	}
	return nil
}
