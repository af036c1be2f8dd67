#include "textflag.h"

// The operations of plain.go, eight lanes at a time: two registers of four. SI and
// BX stand at the operands, DI at the results, CX counts lanes, R8 and R9 are the
// bytes to move on. Comparisons by the immediate of VCMPPD: 0 equal, 3 one of them
// is NaN, 4 unlike (or NaN), 12 unlike (and no NaN), 17 less, 18 at most.

DATA one<>+0(SB)/8, $1.0
GLOBL one<>+0(SB), RODATA, $8
DATA tolerance<>+0(SB)/8, $1e-12
GLOBL tolerance<>+0(SB), RODATA, $8
DATA magnitude<>+0(SB)/8, $0x7FFFFFFFFFFFFFFF
GLOBL magnitude<>+0(SB), RODATA, $8

#define BEGIN \
	MOVQ dst+0(FP), DI; \
	MOVQ x+8(FP), SI; \
	MOVQ y+16(FP), BX; \
	MOVQ n+24(FP), CX; \
	MOVQ dx+32(FP), R8; \
	MOVQ dy+40(FP), R9

#define LOAD \
	VMOVUPD (SI), Y0; \
	VMOVUPD 32(SI), Y1; \
	VMOVUPD (BX), Y2; \
	VMOVUPD 32(BX), Y3

#define STORE(a, b) \
	VMOVUPD a, (DI); \
	VMOVUPD b, 32(DI)

#define NEXT \
	ADDQ R8, SI; \
	ADDQ R9, BX; \
	ADDQ $64, DI; \
	SUBQ $8, CX

// AGAIN goes on with the next lanes, and ends after the last.
#define AGAIN \
	NEXT; \
	JGT loop; \
	VZEROUPPER; \
	RET

// FINITE makes NaN of what is not finite: v - v is NaN there, and every bit set.
#define FINITE(v, t) \
	VSUBPD v, v, t; \
	VCMPPD $3, t, t, t; \
	VORPD t, v, v

// ARITHMETIC is a whole function.
#define ARITHMETIC(OP) \
	BEGIN; \
loop: \
	LOAD; \
	OP Y2, Y0, Y4; \
	OP Y3, Y1, Y5; \
	FINITE(Y4, Y6); \
	FINITE(Y5, Y7); \
	STORE(Y4, Y5); \
	AGAIN

// func wideAdd(dst, x, y *float64, n, dx, dy int)
TEXT ·wideAdd(SB), NOSPLIT, $0-48
	ARITHMETIC(VADDPD)

// func wideSub(dst, x, y *float64, n, dx, dy int)
TEXT ·wideSub(SB), NOSPLIT, $0-48
	ARITHMETIC(VSUBPD)

// func wideMul(dst, x, y *float64, n, dx, dy int)
TEXT ·wideMul(SB), NOSPLIT, $0-48
	ARITHMETIC(VMULPD)

// func wideDiv(dst, x, y *float64, n, dx, dy int)
TEXT ·wideDiv(SB), NOSPLIT, $0-48
	ARITHMETIC(VDIVPD)

// The instruction gives its second operand where one is NaN or both are zeros. Taken
// both ways round and joined, the bits of a NaN remain one and those of 0 and -0 are
// -0.
// func wideMin(dst, x, y *float64, n, dx, dy int)
TEXT ·wideMin(SB), NOSPLIT, $0-48
	BEGIN
loop:
	LOAD
	VMINPD Y2, Y0, Y4
	VMINPD Y3, Y1, Y5
	VMINPD Y0, Y2, Y6
	VMINPD Y1, Y3, Y7
	VORPD Y6, Y4, Y4
	VORPD Y7, Y5, Y5
	STORE(Y4, Y5)
	AGAIN

// Both ways round as well: what both have of 0 and -0 is 0.
// func wideMax(dst, x, y *float64, n, dx, dy int)
TEXT ·wideMax(SB), NOSPLIT, $0-48
	BEGIN
loop:
	LOAD
	VMAXPD Y2, Y0, Y4
	VMAXPD Y3, Y1, Y5
	VMAXPD Y0, Y2, Y6
	VMAXPD Y1, Y3, Y7
	VANDPD Y6, Y4, Y4
	VANDPD Y7, Y5, Y5
	VCMPPD $3, Y2, Y0, Y6
	VCMPPD $3, Y3, Y1, Y7
	VORPD Y6, Y4, Y4
	VORPD Y7, Y5, Y5
	STORE(Y4, Y5)
	AGAIN

#define CONSTANTS \
	VBROADCASTSD one<>(SB), Y13; \
	VBROADCASTSD tolerance<>(SB), Y14; \
	VBROADCASTSD magnitude<>(SB), Y15

// NEAR says where |x - y| <= tolerance * max(|x|, |y|).
#define NEAR(x, y, to, s, t) \
	VSUBPD y, x, to; \
	VANDPD Y15, to, to; \
	VANDPD Y15, x, s; \
	VANDPD Y15, y, t; \
	VMAXPD s, t, s; \
	VMULPD Y14, s, s; \
	VCMPPD $18, s, to, to

// TRUTH makes 1 of what is set, and NaN where x or y is.
#define TRUTH(x, y, to, t) \
	VANDPD Y13, to, to; \
	VCMPPD $3, y, x, t; \
	VORPD t, to, to

// func wideLess(dst, x, y *float64, n, dx, dy int)
TEXT ·wideLess(SB), NOSPLIT, $0-48
	BEGIN
	CONSTANTS
loop:
	LOAD
	NEAR(Y0, Y2, Y4, Y6, Y7)
	NEAR(Y1, Y3, Y5, Y8, Y9)
	VCMPPD $17, Y2, Y0, Y6
	VCMPPD $17, Y3, Y1, Y8
	VANDNPD Y6, Y4, Y4
	VANDNPD Y8, Y5, Y5
	TRUTH(Y0, Y2, Y4, Y6)
	TRUTH(Y1, Y3, Y5, Y8)
	STORE(Y4, Y5)
	AGAIN

// func wideLessOrEqual(dst, x, y *float64, n, dx, dy int)
TEXT ·wideLessOrEqual(SB), NOSPLIT, $0-48
	BEGIN
	CONSTANTS
loop:
	LOAD
	NEAR(Y0, Y2, Y4, Y6, Y7)
	NEAR(Y1, Y3, Y5, Y8, Y9)
	VCMPPD $18, Y2, Y0, Y6
	VCMPPD $18, Y3, Y1, Y8
	VORPD Y6, Y4, Y4
	VORPD Y8, Y5, Y5
	TRUTH(Y0, Y2, Y4, Y6)
	TRUTH(Y1, Y3, Y5, Y8)
	STORE(Y4, Y5)
	AGAIN

// SETTLED gives y where x is a number unlike Y15.
#define SETTLED \
	VCMPPD $12, Y15, Y0, Y4; \
	VCMPPD $12, Y15, Y1, Y5; \
	VBLENDVPD Y4, Y2, Y0, Y4; \
	VBLENDVPD Y5, Y3, Y1, Y5; \
	STORE(Y4, Y5)

// func wideAnd(dst, x, y *float64, n, dx, dy int)
TEXT ·wideAnd(SB), NOSPLIT, $0-48
	BEGIN
	VXORPD Y15, Y15, Y15
loop:
	LOAD
	SETTLED
	AGAIN

// func wideOr(dst, x, y *float64, n, dx, dy int)
TEXT ·wideOr(SB), NOSPLIT, $0-48
	BEGIN
	VBROADCASTSD one<>(SB), Y15
loop:
	LOAD
	SETTLED
	AGAIN

// func wideElse(dst, x, y *float64, n, dx, dy int)
TEXT ·wideElse(SB), NOSPLIT, $0-48
	BEGIN
loop:
	LOAD
	VCMPPD $3, Y0, Y0, Y4
	VCMPPD $3, Y1, Y1, Y5
	VBLENDVPD Y4, Y2, Y0, Y4
	VBLENDVPD Y5, Y3, Y1, Y5
	STORE(Y4, Y5)
	AGAIN

// TAKEN gives y where x is unlike Y14 and y unlike Y15.
#define TAKEN \
	VCMPPD $4, Y14, Y0, Y4; \
	VCMPPD $4, Y14, Y1, Y5; \
	VCMPPD $4, Y15, Y2, Y6; \
	VCMPPD $4, Y15, Y3, Y7; \
	VANDPD Y6, Y4, Y4; \
	VANDPD Y7, Y5, Y5; \
	VBLENDVPD Y4, Y2, Y0, Y4; \
	VBLENDVPD Y5, Y3, Y1, Y5; \
	STORE(Y4, Y5)

// func wideAny(dst, x, y *float64, n, dx, dy int)
TEXT ·wideAny(SB), NOSPLIT, $0-48
	BEGIN
	VBROADCASTSD one<>(SB), Y14
	VXORPD Y15, Y15, Y15
loop:
	LOAD
	TAKEN
	AGAIN

// func wideAll(dst, x, y *float64, n, dx, dy int)
TEXT ·wideAll(SB), NOSPLIT, $0-48
	BEGIN
	VXORPD Y14, Y14, Y14
	VBROADCASTSD one<>(SB), Y15
loop:
	LOAD
	TAKEN
	AGAIN

// func chooseWide(dst, cond, x, y *float64, n, dx, dy int)
TEXT ·chooseWide(SB), NOSPLIT, $0-56
	MOVQ dst+0(FP), DI
	MOVQ cond+8(FP), R10
	MOVQ x+16(FP), SI
	MOVQ y+24(FP), BX
	MOVQ n+32(FP), CX
	MOVQ dx+40(FP), R8
	MOVQ dy+48(FP), R9
	VXORPD Y15, Y15, Y15
loop:
	LOAD
	VMOVUPD (R10), Y4
	VMOVUPD 32(R10), Y5
	VCMPPD $0, Y15, Y4, Y6
	VCMPPD $0, Y15, Y5, Y7
	VCMPPD $3, Y4, Y4, Y4
	VCMPPD $3, Y5, Y5, Y5
	VBLENDVPD Y6, Y2, Y0, Y6
	VBLENDVPD Y7, Y3, Y1, Y7
	VORPD Y6, Y4, Y4
	VORPD Y7, Y5, Y5
	STORE(Y4, Y5)
	ADDQ $64, R10
	AGAIN

// func withinWide(dst, counts, x, y *float64, n, dx, dy int, step float64)
TEXT ·withinWide(SB), NOSPLIT, $0-64
	MOVQ dst+0(FP), DI
	MOVQ counts+8(FP), R10
	MOVQ x+16(FP), SI
	MOVQ y+24(FP), BX
	MOVQ n+32(FP), CX
	MOVQ dx+40(FP), R8
	MOVQ dy+48(FP), R9
	VBROADCASTSD step+56(FP), Y15
loop:
	LOAD
	VMOVUPD (R10), Y4
	VMOVUPD 32(R10), Y5
	VCMPPD $17, Y4, Y15, Y4
	VCMPPD $17, Y5, Y15, Y5
	VBLENDVPD Y4, Y0, Y2, Y4
	VBLENDVPD Y5, Y1, Y3, Y5
	STORE(Y4, Y5)
	ADDQ $64, R10
	AGAIN

// The same with AVX-512, whose registers hold eight lanes, for the operations that rules
// use most. ABSENT makes Z12 the NaN that goes where a mask is set; the classes of
// VFPCLASSPD that are no number: quiet NaN 1, infinities 8 and 16, signalling NaN 128.

#define LOADEIGHT \
	VMOVUPD (SI), Z0; \
	VMOVUPD (BX), Z2

#define ABSENT \
	VPTERNLOGD $255, Z12, Z12, Z12

#define EIGHT(OP) \
	BEGIN; \
	ABSENT; \
loop: \
	LOADEIGHT; \
	OP Z2, Z0, Z4; \
	VFPCLASSPDZ $153, Z4, K1; \
	VMOVAPD Z12, K1, Z4; \
	VMOVUPD Z4, (DI); \
	AGAIN

// func widestAdd(dst, x, y *float64, n, dx, dy int)
TEXT ·widestAdd(SB), NOSPLIT, $0-48
	EIGHT(VADDPD)

// func widestSub(dst, x, y *float64, n, dx, dy int)
TEXT ·widestSub(SB), NOSPLIT, $0-48
	EIGHT(VSUBPD)

// func widestMul(dst, x, y *float64, n, dx, dy int)
TEXT ·widestMul(SB), NOSPLIT, $0-48
	EIGHT(VMULPD)

// func widestDiv(dst, x, y *float64, n, dx, dy int)
TEXT ·widestDiv(SB), NOSPLIT, $0-48
	EIGHT(VDIVPD)

// func widestMin(dst, x, y *float64, n, dx, dy int)
TEXT ·widestMin(SB), NOSPLIT, $0-48
	BEGIN
loop:
	LOADEIGHT
	VMINPD Z2, Z0, Z4
	VMINPD Z0, Z2, Z6
	VORPD Z6, Z4, Z4
	VMOVUPD Z4, (DI)
	AGAIN

// func widestMax(dst, x, y *float64, n, dx, dy int)
TEXT ·widestMax(SB), NOSPLIT, $0-48
	BEGIN
	ABSENT
loop:
	LOADEIGHT
	VMAXPD Z2, Z0, Z4
	VMAXPD Z0, Z2, Z6
	VANDPD Z6, Z4, Z4
	VCMPPD $3, Z2, Z0, K1
	VMOVAPD Z12, K1, Z4
	VMOVUPD Z4, (DI)
	AGAIN

#define COMPARE(IMMEDIATE, JOIN) \
	BEGIN; \
	ABSENT; \
	VBROADCASTSD one<>(SB), Z13; \
	VBROADCASTSD tolerance<>(SB), Z14; \
	VBROADCASTSD magnitude<>(SB), Z15; \
loop: \
	LOADEIGHT; \
	VSUBPD Z2, Z0, Z4; \
	VANDPD Z15, Z4, Z4; \
	VANDPD Z15, Z0, Z6; \
	VANDPD Z15, Z2, Z7; \
	VMAXPD Z6, Z7, Z6; \
	VMULPD Z14, Z6, Z6; \
	VCMPPD $18, Z6, Z4, K1; \
	VCMPPD IMMEDIATE, Z2, Z0, K2; \
	JOIN; \
	VMOVAPD.Z Z13, K2, Z4; \
	VCMPPD $3, Z2, Z0, K3; \
	VMOVAPD Z12, K3, Z4; \
	VMOVUPD Z4, (DI); \
	AGAIN

#define UNLIKE \
	KNOTB K1, K1; \
	KANDB K1, K2, K2

// func widestLess(dst, x, y *float64, n, dx, dy int)
TEXT ·widestLess(SB), NOSPLIT, $0-48
	COMPARE($17, UNLIKE)

#define ALIKE \
	KORB K1, K2, K2

// func widestLessOrEqual(dst, x, y *float64, n, dx, dy int)
TEXT ·widestLessOrEqual(SB), NOSPLIT, $0-48
	COMPARE($18, ALIKE)

// func chooseWidest(dst, cond, x, y *float64, n, dx, dy int)
TEXT ·chooseWidest(SB), NOSPLIT, $0-56
	MOVQ dst+0(FP), DI
	MOVQ cond+8(FP), R10
	MOVQ x+16(FP), SI
	MOVQ y+24(FP), BX
	MOVQ n+32(FP), CX
	MOVQ dx+40(FP), R8
	MOVQ dy+48(FP), R9
	VXORPD Z15, Z15, Z15
	ABSENT
loop:
	LOADEIGHT
	VMOVUPD (R10), Z4
	VCMPPD $0, Z15, Z4, K1
	VCMPPD $3, Z4, Z4, K2
	VMOVAPD Z2, K1, Z0
	VMOVAPD Z12, K2, Z0
	VMOVUPD Z0, (DI)
	ADDQ $64, R10
	AGAIN
