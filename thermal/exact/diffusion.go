package exact

import "math"

// StepProfile returns what is left at distance x (m) and time t (s) of a step from 0, at x < 0, to
// 1, at x > 0, that spreads with the diffusivity d (m2/s) on both sides:
//
//	1/2 erfc(-x/(2 sqrt(d t)))
//
// Crank 1975, The Mathematics of Diffusion, 2.2 (extended initial distributions).
func StepProfile(d, x, t float64) float64 { return math.Erfc(-x/(2*math.Sqrt(d*t))) / 2 }
