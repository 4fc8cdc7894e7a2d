package exact

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

var sqrtPi = math.Sqrt(math.Pi)

// erfcx returns
//
//	exp(x^2) erfc(x)
//
// without overflow for x > 0 (Abramowitz & Stegun 1964, 7.1.23 beyond x = 20).
func erfcx(x float64) float64 {
	if x < 20 {
		return math.Exp(x*x) * math.Erfc(x)
	}
	sum, term := 1.0, 1.0
	for n := 1; n < 10; n++ {
		term *= -float64(2*n-1) / (2 * x * x)
		sum += term
	}
	return sum / (x * sqrtPi)
}

// ierfc returns the integral of erfc from x to infinity:
//
//	exp(-x^2)/sqrt(pi) - x erfc(x)
func ierfc(x float64) float64 {
	if math.IsInf(x, 1) {
		return 0
	}
	return math.Exp(-x*x)/sqrtPi - x*math.Erfc(x)
}

// bisect returns the root of f between lo and hi, where f changes sign.
func bisect(f func(float64) float64, lo, hi float64) float64 {
	up := f(hi) > f(lo)
	for {
		mid := lo + (hi-lo)/2
		if mid == lo || mid == hi {
			return mid
		}
		if f(mid) > 0 == up {
			hi = mid
		} else {
			lo = mid
		}
	}
}

// gaussX, gaussW are the 16-point Gauss-Legendre rule on [0,1].
var gaussX, gaussW = gauss(16)

func gauss(n int) (x, w []float64) {
	x, w = make([]float64, n), make([]float64, n)
	quad.Legendre{}.FixedLocations(x, w, 0, 1)
	return x, w
}

// integrate returns the integral of f from a to b by 16-point Gauss-Legendre
// quadrature in each of the given number of equal panels.
func integrate(f func(float64) float64, a, b float64, panels int) float64 {
	h := (b - a) / float64(panels)
	sum := 0.0
	for p := range panels {
		for i, x := range gaussX {
			sum += gaussW[i] * f(a+(float64(p)+x)*h)
		}
	}
	return sum * h
}

// besselK returns the modified Bessel function of the second kind K_n(x), x > 0: the integral over
// t from 0 to infinity of
//
//	exp(-x cosh t) cosh(n t)
//
// (Abramowitz & Stegun 1964, 9.6.24), by the trapezoidal rule, which converges faster than any
// power of its step here.
func besselK(n int, x float64) float64 {
	const h = 0.05
	sum := math.Exp(-x) / 2
	for t := h; ; t += h {
		term := math.Exp(-x*math.Cosh(t)) * math.Cosh(float64(n)*t)
		sum += term
		if term <= 1e-17*sum {
			return sum * h
		}
	}
}
