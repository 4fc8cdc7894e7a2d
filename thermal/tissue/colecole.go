package tissue

import (
	"math"
	"math/cmplx"
)

// Vacuum is the permittivity of vacuum in F/m, CODATA 2018.
const Vacuum = 8.8541878128e-12

// ColeCole is a dielectric spectrum of four dispersions:
//
//	eps(w) = Inf + sum_n Delta_n / (1 + (j w Tau_n)^(1-Alpha_n)) + SigmaI/(j w eps0)
//
// with w = 2 pi f; at body temperature, 10 Hz to 100 GHz. S. Gabriel, Lau and
// C. Gabriel 1996, Phys Med Biol 41:2271.
type ColeCole struct {
	Inf    float64
	Terms  [4]Dispersion
	SigmaI float64 // ionic conductivity, S/m
}

// Dispersion is one term of ColeCole.
type Dispersion struct {
	Delta float64 // step of relative permittivity
	TauS  float64 // relaxation time, s
	Alpha float64 // broadening, 0..1
}

// Permittivity returns the complex relative permittivity at a frequency in Hz. It
// panics if the frequency is not positive.
func (c ColeCole) Permittivity(frequencyHz float64) complex128 {
	if !(frequencyHz > 0) || math.IsInf(frequencyHz, 1) {
		panic("tissue: frequency not positive")
	}
	w := 2 * math.Pi * frequencyHz
	eps := complex(c.Inf, -c.SigmaI/(w*Vacuum))
	for _, t := range c.Terms {
		if t.Delta != 0 {
			eps += complex(t.Delta, 0) / (1 + cmplx.Pow(complex(0, w*t.TauS), complex(1-t.Alpha, 0)))
		}
	}
	return eps
}

// Sigma returns the conductivity in S/m at a frequency in Hz:
//
//	sigma = -Im(eps) w eps0
func (c ColeCole) Sigma(frequencyHz float64) float64 {
	return -imag(c.Permittivity(frequencyHz)) * 2 * math.Pi * frequencyHz * Vacuum
}

// Epsilon returns the relative permittivity, Re(eps), at a frequency in Hz.
func (c ColeCole) Epsilon(frequencyHz float64) float64 {
	return real(c.Permittivity(frequencyHz))
}

// LossRatio returns conduction over displacement current at a frequency in Hz:
//
//	sigma/(w eps) = -Im(eps)/Re(eps)
func (c ColeCole) LossRatio(frequencyHz float64) float64 {
	e := c.Permittivity(frequencyHz)
	return -imag(e) / real(e)
}

// ResistiveError returns by how much the admittivity exceeds the conductivity at a
// frequency in Hz, the share of current that a purely resistive field leaves out:
//
//	|sigma + j w eps|/sigma - 1
func (c ColeCole) ResistiveError(frequencyHz float64) float64 {
	e := c.Permittivity(frequencyHz)
	return cmplx.Abs(e)/-imag(e) - 1
}

// DisplacementSM returns the magnitude of the admittivity of a dielectric without any
// conduction, S/m, at a frequency in Hz:
//
//	2 pi f eps0 permittivity
func DisplacementSM(frequencyHz, permittivity float64) float64 {
	return 2 * math.Pi * frequencyHz * Vacuum * permittivity
}
