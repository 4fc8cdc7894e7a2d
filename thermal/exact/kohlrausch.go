package exact

import "math"

// The potential-temperature relation of a steady resistive body without perfusion
// (Kohlrausch 1900; Holm, Electric Contacts; Greenwood & Williamson 1958, Proc R
// Soc A 246:13). If every boundary is either insulated both ways or an electrode,
// temperature depends on place through the potential phi alone, in any shape:
//
//	Int_{0}^{dT} k/sigma dT = V phi - phi^2/2        active electrode thermally insulated
//	Int_{0}^{dT} k/sigma dT = phi (V - phi)/2        both electrodes held
//
// phi in volts RMS from a ground held at the temperature of the body, V that of the
// active electrode.

// InsulatedElectrodeRise returns dT where the potential is phi, for constant sigma:
//
//	(sigma/k)(V phi - phi^2/2)
func InsulatedElectrodeRise(sigma, k, v, phi float64) float64 {
	return sigma / k * (v*phi - phi*phi/2)
}

// HeldElectrodeRise returns dT where the potential is phi, for constant sigma:
//
//	(sigma/2k) phi (V - phi)
func HeldElectrodeRise(sigma, k, v, phi float64) float64 {
	return sigma / (2 * k) * phi * (v - phi)
}

// InsulatedDiscRise: P/(8 k a), the rise under an insulated equipotential disc that
// heats a half-space with the power P, whatever its conductivity.
func InsulatedDiscRise(k, powerW, a float64) float64 { return powerW / (8 * k * a) }

// InsulatedSphereRise: P/(8 pi k a), the same for a sphere in an infinite body.
func InsulatedSphereRise(k, powerW, a float64) float64 { return powerW / (8 * math.Pi * k * a) }

// Coupled is a steady body whose conductivity follows its temperature,
//
//	sigma = SigmaSM (1 + SlopePerK dT)
//
// with an insulated active electrode at VoltageV: current and heat coupled both
// ways, in closed form, for any shape whose potential share u at constant sigma is
// known (DiscPotential for a disc).
type Coupled struct {
	SigmaSM, SlopePerK, K, VoltageV float64
}

// Rise returns dT where the potential is phi:
//
//	(e^(c sigma (V phi - phi^2/2)/k) - 1)/c,  c the slope
func (p Coupled) Rise(phi float64) float64 {
	d := InsulatedElectrodeRise(p.SigmaSM, p.K, p.VoltageV, phi)
	if p.SlopePerK == 0 {
		return d
	}
	return math.Expm1(p.SlopePerK*d) / p.SlopePerK
}

// ConductanceGain returns the conductance over that at constant SigmaSM, for any
// shape: the Kirchhoff transform w of the potential obeys Laplace's equation,
//
//	w(phi) = Int_0^phi sigma/SigmaSM dphi;  gain = w(V)/V
func (p Coupled) ConductanceGain() float64 { return p.kirchhoff(p.VoltageV) / p.VoltageV }

// Potential returns phi (V) where the potential share at constant sigma is u, from
// w(phi) = u w(V).
func (p Coupled) Potential(u float64) float64 {
	want := u * p.kirchhoff(p.VoltageV)
	return bisect(func(phi float64) float64 { return p.kirchhoff(phi) - want }, 0, p.VoltageV)
}

func (p Coupled) kirchhoff(phi float64) float64 {
	return integrate(func(f float64) float64 { return 1 + p.SlopePerK*p.Rise(f) }, 0, phi, 4)
}

// Graded is a body whose conductivity varies smoothly with place so that the
// potential stays known: with u the potential share at constant sigma in the same
// shape,
//
//	sigma = SigmaSM/(1 + C u),   phi/V = (u + C u^2/2)/(1 + C/2)
//
// since sigma grad phi is then proportional to grad u, free of divergence, and
// the electrodes stay equipotentials.
type Graded struct {
	SigmaSM, C float64
}

// Sigma returns the conductivity in S/m where the share is u.
func (g Graded) Sigma(u float64) float64 { return g.SigmaSM / (1 + g.C*u) }

// Potential returns the share of the electrode's potential there.
func (g Graded) Potential(u float64) float64 { return (u + g.C*u*u/2) / (1 + g.C/2) }

// ResistanceGain returns the resistance over that at constant SigmaSM:
//
//	1 + C/2
func (g Graded) ResistanceGain() float64 { return 1 + g.C/2 }
