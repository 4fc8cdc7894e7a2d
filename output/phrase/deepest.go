package phrase

import (
	"math"

	"muralheat/thermal"
)

// Deepest returns the column (i,j) in which the injury reaches deepest.
func Deepest(res *thermal.Result) (i, j int) {
	m, best := res.Mesh, -1.0
	for b := range m.NY {
		for a := range m.NX {
			if d := ColumnDepth(res, a, b); d > best+1e-9 {
				best, i, j = d, a, b
			}
		}
	}
	return i, j
}

// ColumnDepth returns the depth in metres down to which column (i,j) is injured,
// interpolated between cell centres, or 0.
func ColumnDepth(res *thermal.Result, i, j int) float64 {
	m, f := res.Mesh, res.Fields
	for k := m.NZ - 1; k >= 0; k-- {
		p := m.Index(i, j, k)
		here := LnOmega(f.Omega[p])
		switch {
		case f.Removed[p] || here >= 0 && k == m.NZ-1:
			return m.Z.Faces[k+1]
		case here >= 0:
			z := m.Z.Centres
			return z[k] + (z[k+1]-z[k])*here/(here-LnOmega(f.Omega[p+m.Plane()]))
		}
	}
	return 0
}

// QuietLn stands for ln Omega of tissue that was never warm enough to count, as in
// package thermal, so that the line drawn is the depth reported.
const QuietLn = -14

// LnOmega returns the logarithm of an Arrhenius integral, at least QuietLn: what isolines are drawn of.
func LnOmega(omega float64) float64 { return math.Max(math.Log(omega), QuietLn) }
