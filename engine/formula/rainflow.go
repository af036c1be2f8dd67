package formula

import "math"

// Cycle is one cycle of a history, as rainflow counting finds it.
type Cycle struct {
	Range, Mean float64
	Count       float64 // 1, or 0.5 for a half cycle
	Start, End  int     // places in the history
}

// Rainflow counts the cycles of a history by the three-point rule of ASTM
// E1049-85 (2017), section 5.4.4: what is left at the end, and what contains
// the starting point, counts as half cycles. Points that are no turning points
// are passed over.
func Rainflow(history []float64) []Cycle {
	var cycles []Cycle
	count := func(a, b int, n float64) {
		cycles = append(cycles, Cycle{
			Range: math.Abs(history[b] - history[a]), Mean: (history[a] + history[b]) / 2, Count: n, Start: a, End: b,
		})
	}
	extent := func(a, b int) float64 { return math.Abs(history[b] - history[a]) }
	var stack []int
	for _, p := range turns(history) {
		stack = append(stack, p)
		for len(stack) >= 3 {
			n := len(stack)
			last, before := extent(stack[n-2], stack[n-1]), extent(stack[n-3], stack[n-2])
			if last < before {
				break
			}
			if n == 3 { // it contains the starting point
				count(stack[0], stack[1], 0.5)
				stack = stack[1:]
				continue
			}
			count(stack[n-3], stack[n-2], 1)
			stack = append(stack[:n-3], stack[n-1])
		}
	}
	for i := 1; i < len(stack); i++ {
		count(stack[i-1], stack[i], 0.5)
	}
	return cycles
}

// turns are the places of the first point, the turning points and the last
// point, the first of equal neighbours standing for all.
func turns(history []float64) []int {
	var out []int
	for i, v := range history {
		n := len(out)
		switch {
		case n > 0 && v == history[out[n-1]]:
		case n > 1 && (v > history[out[n-1]]) == (history[out[n-1]] > history[out[n-2]]):
			out[n-1] = i
		default:
			out = append(out, i)
		}
	}
	return out
}

// repeating is one turn of a history that repeats itself, from its maximum back
// to it, so that every cycle in it is closed.
func repeating(history []float64) []float64 {
	top := 0
	for i, v := range history {
		if v > history[top] {
			top = i
		}
	}
	out := append([]float64(nil), history[top:]...)
	return append(append(out, history[:top]...), history[top])
}

// damage is the Palmgren-Miner sum of n/N over the cycles of a repeating
// history, N being read from a curve on log-log paper, held at its ends.
func damage(cols [][]float64, x []float64) float64 {
	history, scale := cols[0], x[0]
	sum := 0.0
	for _, v := range history {
		if v != v {
			return v
		}
	}
	if len(history) == 0 || scale == 0 {
		return math.NaN()
	}
	life := straightLog(cols[1], cols[2])
	for _, c := range Rainflow(repeating(history)) {
		sum += c.Count / life.At(c.Range/scale)
	}
	return sum
}
