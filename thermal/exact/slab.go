package exact

import "math"

// negligible is the exponent at which a term of a decaying series is dropped.
const negligible = 40

// SlabRoots returns the first n positive roots of
//
//	zeta tan(zeta) = Bi
func SlabRoots(bi float64, n int) []float64 {
	roots := make([]float64, n)
	for i := range roots {
		lo := float64(i) * math.Pi
		// Written without poles: both ends of the interval have opposite signs.
		roots[i] = bisect(func(z float64) float64 { return z*math.Sin(z) - bi*math.Cos(z) }, lo, lo+math.Pi/2)
	}
	return roots
}

// slabTerms is enough for Fo above 0.01.
const slabTerms = 25

// ConvectiveSlab returns the share of the initial excess temperature that is left
// at X = x/L from the middle of a slab of half-thickness L:
//
//	Sum 4 sin z/(2 z + sin 2z) e^(-z^2 Fo) cos(z X),  z tan z = Bi = h L/k,  Fo = alpha t/L^2
//
// Incropera & DeWitt, ch. 5 "plane wall"; Carslaw & Jaeger 1959, 3.11. For Fo >= 0.01.
func ConvectiveSlab(bi, fo, x float64) float64 {
	sum := 0.0
	for _, z := range SlabRoots(bi, slabTerms) {
		sum += 4 * math.Sin(z) / (2*z + math.Sin(2*z)) * math.Exp(-z*z*fo) * math.Cos(z*x)
	}
	return sum
}

// ConvectiveSlabMean returns the mean over the slab of ConvectiveSlab; one minus
// it is the share of its heat the slab has given away.
func ConvectiveSlabMean(bi, fo float64) float64 {
	sum := 0.0
	for _, z := range SlabRoots(bi, slabTerms) {
		sin := math.Sin(z)
		sum += 4 * sin * sin / (z * (2*z + math.Sin(2*z))) * math.Exp(-z*z*fo)
	}
	return sum
}

// SteppedSlab returns the rise at x from the middle of an unperfused slab of
// thickness d whose two faces jump by dT at t = 0:
//
//	dT [1 - (4/pi) Sum (-1)^n/(2n+1) e^(-(2n+1)^2 pi^2 alpha t/d^2) cos((2n+1) pi x/d)]
//
// Carslaw & Jaeger 1959, 3.3.
func SteppedSlab(s Solid, dT, d, x, t float64) float64 {
	sum, sign := 0.0, 1.0
	for n := 1.0; ; n += 2 {
		b := n * math.Pi / d
		e := b * b * s.Alpha() * t
		if e > negligible {
			return dT * (1 - 4/math.Pi*sum)
		}
		sum += sign / n * math.Exp(-e) * math.Cos(b*x)
		sign = -sign
	}
}

// FluxSlab returns the rise at depth x of an unperfused slab of thickness d that
// takes the flux q (W/m2) at x = 0 from t = 0 and is insulated at x = d:
//
//	q t/(rho c d) + (q d/k) {(3 (d-x)^2 - d^2)/(6 d^2) - (2/pi^2) Sum (-1)^n/n^2 e^(-n^2 pi^2 alpha t/d^2) cos(n pi (d-x)/d)}
//
// Carslaw & Jaeger 1959, 3.8.
func FluxSlab(s Solid, q, d, x, t float64) float64 {
	y := 1 - x/d
	sum, sign := 0.0, -1.0
	for n := 1.0; ; n++ {
		e := n * n * math.Pi * math.Pi * s.Alpha() * t / (d * d)
		if e > negligible {
			return q*t/(s.RhoC*d) + q*d/s.K*((3*y*y-1)/6-2/(math.Pi*math.Pi)*sum)
		}
		sum += sign / (n * n) * math.Exp(-e) * math.Cos(n*math.Pi*y)
		sign = -sign
	}
}

// PerfusedSlab returns the steady rise at x in a perfused slab of thickness d with
// its faces held at rises t0 and td and the uniform heating q (W/m3):
//
//	Q/G + [(T0 - Q/G) sinh m(d-x) + (Td - Q/G) sinh m x]/sinh m d,  m = sqrt(G/k)
//
// Pennes 1948, J Appl Physiol 1:93 (the equation).
func PerfusedSlab(s Solid, t0, td, q, d, x float64) float64 {
	m, p := 1/s.Lambda(), q/s.G
	return p + ((t0-p)*math.Sinh(m*(d-x))+(td-p)*math.Sinh(m*x))/math.Sinh(m*d)
}

// HeldSlab returns the rise at depth x of a perfused slab of thickness d that
// takes the flux q (W/m2) at x = 0 from t = 0 and is held at x = d:
//
//	q sinh m(d-x)/(k m cosh m d) - Sum (2/d) cos(b x) (q/rho c) e^(-c t)/c
//	b = (2n-1) pi/(2d),  c = alpha b^2 + beta,  m = sqrt(G/k)
//
// Deng & Liu 2002, J Biomech Eng 124:638, with the steady part summed.
func HeldSlab(s Solid, q, d, x, t float64) float64 {
	m := 1 / s.Lambda()
	rise := q * (d - x) / s.K
	if m > 0 {
		rise = q * math.Sinh(m*(d-x)) / (s.K * m * math.Cosh(m*d))
	}
	for n := 1.0; ; n += 2 {
		b := n * math.Pi / (2 * d)
		c := s.Alpha()*b*b + s.Beta()
		if c*t > negligible {
			return rise
		}
		rise -= 2 / d * math.Cos(b*x) * q / s.RhoC * math.Exp(-c*t) / c
	}
}
