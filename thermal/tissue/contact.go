package tissue

import (
	"fmt"
	"math"
)

// drySkinM is the thickness over which the spectra of dry and wet skin are compared.
const drySkinM = 1.5e-3

// DryContact returns the impedance, ohm cm2, that dry skin has on top of wet skin at a
// frequency in Hz, capacitive reactance negative: what the horny layer adds,
//
//	Z = d/(j w eps0 eps_dry) - d/(j w eps0 eps_wet)
//
// with the complex permittivities of the library and d the thickness of the skin.
func DryContact(frequencyHz float64) (ohmCM2 complex128, source string) {
	of := func(name string) complex128 {
		jw := complex(0, 2*math.Pi*frequencyHz*Vacuum)
		return complex(drySkinM*1e4, 0) / (jw * dielectric(name).Permittivity(frequencyHz))
	}
	return of("skin-dry") - of("skin-wet"), fmt.Sprintf("assumption: what the spectra of dry and wet skin differ by over %g mm at %g kHz; %s", drySkinM*1000, frequencyHz/1000, gabriel)
}
