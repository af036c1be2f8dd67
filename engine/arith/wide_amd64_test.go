package arith

import (
	"testing"

	"golang.org/x/sys/cpu"
)

// TestAVX2 is for machines that would not take these operations, since they have better
// ones.
func TestAVX2(t *testing.T) {
	if !cpu.X86.HasAVX2 {
		t.Skip("this machine has no AVX2")
	}
	ops, choose := wide, wideChoose
	defer func() { wide, wideChoose = ops, choose }()
	avx2()
	t.Run("apply", TestApply)
	t.Run("choose", TestChoose)
	t.Run("beside", TestBeside)
}
