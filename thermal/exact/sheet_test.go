package exact

import (
	"math"
	"testing"
)

// Abramowitz & Stegun 1964, table 9.8 (from memory), and scipy.special.kv.
func TestBesselK(t *testing.T) {
	xs := []float64{0.1, 0.5, 1, 2, 5, 10}
	row(t, "K0", func(x float64) float64 { return besselK(0, x) }, xs,
		"2.427069 0.92441907 0.42102444 0.11389387 0.0036910983 1.7780062e-05")
	row(t, "K1", func(x float64) float64 { return besselK(1, x) }, xs,
		"9.8538448 1.6564411 0.60190723 0.13986588 0.0040446134 1.8648773e-05")
}

// The potential obeys its equation, by differences, and what leaves the disc arrives at ground: the
// current along the sheet at the edge is the integral of the leak beyond it.
func TestLeaky(t *testing.T) {
	s, a := Leaky{SheetS: 2.8e-4, LeakSM: 7.8}, 1e-3
	const r, h = 4e-3, 1e-5
	u := func(r float64) float64 { return s.Share(r, a) }
	laplace := (u(r+h)-2*u(r)+u(r-h))/(h*h) + (u(r+h)-u(r-h))/(2*h*r)
	within(t, "laplace", laplace, u(r)/(s.Lambda()*s.Lambda()), 1e-5)
	within(t, "at the disc", u(a), 1, 1e-15)
	leak := integrate(func(r float64) float64 { return 2 * math.Pi * r * s.LeakSM * u(r) }, a, 30*s.Lambda(), 200)
	within(t, "current", 1/s.Resistance(a), leak+math.Pi*a*a*s.LeakSM, 1e-9)
}
