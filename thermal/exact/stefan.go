package exact

import "math"

// Stefan is Neumann's problem: a half-space at StartC whose surface is put to WallC
// at t = 0, with a change of phase at ChangeC taking LatentJM3 per volume. Near is
// the phase that grows from the wall, Far the one it eats up; no perfusion.
// Freezing, melting and drying alike.
//
// Carslaw & Jaeger 1959, ch. 11; Alexiades & Solomon 1993.
type Stefan struct {
	Near, Far              Solid
	WallC, ChangeC, StartC float64
	LatentJM3              float64
}

// Lambda returns the root of
//
//	e^(-l^2)/erf(l) - (kf/kn) sqrt(an/af) (Df/Dn) e^(-l^2 an/af)/erfc(l sqrt(an/af)) = l sqrt(pi)/Ste
//	Dn = |wall - change|, Df = |start - change|, Ste = (rho c)n Dn/latent
func (p Stefan) Lambda() float64 {
	near, far := math.Abs(p.WallC-p.ChangeC), math.Abs(p.StartC-p.ChangeC)
	root := math.Sqrt(p.Near.Alpha() / p.Far.Alpha())
	ste := p.Near.RhoC * near / p.LatentJM3
	return bisect(func(l float64) float64 {
		return math.Exp(-l*l)/math.Erf(l) -
			p.Far.K/p.Near.K*root*far/near/erfcx(l*root) -
			l*sqrtPi/ste
	}, 1e-9, 10)
}

// Front returns the depth of the front in m at time t:
//
//	2 lambda sqrt(alpha_near t)
func (p Stefan) Front(t float64) float64 {
	return 2 * p.Lambda() * math.Sqrt(p.Near.Alpha()*t)
}

// TemperatureC returns the temperature at depth x and time t.
func (p Stefan) TemperatureC(x, t float64) float64 {
	l := p.Lambda()
	if z := x / (2 * math.Sqrt(p.Near.Alpha()*t)); z < l {
		return p.WallC + (p.ChangeC-p.WallC)*math.Erf(z)/math.Erf(l)
	}
	z := x / (2 * math.Sqrt(p.Far.Alpha()*t))
	return p.StartC + (p.ChangeC-p.StartC)*math.Erfc(z)/math.Erfc(l*math.Sqrt(p.Near.Alpha()/p.Far.Alpha()))
}
