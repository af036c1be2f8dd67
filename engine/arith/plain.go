package arith

// four is how many lanes the loops in Go take at a time. Of four results it is found
// out at once whether all are finite, since v - v is 0 for these alone; few are not,
// and these are seen to one by one. Dx and dy are how far to move on after four.
const four = 4

var plain = [Ops]func(dst, xs, ys []float64, dx, dy int){
	Add: add, Sub: sub, Mul: mul, Div: div, Min: least, Max: most, Less: below, LessOrEqual: atMost,
	And:  func(dst, xs, ys []float64, dx, dy int) { logic(dst, xs, ys, dx, dy, 0) },
	Or:   func(dst, xs, ys []float64, dx, dy int) { logic(dst, xs, ys, dx, dy, 1) },
	Else: other,
	Any:  func(dst, xs, ys []float64, dx, dy int) { settle(dst, xs, ys, dx, dy, 1, 0) },
	All:  func(dst, xs, ys []float64, dx, dy int) { settle(dst, xs, ys, dx, dy, 0, 1) },
}

func add(dst, xs, ys []float64, dx, dy int) {
	for i, j := 0, 0; len(dst) >= four; i, j = i+dx, j+dy {
		x, y, to := xs[i:i+4:i+4], ys[j:j+4:j+4], dst[:4:4]
		v, w, p, q := x[0]+y[0], x[1]+y[1], x[2]+y[2], x[3]+y[3]
		to[0], to[1], to[2], to[3] = v, w, p, q
		if (v-v)+(w-w)+((p-p)+(q-q)) != 0 {
			makeFinite(to)
		}
		dst = dst[4:]
	}
}

func sub(dst, xs, ys []float64, dx, dy int) {
	for i, j := 0, 0; len(dst) >= four; i, j = i+dx, j+dy {
		x, y, to := xs[i:i+4:i+4], ys[j:j+4:j+4], dst[:4:4]
		v, w, p, q := x[0]-y[0], x[1]-y[1], x[2]-y[2], x[3]-y[3]
		to[0], to[1], to[2], to[3] = v, w, p, q
		if (v-v)+(w-w)+((p-p)+(q-q)) != 0 {
			makeFinite(to)
		}
		dst = dst[4:]
	}
}

func mul(dst, xs, ys []float64, dx, dy int) {
	for i, j := 0, 0; len(dst) >= four; i, j = i+dx, j+dy {
		x, y, to := xs[i:i+4:i+4], ys[j:j+4:j+4], dst[:4:4]
		v, w, p, q := float64(x[0]*y[0]), float64(x[1]*y[1]), float64(x[2]*y[2]), float64(x[3]*y[3]) // not to be joined with what follows
		to[0], to[1], to[2], to[3] = v, w, p, q
		if (v-v)+(w-w)+((p-p)+(q-q)) != 0 {
			makeFinite(to)
		}
		dst = dst[4:]
	}
}

func div(dst, xs, ys []float64, dx, dy int) {
	for i, j := 0, 0; len(dst) >= four; i, j = i+dx, j+dy {
		x, y, to := xs[i:i+4:i+4], ys[j:j+4:j+4], dst[:4:4]
		v, w, p, q := x[0]/y[0], x[1]/y[1], x[2]/y[2], x[3]/y[3]
		to[0], to[1], to[2], to[3] = v, w, p, q
		if (v-v)+(w-w)+((p-p)+(q-q)) != 0 {
			makeFinite(to)
		}
		dst = dst[4:]
	}
}

func makeFinite(col []float64) {
	for i, v := range col {
		col[i] = Finite(v)
	}
}

func least(dst, xs, ys []float64, dx, dy int) {
	for i, j := 0, 0; len(dst) >= four; i, j = i+dx, j+dy {
		x, y, to := xs[i:i+4:i+4], ys[j:j+4:j+4], dst[:4:4]
		to[0], to[1], to[2], to[3] = min(x[0], y[0]), min(x[1], y[1]), min(x[2], y[2]), min(x[3], y[3])
		dst = dst[4:]
	}
}

func most(dst, xs, ys []float64, dx, dy int) {
	for i, j := 0, 0; len(dst) >= four; i, j = i+dx, j+dy {
		x, y, to := xs[i:i+4:i+4], ys[j:j+4:j+4], dst[:4:4]
		to[0], to[1], to[2], to[3] = max(x[0], y[0]), max(x[1], y[1]), max(x[2], y[2]), max(x[3], y[3])
		dst = dst[4:]
	}
}

func below(dst, xs, ys []float64, dx, dy int) {
	for i, j := 0, 0; len(dst) >= four; i, j = i+dx, j+dy {
		x, y, to := xs[i:i+4:i+4], ys[j:j+4:j+4], dst[:4:4]
		for k, v := range x {
			switch w := y[k]; {
			case v < w:
				to[k] = 1
				if Near(v, w) {
					to[k] = 0
				}
			case v >= w:
				to[k] = 0
			default:
				to[k] = absent
			}
		}
		dst = dst[4:]
	}
}

func atMost(dst, xs, ys []float64, dx, dy int) {
	for i, j := 0, 0; len(dst) >= four; i, j = i+dx, j+dy {
		x, y, to := xs[i:i+4:i+4], ys[j:j+4:j+4], dst[:4:4]
		for k, v := range x {
			switch w := y[k]; {
			case v <= w:
				to[k] = 1
			case v > w:
				to[k] = 0
				if Near(v, w) {
					to[k] = 1
				}
			default:
				to[k] = absent
			}
		}
		dst = dst[4:]
	}
}

// logic is And and Or: decides is the left value that settles it.
func logic(dst, xs, ys []float64, dx, dy int, decides float64) {
	for i, j := 0, 0; len(dst) >= four; i, j = i+dx, j+dy {
		x, y, to := xs[i:i+4:i+4], ys[j:j+4:j+4], dst[:4:4]
		for k, v := range x {
			if v != decides && v == v {
				v = y[k]
			}
			to[k] = v
		}
		dst = dst[4:]
	}
}

func other(dst, xs, ys []float64, dx, dy int) {
	for i, j := 0, 0; len(dst) >= four; i, j = i+dx, j+dy {
		x, y, to := xs[i:i+4:i+4], ys[j:j+4:j+4], dst[:4:4]
		for k, v := range x {
			if v != v {
				v = y[k]
			}
			to[k] = v
		}
		dst = dst[4:]
	}
}

// settle is Any and All: at settles nothing changes any more, idle changes nothing.
func settle(dst, xs, ys []float64, dx, dy int, settles, idle float64) {
	for i, j := 0, 0; len(dst) >= four; i, j = i+dx, j+dy {
		x, y, to := xs[i:i+4:i+4], ys[j:j+4:j+4], dst[:4:4]
		for k, v := range x {
			if w := y[k]; v != settles && w != idle {
				v = w
			}
			to[k] = v
		}
		dst = dst[4:]
	}
}

func choose(dst, conds, xs, ys []float64, dx, dy int) {
	for i, j := 0, 0; len(dst) >= four; i, j = i+dx, j+dy {
		x, y, to := xs[i:i+4:i+4], ys[j:j+4:j+4], dst[:4:4]
		for k, c := range conds[:4:4] {
			v := y[k]
			if c != 0 {
				v = x[k]
			}
			if c != c {
				v = c
			}
			to[k] = v
		}
		conds, dst = conds[4:], dst[4:]
	}
}

func within(dst, counts, xs, ys []float64, dx, dy int, step float64) {
	for i, j := 0, 0; len(dst) >= four; i, j = i+dx, j+dy {
		x, y, to := xs[i:i+4:i+4], ys[j:j+4:j+4], dst[:4:4]
		for k, n := range counts[:4:4] {
			v := y[k]
			if step < n {
				v = x[k]
			}
			to[k] = v
		}
		counts, dst = counts[4:], dst[4:]
	}
}
