package exact

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// IndentedLayer is an incompressible elastic layer, bonded to a rigid base, into which
// a rigid round tip is pressed without friction.
type IndentedLayer struct {
	ModulusPa  float64 // Young's modulus E
	ThicknessM float64 // h
}

// Punch returns the force in N that pushes a flat face of radius a down by d. With phi
// from a Fredholm equation,
//
//	phi(s) - (2/pi) Int_0^a phi(t) K(s,t) dt = (2/pi) d,   F = pi E/(1-nu^2) Int_0^a phi dt
//	K(s,t) = Int_0^inf (1 - L(m h)) cos(m s) cos(m t) dm
//	L(x) = (sinh 2x - 2x)/(cosh 2x + 1 + 2x^2)
//
// Dhaliwal and Rau 1970, Int J Eng Sci 8:843. Gauss-Legendre (Nystrom) collocation.
func (l IndentedLayer) Punch(a, d float64) float64 {
	force, _ := l.solve(a)
	return d * force[0]
}

// Sphere returns the force in N and the indentation in m at which a sphere of radius R
// touches the layer in a circle of radius a: the right side of Punch becomes
// (2/pi) (d - s^2/R), and phi(a) = 0 gives d. The sphere's face is taken as a parabola,
// as Hertz did.
func (l IndentedLayer) Sphere(sphereM, a float64) (forceN, indentationM float64) {
	force, edge := l.solve(a)
	dip := a * a / sphereM
	d := dip * edge[1] / edge[0]
	return d*force[0] - dip*force[1], d
}

// solve returns force and phi(a) for the right sides 2/pi and 2/pi (s/a)^2.
func (l IndentedLayer) solve(a float64) (force, edge [2]float64) {
	ratio := a / l.ThicknessM
	n := 32 + int(4*ratio)
	x, w := gauss(n)
	x, w = append(x, 1), append(w, 0) // the edge carries no weight
	const most = 20                   // 1 - L falls as e^(-2x)
	panels := 8 + int(most*ratio/2)
	step := most / float64(panels)
	kernel := mat.NewDense(n+1, n+1, nil)
	cos := make([]float64, n+1)
	for c := range panels * len(gaussX) {
		q := c % len(gaussX)
		m := (float64(c/len(gaussX)) + gaussX[q]) * step
		e := math.Exp(-2 * m)
		stiffer := 2 * (e*e + e*(1+2*m+2*m*m)) / (1 + e*e + 2*e*(1+2*m*m)) // 1 - L
		for i := range cos {
			cos[i] = math.Cos(m * ratio * x[i])
		}
		v := mat.NewVecDense(n+1, cos)
		kernel.RankOne(kernel, 2/math.Pi*ratio*gaussW[q]*step*stiffer, v, v)
	}
	lhs, rhs := mat.NewDense(n+1, n+1, nil), mat.NewDense(n+1, 2, nil)
	for i := range n + 1 {
		for j := range n + 1 {
			lhs.Set(i, j, -w[j]*kernel.At(i, j))
		}
		lhs.Set(i, i, lhs.At(i, i)+1)
		rhs.SetRow(i, []float64{2 / math.Pi, 2 / math.Pi * x[i] * x[i]})
	}
	var phi mat.Dense
	if err := phi.Solve(lhs, rhs); err != nil {
		panic("exact: indented layer: " + err.Error())
	}
	for c := range force {
		for i := range n {
			force[c] += math.Pi * l.ModulusPa / 0.75 * a * w[i] * phi.At(i, c)
		}
		edge[c] = phi.At(n, c)
	}
	return force, edge
}
