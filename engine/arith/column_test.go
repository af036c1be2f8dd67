package arith

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"bankwright/engine/oracle"
)

// odd are numbers at which operations on floating-point numbers part.
var odd = []float64{0, math.Copysign(0, -1), 1, -1, 0.5, 2, 1 + 1e-13, 1 - 1e-13, 1 + 1e-11, math.NaN(), math.Inf(1), math.Inf(-1),
	math.MaxFloat64, -math.MaxFloat64, math.SmallestNonzeroFloat64, -math.SmallestNonzeroFloat64, 1e-300, 1e300, 1e154, -1e155, 7, 3}

func random(r *rand.Rand) float64 {
	switch r.IntN(3) {
	case 0:
		return odd[r.IntN(len(odd))]
	case 1:
		return float64(r.IntN(2))
	}
	return r.NormFloat64() * math.Pow(10, float64(r.IntN(20)-10))
}

// same tells whether two numbers are the same to the last bit; all NaN are alike.
func same(x, y float64) bool { return math.Float64bits(x) == math.Float64bits(y) || x != x && y != y }

// operands are two random ones, and their numbers by lane.
func operands(r *rand.Rand, n int) (x, y Operand, xs, ys []float64) {
	one := func() (Operand, []float64) {
		all := make([]float64, n)
		if r.IntN(4) == 0 {
			v := random(r)
			Fill(all, v)
			return Number(v, new([Together]float64)), all
		}
		for i := range all {
			all[i] = random(r)
		}
		return Of(all), all
	}
	x, xs = one()
	y, ys = one()
	return x, y, xs, ys
}

// narrow runs something without what the machine does eight lanes at a time.
func narrow(run func()) {
	a, b, c, d, e, f, g, h := wide, wideChoose, wideWithin, wideFloor, wideCeil, wideLog, wideExp, widePow
	wide, wideChoose, wideWithin, wideFloor, wideCeil, wideLog, wideExp, widePow = [Ops]func(dst, x, y *float64, n, dx, dy int){}, nil, nil, nil, nil, nil, nil, nil
	defer func() {
		wide, wideChoose, wideWithin, wideFloor, wideCeil, wideLog, wideExp, widePow = a, b, c, d, e, f, g, h
	}()
	run()
}

// one is what each operation is to make of two numbers.
func one(op Op, x, y float64) float64 {
	truth := func(b bool) float64 {
		switch {
		case x != x || y != y:
			return math.NaN()
		case b:
			return 1
		}
		return 0
	}
	near := math.Abs(x-y) <= 1e-12*max(math.Abs(x), math.Abs(y))
	out := x
	switch op {
	case Add, Sub, Mul, Div:
		if out = map[Op]float64{Add: x + y, Sub: x - y, Mul: x * y, Div: x / y}[op]; math.IsInf(out, 0) {
			out = math.NaN()
		}
	case Min:
		out = min(x, y)
	case Max:
		out = max(x, y)
	case Less:
		out = truth(x < y && !near)
	case LessOrEqual:
		out = truth(x <= y || near)
	case And:
		if x == x && x != 0 {
			out = y
		}
	case Or:
		if x == x && x != 1 {
			out = y
		}
	case Else:
		if x != x {
			out = y
		}
	case Any:
		if x != 1 && y != 0 {
			out = y
		}
	case All:
		if x != 0 && y != 1 {
			out = y
		}
	}
	return out
}

// TestApply: every operation gives the same eight lanes at a time, four at a time and
// for each pair alone, also where its results overwrite an operand.
func TestApply(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 400 {
		n := Together * (1 + r.IntN(9))
		for op := range Ops {
			x, y, xs, ys := operands(r, n)
			want := make([]float64, n)
			for i := range want {
				want[i] = one(op, xs[i], ys[i])
			}
			got, also := make([]float64, n), make([]float64, n)
			op.Apply(got, x, y)
			narrow(func() { op.Apply(also, x, y) })
			for i, v := range want {
				if !same(got[i], v) || !same(also[i], v) {
					t.Fatalf("operation %d at lane %d of %d: got %v, four at a time %v, want %v", op, i, n, got[i], also[i], v)
				}
			}
			for _, o := range []Operand{x, y} {
				if o.moves == 0 {
					continue
				}
				kept := slices.Clone(o.lanes)
				op.Apply(o.lanes, x, y)
				for i, v := range want {
					if !same(o.lanes[i], v) {
						t.Fatalf("operation %d over an operand: lane %d is %v, want %v", op, i, o.lanes[i], v)
					}
				}
				copy(o.lanes, kept)
			}
		}
	}
}

func TestChoose(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 2000 {
		n := Together * (1 + r.IntN(9))
		x, y, xs, ys := operands(r, n)
		_, _, conds, counts := operands(r, n)
		for i := range counts {
			counts[i] = float64(r.IntN(5))
		}
		chosen, also, inside, again := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
		Choose(chosen, conds, x, y)
		Within(inside, counts, 2, x, y)
		narrow(func() {
			Choose(also, conds, x, y)
			Within(again, counts, 2, x, y)
		})
		if x.moves == 1 {
			kept := slices.Clone(x.lanes)
			Choose(x.lanes, conds, x, y)
			if !slices.EqualFunc(x.lanes, chosen, same) {
				t.Fatalf("chosen over an operand: %v, want %v", x.lanes, chosen)
			}
			copy(x.lanes, kept)
			Within(x.lanes, counts, 2, x, y)
			if !slices.EqualFunc(x.lanes, inside, same) {
				t.Fatalf("within, over an operand: %v, want %v", x.lanes, inside)
			}
			copy(x.lanes, kept)
		}
		for i, c := range conds {
			want, within := xs[i], ys[i]
			if c == 0 {
				want = ys[i]
			} else if c != c {
				want = c
			}
			if counts[i] > 2 {
				within = xs[i]
			}
			if !same(chosen[i], want) || !same(also[i], want) {
				t.Fatalf("%v ? %v : %v: got %v, four at a time %v", c, xs[i], ys[i], chosen[i], also[i])
			}
			if !same(inside[i], within) || !same(again[i], within) {
				t.Fatalf("2 < %v: got %v, four at a time %v, want %v", counts[i], inside[i], again[i], within)
			}
		}
	}
}

// TestFunctions: functions over columns give to the last bit what they give of each
// number, wherever that is finite.
func TestFunctions(t *testing.T) {
	oracle.OneCore(t)
	functions := map[string]struct {
		column func(dst, x []float64)
		one    func(x float64) float64
	}{
		"floor": {Floors, Floor}, "ceil": {Ceils, Ceil}, "ln": {Logs, math.Log}, "exp": {Exps, math.Exp},
	}
	for _, y := range []float64{-1025, -1024, -41, -12, -7, -3, -2, -1, -0.5, 0, 0.5, 1, 2, 3, 4, 5, 10, 40, 1023, 1024, 1e9, math.Inf(1), math.NaN()} {
		functions["power "+strconv.FormatFloat(y, 'g', -1, 64)] = struct {
			column func(dst, x []float64)
			one    func(x float64) float64
		}{func(dst, x []float64) { Powers(dst, x, y) }, func(x float64) float64 {
			if x != x || y != y {
				return math.NaN()
			}
			return math.Pow(x, y)
		}}
	}
	r := rand.New(rand.NewPCG(5, 6))
	for name, f := range functions {
		x, got, also := make([]float64, 64), make([]float64, 64), make([]float64, 64)
		for range 1000 {
			for i := range x {
				switch r.IntN(6) {
				case 0:
					x[i] = random(r)
				case 1:
					x[i] = math.Float64frombits(r.Uint64())
				case 2:
					x[i] = r.Float64()*1500 - 760
				case 3:
					x[i] = float64(r.IntN(100)-50) + (r.Float64()-0.5)*math.Pow(10, float64(-r.IntN(15)))
				case 4:
					x[i] = math.Exp(r.NormFloat64())
				case 5:
					x[i] = 1 + r.Float64()/5
				}
			}
			f.column(got, x)
			narrow(func() { f.column(also, x) })
			for i, v := range x {
				if want := Finite(f.one(v)); !same(got[i], want) || !same(also[i], want) {
					t.Fatalf("%s(%v): got %v, one at a time %v, want %v", name, v, got[i], also[i], want)
				}
			}
		}
	}
}

// TestBeside: nothing is written beside a column, and columns that are too short are
// refused.
func TestBeside(t *testing.T) {
	const n = 3 * Together
	room := make([]float64, n+Together)
	Fill(room, 7)
	dst, x := room[:n], Of(make([]float64, n))
	for op := range Ops {
		op.Apply(dst, x, x)
	}
	Choose(dst, make([]float64, n), x, x)
	Within(dst, make([]float64, n), 1, x, x)
	for _, f := range []func(dst, x []float64){Floors, Ceils, Logs, Exps, func(dst, x []float64) { Powers(dst, x, 3) }} {
		f(dst, x.lanes)
	}
	for i, v := range room[n:] {
		if v != 7 {
			t.Errorf("%d lanes beside the column stands %v", i+1, v)
		}
	}
	for what, f := range map[string]func(){
		"too short an operand":   func() { Add.Apply(dst, x, Of(make([]float64, n-Together))) },
		"too short a condition":  func() { Choose(dst, make([]float64, Together), x, x) },
		"too few counts":         func() { Within(dst, make([]float64, Together), 1, x, x) },
		"lanes that are left":    func() { Add.Apply(dst[:n-1], x, x) },
		"functions, unlike":      func() { Exps(dst, make([]float64, Together)) },
		"functions, lanes left":  func() { Logs(dst[:5], x.lanes[:5]) },
		"powers, lanes left":     func() { Powers(dst[:5], x.lanes[:5], 2) },
		"too short, second side": func() { Mul.Apply(dst, Of(make([]float64, Together)), x) },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s is not refused", what)
				}
			}()
			f()
		}()
	}
}
