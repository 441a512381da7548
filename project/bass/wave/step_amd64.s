// SPDX-License-Identifier: MIT

#include "textflag.h"

// Four points a turn with SSE, which every amd64 processor has. The order of the
// sums is that of interior and rim in Go, so the results are the same to the bit.

// func interior4(d, x, y0, y1, z0, z1 *float32, n int, w *[7]float32)
TEXT ·interior4(SB), NOSPLIT, $0-64
	MOVQ d+0(FP), DI
	MOVQ x+8(FP), SI
	MOVQ y0+16(FP), R8
	MOVQ y1+24(FP), R9
	MOVQ z0+32(FP), R10
	MOVQ z1+40(FP), R11
	MOVQ n+48(FP), CX
	MOVQ w+56(FP), DX
	MOVSS 0(DX), X12
	SHUFPS $0, X12, X12
	MOVSS 8(DX), X13
	SHUFPS $0, X13, X13
	MOVSS 16(DX), X14
	SHUFPS $0, X14, X14
	XORQ AX, AX
	JMP  test1

loop1:
	MOVUPS (SI)(AX*4), X0
	MOVUPS 4(SI)(AX*4), X1
	MOVUPS (R8)(AX*4), X2
	MOVUPS (R9)(AX*4), X3
	MOVUPS (R10)(AX*4), X4
	MOVUPS (R11)(AX*4), X5
	MOVUPS (DI)(AX*4), X6
	ADDPS  X1, X0
	ADDPS  X3, X2
	ADDPS  X5, X4
	MULPS  X12, X0
	MULPS  X13, X2
	MULPS  X14, X4
	ADDPS  X2, X0
	ADDPS  X4, X0
	SUBPS  X6, X0
	MOVUPS X0, (DI)(AX*4)
	ADDQ   $4, AX

test1:
	CMPQ AX, CX
	JLT  loop1
	RET

// func rim4(d, x, y0, y1, z0, z1 *float32, n int, w *[7]float32)
TEXT ·rim4(SB), NOSPLIT, $0-64
	MOVQ d+0(FP), DI
	MOVQ x+8(FP), SI
	MOVQ y0+16(FP), R8
	MOVQ y1+24(FP), R9
	MOVQ z0+32(FP), R10
	MOVQ z1+40(FP), R11
	MOVQ n+48(FP), CX
	MOVQ w+56(FP), DX
	MOVSS 0(DX), X7
	SHUFPS $0, X7, X7
	MOVSS 4(DX), X8
	SHUFPS $0, X8, X8
	MOVSS 8(DX), X9
	SHUFPS $0, X9, X9
	MOVSS 12(DX), X10
	SHUFPS $0, X10, X10
	MOVSS 16(DX), X11
	SHUFPS $0, X11, X11
	MOVSS 20(DX), X12
	SHUFPS $0, X12, X12
	MOVSS 24(DX), X13
	SHUFPS $0, X13, X13
	XORQ AX, AX
	JMP  test2

loop2:
	MOVUPS (SI)(AX*4), X0
	MOVUPS 4(SI)(AX*4), X1
	MOVUPS (R8)(AX*4), X2
	MOVUPS (R9)(AX*4), X3
	MOVUPS (R10)(AX*4), X4
	MOVUPS (R11)(AX*4), X5
	MOVUPS (DI)(AX*4), X6
	MULPS  X7, X0
	MULPS  X8, X1
	MULPS  X9, X2
	MULPS  X10, X3
	MULPS  X11, X4
	MULPS  X12, X5
	MULPS  X13, X6
	ADDPS  X1, X0
	ADDPS  X3, X2
	ADDPS  X5, X4
	ADDPS  X2, X0
	ADDPS  X4, X0
	SUBPS  X6, X0
	MOVUPS X0, (DI)(AX*4)
	ADDQ   $4, AX

test2:
	CMPQ AX, CX
	JLT  loop2
	RET

// func vary4(d, x, y0, y1, z0, z1 *float32, n int, w *float32)
TEXT ·vary4(SB), NOSPLIT, $0-64
	MOVQ d+0(FP), DI
	MOVQ x+8(FP), SI
	MOVQ y0+16(FP), R8
	MOVQ y1+24(FP), R9
	MOVQ z0+32(FP), R10
	MOVQ z1+40(FP), R11
	MOVQ n+48(FP), CX
	MOVQ w+56(FP), DX
	XORQ AX, AX
	JMP  test3

loop3:
	MOVUPS (SI)(AX*4), X0
	MOVUPS 4(SI)(AX*4), X1
	MOVUPS (R8)(AX*4), X2
	MOVUPS (R9)(AX*4), X3
	MOVUPS (R10)(AX*4), X4
	MOVUPS (R11)(AX*4), X5
	MOVUPS (DI)(AX*4), X6
	MOVUPS (DX), X7
	MOVUPS 16(DX), X8
	MOVUPS 32(DX), X9
	MOVUPS 48(DX), X10
	MOVUPS 64(DX), X11
	MOVUPS 80(DX), X12
	MOVUPS 96(DX), X13
	MULPS  X7, X0
	MULPS  X8, X1
	MULPS  X9, X2
	MULPS  X10, X3
	MULPS  X11, X4
	MULPS  X12, X5
	MULPS  X13, X6
	ADDPS  X1, X0
	ADDPS  X3, X2
	ADDPS  X5, X4
	ADDPS  X2, X0
	ADDPS  X4, X0
	SUBPS  X6, X0
	MOVUPS X0, (DI)(AX*4)
	ADDQ   $112, DX
	ADDQ   $4, AX

test3:
	CMPQ AX, CX
	JLT  loop3
	RET
