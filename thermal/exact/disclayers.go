package exact

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Sheet is a layer of conductivity SigmaSM (S/m); an infinite ThicknessM makes it
// the half-space at the bottom.
type Sheet struct {
	SigmaSM, ThicknessM float64
}

// LayeredDiscResistance returns the resistance in ohm of an equipotential disc of
// radius a on a stack of sheets, top first; the last is infinitely thick, or else
// lies on a grounded plane. With s1 the conductivity of the top sheet and psi the
// solution of a Fredholm equation,
//
//	psi(t) + (2/pi) Int_0^a psi(s) K(s,t) ds = 2/pi,   R = 1/(2 pi s1 Int_0^a psi dt)
//	K(s,t) = Int_0^inf g(m) cos(m s) cos(m t) dm
//
// where 1 + g is the surface impedance of the stack at wave number m over that of
// a half-space of s1. For two layers this is the image sum of kappa^n; Sneddon
// 1966, Mixed Boundary Value Problems in Potential Theory. Gauss-Legendre (Nystrom)
// collocation; about ten digits.
func LayeredDiscResistance(a float64, stack []Sheet) float64 {
	h := stack[0].ThicknessM
	if math.IsInf(h, 1) {
		return DiscResistance(stack[0].SigmaSM, a)
	}
	n := 32 + int(4*a/h) // the kernel is as narrow as the sheet is thin
	x, w := gauss(n)
	// g falls as e^(-2 m h), and no length in g cos(m u) exceeds reach: a few
	// radians to a panel of the quadrature over m.
	reach := 2 * a
	for _, l := range stack {
		if !math.IsInf(l.ThicknessM, 1) {
			reach += 2 * l.ThicknessM
		}
	}
	mMax := 20 / h
	panels := 8 + int(mMax*reach/4)
	step := mMax / float64(panels)
	columns := panels * len(gaussX)
	cos, cosG := mat.NewDense(n, columns, nil), mat.NewDense(n, columns, nil)
	for c := range columns {
		q := c % len(gaussX)
		m := (float64(c/len(gaussX)) + gaussX[q]) * step
		g := gaussW[q] * step * stackExcess(stack, m)
		for i := range n {
			v := math.Cos(m * a * x[i])
			cos.Set(i, c, v)
			cosG.Set(i, c, g*v)
		}
	}
	var kernel mat.Dense
	kernel.Mul(cosG, cos.T())

	lhs, rhs := mat.NewDense(n, n, nil), mat.NewVecDense(n, nil)
	for i := range n {
		rhs.SetVec(i, 2/math.Pi)
		for j := range n {
			lhs.Set(i, j, 2/math.Pi*a*w[j]*kernel.At(i, j))
		}
		lhs.Set(i, i, lhs.At(i, i)+1)
	}
	var psi mat.VecDense
	if err := psi.SolveVec(lhs, rhs); err != nil {
		panic("exact: layered disc: " + err.Error())
	}
	sum := 0.0
	for i := range n {
		sum += a * w[i] * psi.AtVec(i)
	}
	return 1 / (2 * math.Pi * stack[0].SigmaSM * sum)
}

// stackExcess returns g(m): the impedance of the stack, built from the bottom up
// like that of a chain of transmission lines, over that of its top material, less one.
func stackExcess(stack []Sheet, m float64) float64 {
	last := len(stack) - 1
	z := 0.0 // ground
	if math.IsInf(stack[last].ThicknessM, 1) {
		z = 1 / stack[last].SigmaSM
		last--
	}
	for i := last; i > 0; i-- {
		z0, t := 1/stack[i].SigmaSM, math.Tanh(m*stack[i].ThicknessM)
		z = z0 * (z + z0*t) / (z0 + z*t)
	}
	// At the top as a reflection, which keeps its digits when e^(-2mh) is small.
	z0 := 1 / stack[0].SigmaSM
	kappa := (z - z0) / (z + z0) * math.Exp(-2*m*stack[0].ThicknessM)
	return 2 * kappa / (1 - kappa)
}
