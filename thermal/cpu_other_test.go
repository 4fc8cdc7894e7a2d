//go:build !unix

package thermal_test

// cpuS is not known here.
func cpuS() float64 { return 0 }
