//go:build !amd64

package kernel

const hasVectors = false

func fastest() loops { return plain{} }
