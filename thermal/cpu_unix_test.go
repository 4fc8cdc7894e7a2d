//go:build unix

package thermal_test

import "syscall"

// cpuS returns the processor time that this process has used, s.
func cpuS() float64 {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	s := func(t syscall.Timeval) float64 { return float64(t.Sec) + float64(t.Usec)*1e-6 }
	return s(u.Utime) + s(u.Stime)
}
