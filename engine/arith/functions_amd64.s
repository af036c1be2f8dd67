#include "textflag.h"

// The functions of functions.go, four lanes at a time. SI stands at what is given, DI
// at what comes out, CX counts lanes. Rounding by the immediate of VROUNDPD: 0 to the
// nearest, halves to even, 9 down, 10 up. Comparisons: see wide_amd64.s.

#define QUAD(name, v) \
	DATA name<>+0(SB)/8, v; \
	DATA name<>+8(SB)/8, v; \
	DATA name<>+16(SB)/8, v; \
	DATA name<>+24(SB)/8, v; \
	GLOBL name<>(SB), RODATA, $32

QUAD(quarter, $0.25)
QUAD(half, $0.5)
QUAD(unity, $1.0)
QUAD(double, $2.0)
QUAD(near, $1e-12)
QUAD(unsigned, $0x7FFFFFFFFFFFFFFF)
QUAD(largest, $0x7FEFFFFFFFFFFFFF)

#define GIVEN \
	MOVQ dst+0(FP), DI; \
	MOVQ x+8(FP), SI; \
	MOVQ n+16(FP), CX

#define ONWARD \
	ADDQ $32, SI; \
	ADDQ $32, DI; \
	SUBQ $4, CX

// SNAP stores c, the other whole number, where a <= tolerated(x), else b.
#define SNAP(a, b, c) \
	VANDPD unsigned<>(SB), Y0, Y4; \
	VMAXPD unity<>(SB), Y4, Y4; \
	VMULPD near<>(SB), Y4, Y4; \
	VMINPD quarter<>(SB), Y4, Y4; \
	VCMPPD $18, Y4, a, Y5; \
	VBLENDVPD Y5, c, b, Y5; \
	VSUBPD Y5, Y5, Y6; \
	VCMPPD $3, Y6, Y6, Y6; \
	VORPD Y6, Y5, Y5; \
	VMOVUPD Y5, (DI)

// func floorWide(dst, x *float64, n int)
TEXT ·floorWide(SB), NOSPLIT, $0-24
	GIVEN
loop:
	VMOVUPD (SI), Y0
	VROUNDPD $9, Y0, Y1
	VADDPD unity<>(SB), Y1, Y2
	VSUBPD Y0, Y2, Y3
	SNAP(Y3, Y1, Y2)
	ONWARD
	JGT loop
	VZEROUPPER
	RET

// func ceilWide(dst, x *float64, n int)
TEXT ·ceilWide(SB), NOSPLIT, $0-24
	GIVEN
loop:
	VMOVUPD (SI), Y0
	VROUNDPD $10, Y0, Y1
	VSUBPD unity<>(SB), Y1, Y2
	VSUBPD Y2, Y0, Y3
	SNAP(Y3, Y1, Y2)
	ONWARD
	JGT loop
	VZEROUPPER
	RET

// The logarithm is that of the standard library, step by step, so that it is the same
// to the last bit: x = 2**k * (1+f) with f between sqrt(1/2)-1 and sqrt(2)-1, and a
// polynomial of s = f/(2+f) (FreeBSD's /usr/src/lib/msun/src/e_log.c).

QUAD(halfRoot, $7.07106781186547524401e-01)
QUAD(ln2High, $6.93147180369123816490e-01)
QUAD(ln2Low, $1.90821492927058770002e-10)
QUAD(log1, $6.666666666666735130e-01)
QUAD(log2, $3.999999999940941908e-01)
QUAD(log3, $2.857142874366239149e-01)
QUAD(log4, $2.222219843214978396e-01)
QUAD(log5, $1.818357216161805012e-01)
QUAD(log6, $1.531383769920937332e-01)
QUAD(log7, $1.479819860511658591e-01)
QUAD(fraction, $0x000FFFFFFFFFFFFF)
QUAD(tall, $0x4330000000000000) // 2**52: what is added to it as bits it holds as a number
QUAD(tallBias, $4503599627371518.0) // 2**52 + 0x3FE

// func logWide(dst, x *float64, n int)
TEXT ·logWide(SB), NOSPLIT, $0-24
	GIVEN
	VXORPD Y15, Y15, Y15
loop:
	VMOVUPD (SI), Y0
	// x is above 0 and finite
	VCMPPD $17, Y0, Y15, Y14
	VCMPPD $18, largest<>(SB), Y0, Y13
	VANDPD Y13, Y14, Y14
	// k and f1, x = f1 * 2**k with f1 from 1/2 to 1
	VANDPD fraction<>(SB), Y0, Y2
	VORPD half<>(SB), Y2, Y2
	VPSRLQ $52, Y0, Y1
	VPOR tall<>(SB), Y1, Y1
	VSUBPD tallBias<>(SB), Y1, Y1
	// if f1 is at most sqrt(1/2): one less of k, twice f1
	VMOVUPD halfRoot<>(SB), Y3
	VCMPPD $5, Y2, Y3, Y3
	VANDPD unity<>(SB), Y3, Y3
	VSUBPD Y3, Y1, Y1
	VADDPD unity<>(SB), Y3, Y3
	VMULPD Y3, Y2, Y2
	// f, s, s2, s4
	VSUBPD unity<>(SB), Y2, Y2
	VADDPD double<>(SB), Y2, Y0
	VDIVPD Y0, Y2, Y3
	VMULPD Y3, Y3, Y4
	VMULPD Y4, Y4, Y5
	// t1 = s2 * (L1 + s4*(L3+s4*(L5+s4*L7)))
	VMULPD log7<>(SB), Y5, Y6
	VADDPD log5<>(SB), Y6, Y6
	VMULPD Y5, Y6, Y6
	VADDPD log3<>(SB), Y6, Y6
	VMULPD Y5, Y6, Y6
	VADDPD log1<>(SB), Y6, Y6
	VMULPD Y6, Y4, Y4
	// t2 = s4 * (L2 + s4*(L4+s4*L6))
	VMULPD log6<>(SB), Y5, Y6
	VADDPD log4<>(SB), Y6, Y6
	VMULPD Y5, Y6, Y6
	VADDPD log2<>(SB), Y6, Y6
	VMULPD Y6, Y5, Y5
	// k*Ln2Hi - ((hfsq - (s*(hfsq+t1+t2) + k*Ln2Lo)) - f), hfsq = f*f/2
	VADDPD Y5, Y4, Y4
	VMULPD half<>(SB), Y2, Y0
	VMULPD Y2, Y0, Y0
	VADDPD Y0, Y4, Y4
	VMULPD Y4, Y3, Y3
	VMULPD ln2Low<>(SB), Y1, Y4
	VADDPD Y4, Y3, Y3
	VSUBPD Y3, Y0, Y0
	VSUBPD Y2, Y0, Y0
	VMULPD ln2High<>(SB), Y1, Y1
	VSUBPD Y0, Y1, Y1
	// no value where x is none such
	VCMPPD $0, Y15, Y15, Y13
	VXORPD Y13, Y14, Y14
	VORPD Y14, Y1, Y1
	VMOVUPD Y1, (DI)
	ONWARD
	JGT loop
	VZEROUPPER
	RET

// The exponential too is that of the standard library: x = k*ln 2 + r, the series of
// Taylor of r/16, of which the square is taken four times (N. Shibata, Efficient
// evaluation methods of elementary functions suitable for SIMD computation, 2010).

QUAD(log2e, $1.4426950408889634073599246810018920)
QUAD(ln2Upper, $0.69314718055966295651160180568695068359375)
QUAD(ln2Lower, $0.28235290563031577122588448175013436025525412068e-12)
QUAD(sixteenth, $0.0625)
QUAD(exp3, $1.6666666666666666667e-1)
QUAD(exp4, $4.1666666666666666667e-2)
QUAD(exp5, $8.3333333333333333333e-3)
QUAD(exp6, $1.3888888888888888889e-3)
QUAD(exp7, $1.9841269841269841270e-4)
QUAD(exp8, $2.4801587301587301587e-5)
QUAD(highestExp, $7.09782712893384e+02)
QUAD(highestPower, $1023.0)
QUAD(lowestPower, $-1022.0)
QUAD(bias, $0x3FF)

// func expWide(dst, x *float64, n int) (small bool)
TEXT ·expWide(SB), NOSPLIT, $0-25
	GIVEN
	XORQ AX, AX
loop:
	VMOVUPD (SI), Y0
	// the power k
	VMULPD log2e<>(SB), Y0, Y1
	VROUNDPD $0, Y1, Y1
	// too large, or no number
	VCMPPD $18, highestExp<>(SB), Y0, Y13
	VCMPPD $18, highestPower<>(SB), Y1, Y14
	VANDPD Y14, Y13, Y13
	VCMPPD $0, Y0, Y0, Y14
	VXORPD Y13, Y14, Y15
	VCMPPD $3, Y0, Y0, Y14
	VORPD Y14, Y15, Y15
	// too small
	VCMPPD $17, lowestPower<>(SB), Y1, Y14
	VMOVMSKPD Y14, BX
	ORQ BX, AX
	// r
	VFNMADD231PD ln2Upper<>(SB), Y1, Y0
	VFNMADD231PD ln2Lower<>(SB), Y1, Y0
	VMULPD sixteenth<>(SB), Y0, Y0
	VMOVUPD exp8<>(SB), Y2
	VFMADD213PD exp7<>(SB), Y0, Y2
	VFMADD213PD exp6<>(SB), Y0, Y2
	VFMADD213PD exp5<>(SB), Y0, Y2
	VFMADD213PD exp4<>(SB), Y0, Y2
	VFMADD213PD exp3<>(SB), Y0, Y2
	VFMADD213PD half<>(SB), Y0, Y2
	VFMADD213PD unity<>(SB), Y0, Y2
	VMULPD Y2, Y0, Y0
	VADDPD double<>(SB), Y0, Y2
	VMULPD Y2, Y0, Y0
	VADDPD double<>(SB), Y0, Y2
	VMULPD Y2, Y0, Y0
	VADDPD double<>(SB), Y0, Y2
	VMULPD Y2, Y0, Y0
	VADDPD double<>(SB), Y0, Y2
	VFMADD213PD unity<>(SB), Y2, Y0
	// times 2**k
	VCVTPD2DQY Y1, X3
	VPMOVSXDQ X3, Y3
	VPADDQ bias<>(SB), Y3, Y3
	VPSLLQ $52, Y3, Y3
	VMULPD Y3, Y0, Y0
	VANDNPD Y0, Y14, Y0
	VORPD Y15, Y0, Y0
	VMOVUPD Y0, (DI)
	ONWARD
	JGT loop
	VZEROUPPER
	TESTQ AX, AX
	SETNE small+24(FP)
	RET

// A power of whole exponent too is that of the standard library: x = x1 * 2**xe, and
// squares of x1 by the bits of the exponent, whose sizes are kept near 1.

QUAD(minusOne, $-1.0)

// func powWide(dst, x *float64, n int, y int, low, high float64) (odd bool)
TEXT ·powWide(SB), NOSPLIT, $0-49
	GIVEN
	MOVQ y+24(FP), R8
	VBROADCASTSD low+32(FP), Y14
	VBROADCASTSD high+40(FP), Y15
	VMOVUPD unity<>(SB), Y13
	VMOVUPD half<>(SB), Y12
	XORQ AX, AX
	MOVQ R8, R9
	TESTQ R9, R9
	JGE  loop
	NEGQ R9
loop:
	VMOVUPD (SI), Y0
	// within the bounds; NaN is not
	VCMPPD $18, Y0, Y14, Y1
	VCMPPD $18, Y15, Y0, Y2
	VANDPD Y2, Y1, Y1
	VMOVMSKPD Y1, BX
	XORQ $15, BX
	ORQ BX, AX
	// x1 and xe
	VANDPD fraction<>(SB), Y0, Y2
	VORPD Y12, Y2, Y2
	VPSRLQ $52, Y0, Y3
	VPOR tall<>(SB), Y3, Y3
	VSUBPD tallBias<>(SB), Y3, Y3
	// a and ae
	VMOVUPD Y13, Y4
	VXORPD Y5, Y5, Y5
	MOVQ R9, DX
bits:
	TESTQ $1, DX
	JEQ  square
	VMULPD Y2, Y4, Y4
	VADDPD Y3, Y5, Y5
square:
	VMULPD Y2, Y2, Y2
	VADDPD Y3, Y3, Y3
	VCMPPD $17, Y12, Y2, Y6
	VANDPD Y2, Y6, Y7
	VADDPD Y7, Y2, Y2
	VANDPD Y13, Y6, Y7
	VSUBPD Y7, Y3, Y3
	SHRQ $1, DX
	JNE  bits
	TESTQ R8, R8
	JGE  scale
	VDIVPD Y4, Y13, Y4
	VMULPD minusOne<>(SB), Y5, Y5
scale:
	VCVTPD2DQY Y5, X6
	VPMOVSXDQ X6, Y6
	VPSLLQ $52, Y6, Y6
	VPADDQ Y6, Y4, Y4
	VMOVUPD Y4, (DI)
	ONWARD
	JGT loop
	VZEROUPPER
	TESTQ AX, AX
	SETNE odd+48(FP)
	RET
