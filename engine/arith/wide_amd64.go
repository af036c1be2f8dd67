package arith

import (
	"math"

	"golang.org/x/sys/cpu"
)

func init() {
	if !cpu.X86.HasAVX2 {
		return
	}
	avx2()
	if cpu.X86.HasAVX512F && cpu.X86.HasAVX512DQ {
		avx512()
	}
	wideWithin, wideFloor, wideCeil = withinWide, floorWide, ceilWide
	if cpu.X86.HasFMA && asLibrary(logWide, math.Log) && asLibrary(exp, math.Exp) {
		wideLog, wideExp = logWide, expWide
	}
	if asLibrary(seventh, func(x float64) float64 {
		if x < 0 {
			return absent // for the other way
		}
		return math.Pow(x, -7)
	}) {
		widePow = powWide
	}
}

// avx2 takes the operations whose registers hold four lanes.
func avx2() {
	wide = [Ops]func(dst, x, y *float64, n, dx, dy int){
		Add: wideAdd, Sub: wideSub, Mul: wideMul, Div: wideDiv, Min: wideMin, Max: wideMax,
		Less: wideLess, LessOrEqual: wideLessOrEqual, And: wideAnd, Or: wideOr, Else: wideElse, Any: wideAny, All: wideAll,
	}
	wideChoose = chooseWide
}

// avx512 takes in place of those that rules use most the ones whose registers hold eight.
func avx512() {
	wide[Add], wide[Sub], wide[Mul], wide[Div], wide[Min], wide[Max] = widestAdd, widestSub, widestMul, widestDiv, widestMin, widestMax
	wide[Less], wide[LessOrEqual], wideChoose = widestLess, widestLessOrEqual, chooseWidest
}

// asLibrary reports whether a function over columns gives what the standard library,
// with which this program was built, gives at a few hundred numbers of all sizes. It
// may go another way one day.
func asLibrary(column func(dst, x *float64, n int), one func(x float64) float64) bool {
	var x, got [512]float64
	for i := range x {
		x[i] = math.Pow(1.03, float64(i/2*2-350)) // 3e-5 to 117, and the same below 0
		if i%2 == 1 {
			x[i] = -x[i]
		}
	}
	column(&got[0], &x[0], len(x))
	for i, v := range x {
		if want := Finite(one(v)); got[i] != want && want == want {
			return false
		}
	}
	return true
}

func exp(dst, x *float64, n int) { expWide(dst, x, n) }

func seventh(dst, x *float64, n int) { powWide(dst, x, n, -7, 1e-40, 1e40) }

//go:noescape
func wideAdd(dst, x, y *float64, n, dx, dy int)

//go:noescape
func wideSub(dst, x, y *float64, n, dx, dy int)

//go:noescape
func wideMul(dst, x, y *float64, n, dx, dy int)

//go:noescape
func wideDiv(dst, x, y *float64, n, dx, dy int)

//go:noescape
func wideMin(dst, x, y *float64, n, dx, dy int)

//go:noescape
func wideMax(dst, x, y *float64, n, dx, dy int)

//go:noescape
func wideLess(dst, x, y *float64, n, dx, dy int)

//go:noescape
func wideLessOrEqual(dst, x, y *float64, n, dx, dy int)

//go:noescape
func wideAnd(dst, x, y *float64, n, dx, dy int)

//go:noescape
func wideOr(dst, x, y *float64, n, dx, dy int)

//go:noescape
func wideElse(dst, x, y *float64, n, dx, dy int)

//go:noescape
func wideAny(dst, x, y *float64, n, dx, dy int)

//go:noescape
func wideAll(dst, x, y *float64, n, dx, dy int)

//go:noescape
func chooseWide(dst, cond, x, y *float64, n, dx, dy int)

//go:noescape
func withinWide(dst, counts, x, y *float64, n, dx, dy int, step float64)

//go:noescape
func floorWide(dst, x *float64, n int)

//go:noescape
func ceilWide(dst, x *float64, n int)

//go:noescape
func logWide(dst, x *float64, n int)

//go:noescape
func expWide(dst, x *float64, n int) (small bool)

//go:noescape
func powWide(dst, x *float64, n, y int, low, high float64) (odd bool)

//go:noescape
func widestAdd(dst, x, y *float64, n, dx, dy int)

//go:noescape
func widestSub(dst, x, y *float64, n, dx, dy int)

//go:noescape
func widestMul(dst, x, y *float64, n, dx, dy int)

//go:noescape
func widestDiv(dst, x, y *float64, n, dx, dy int)

//go:noescape
func widestMin(dst, x, y *float64, n, dx, dy int)

//go:noescape
func widestMax(dst, x, y *float64, n, dx, dy int)

//go:noescape
func widestLess(dst, x, y *float64, n, dx, dy int)

//go:noescape
func widestLessOrEqual(dst, x, y *float64, n, dx, dy int)

//go:noescape
func chooseWidest(dst, cond, x, y *float64, n, dx, dy int)
