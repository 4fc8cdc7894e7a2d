package exact

import (
	"math"
	"math/cmplx"
)

// Layer is one sheet of a stack, evenly heated.
type Layer struct {
	Solid
	ThicknessM float64
	Q          float64 // heating, W/m3
}

// Face is the condition at one end of a stack: heat flows in as
//
//	Flux + H (Rise - T)
//
// H = 0 leaves the flux alone; H = +Inf holds the face at Rise.
type Face struct {
	Flux float64 // W/m2
	H    float64 // W/(m2 K)
	Rise float64 // K above blood
}

// Stack is a wall of layers, top first, between two faces; one-dimensional.
type Stack struct {
	Layers      []Layer
	Top, Bottom Face
}

// Steady returns the rise and the flux towards the bottom (W/m2) at depth x in
// the steady state:
//
//	k T'' - G T + Q = 0 in each layer, T and k T' continuous
//
// It is not finite where there is none (heated, unperfused, no face at a temperature).
// Pennes 1948, J Appl Physiol 1:93; layered solutions as in Durkee, Antich & Lee
// 1990, Phys Med Biol 35:847.
func (w Stack) Steady(x float64) (rise, flux float64) {
	t, f := w.image(0, 1, x)
	return real(t), real(f)
}

// Transient returns what Steady does at time t after sources, fluxes and face
// temperatures were switched on in a wall at blood temperature. The Laplace
// transform in time is exact (perfusion G + rho c p in place of G) and inverted
// along Talbot's contour: Abate & Valko 2004, Int J Numer Methods Eng 60:979.
// Good to about 1e-11 of the driving step.
func (w Stack) Transient(x, t float64) (rise, flux float64) {
	const n = 24 // more loses digits: the sum cancels by e^(2n/5)
	r := 2 * n / (5 * t)
	for i := range n {
		p, weight := complex(r, 0), complex(0.5, 0)
		if i > 0 {
			theta := math.Pi * float64(i) / n
			cot := 1 / math.Tan(theta)
			p = complex(r*theta*cot, r*theta)
			weight = complex(1, theta+(theta*cot-1)*cot)
		}
		weight *= cmplx.Exp(p * complex(t, 0))
		ti, fi := w.image(p, 1/p, x)
		rise += r / n * real(weight*ti)
		flux += r / n * real(weight*fi)
	}
	return rise, flux
}

// image solves
//
//	k T'' - (G + rho c p) T + on Q = 0
//
// with every source and face multiplied by on. The unknowns are the temperatures
// of the layer borders; a layer gives the flux in at its top and out at its bottom,
//
//	m k (Ta coth md - Tb csch md) - Q tanh(md/2)/m
//	m k (Ta csch md - Tb coth md) + Q tanh(md/2)/m,    m = sqrt((G + rho c p)/k)
//
// so that their balance is tridiagonal.
func (w Stack) image(p, on complex128, x float64) (rise, flux complex128) {
	n := len(w.Layers)
	diag, off, rhs := make([]complex128, n+1), make([]complex128, n), make([]complex128, n+1)
	for i, l := range w.Layers {
		coth, csch, load := l.stiffness(p)
		diag[i] += coth
		diag[i+1] += coth
		off[i] = -csch
		rhs[i] += on * load
		rhs[i+1] += on * load
	}
	hold := func(i int, f Face) {
		if math.IsInf(f.H, 1) {
			// A penalty would cost digits: make the row trivial instead.
			diag[i], rhs[i] = 1, on*complex(f.Rise, 0)
			return
		}
		diag[i] += complex(f.H, 0)
		rhs[i] += on * complex(f.Flux+f.H*f.Rise, 0)
	}
	hold(0, w.Top)
	hold(n, w.Bottom)
	upper, lower := off, append([]complex128(nil), off...)
	if math.IsInf(w.Top.H, 1) {
		upper[0] = 0
	}
	if math.IsInf(w.Bottom.H, 1) {
		lower[n-1] = 0
	}
	for i := range n { // Thomas
		f := lower[i] / diag[i]
		diag[i+1] -= f * upper[i]
		rhs[i+1] -= f * rhs[i]
	}
	rhs[n] /= diag[n]
	for i := n - 1; i >= 0; i-- {
		rhs[i] = (rhs[i] - upper[i]*rhs[i+1]) / diag[i]
	}

	i := 0
	for i < n-1 && x > w.Layers[i].ThicknessM {
		x -= w.Layers[i].ThicknessM
		i++
	}
	l := w.Layers[i]
	m, d := l.m(p), l.ThicknessM
	y := d - x
	rise = rhs[i]*sinhRatio(m, y, d) + rhs[i+1]*sinhRatio(m, x, d) + on*complex(l.Q/l.K, 0)*loaded(m, x, d)
	// The flux at x is that out of a layer cut off there.
	l.ThicknessM = x
	if x > y {
		coth, csch, load := l.stiffness(p)
		return rise, rhs[i]*csch - rise*coth + on*load
	}
	l.ThicknessM = y
	coth, csch, load := l.stiffness(p)
	return rise, rise*coth - rhs[i+1]*csch - on*load
}

func (l Layer) m(p complex128) complex128 {
	return cmplx.Sqrt((complex(l.G, 0) + complex(l.RhoC, 0)*p) / complex(l.K, 0))
}

// stiffness returns m k coth(md), m k/sinh(md) and Q tanh(md/2)/m, with their
// limits for m = 0.
func (l Layer) stiffness(p complex128) (coth, csch, load complex128) {
	k, d, m := complex(l.K, 0), complex(l.ThicknessM, 0), l.m(p)
	if real(m*d) > thick {
		return k * m, 0, complex(l.Q, 0) / m
	}
	csch = k / d / sinhc(m*d)
	return csch * cmplx.Cosh(m*d), csch, complex(l.Q/2, 0) * d * sinhc(m*d/2) / cmplx.Cosh(m*d/2)
}

// thick is the real part of md beyond which e^(-md) is below the last digit; the
// hyperbolic functions would overflow later.
const thick = 80

// sinhc returns sinh(z)/z.
func sinhc(z complex128) complex128 {
	if cmplx.Abs(z) < 1e-4 {
		return 1 + z*z/6
	}
	return cmplx.Sinh(z) / z
}

// sinhRatio returns sinh(m x)/sinh(m d) for 0 <= x <= d.
func sinhRatio(m complex128, x, d float64) complex128 {
	if real(m)*d > thick {
		return cmplx.Exp(m*complex(x-d, 0)) - cmplx.Exp(-m*complex(x+d, 0))
	}
	return complex(x/d, 0) * sinhc(m*complex(x, 0)) / sinhc(m*complex(d, 0))
}

// loaded returns what unit heating does to a layer with both ends at zero,
//
//	u'' - m^2 u + 1 = 0:  u = [1 - cosh m(d/2-x)/cosh(md/2)]/m^2
//
// written without cancellation for small m.
func loaded(m complex128, x, d float64) complex128 {
	y := d - x
	if real(m)*d > thick {
		return (1 - cmplx.Exp(-m*complex(x, 0)) - cmplx.Exp(-m*complex(y, 0))) / (m * m)
	}
	half := m / 2
	return complex(x*y/2, 0) * sinhc(half*complex(x, 0)) * sinhc(half*complex(y, 0)) / cmplx.Cosh(half*complex(d, 0))
}
