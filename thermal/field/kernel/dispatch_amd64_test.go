package kernel

import "golang.org/x/sys/cpu"

var hasVectors = cpu.X86.HasAVX2

func fastest() loops { return vectors{} }
