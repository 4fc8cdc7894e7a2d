package checks

import (
	"math"

	"muralheat/mesh"
	"muralheat/thermal/exact"
	"muralheat/thermal/heat"
)

type material = exact.Solid

func perfused(g float64) material { s := ref; s.G = g; return s }

// body is tissue of uniform layers on a mesh, at bodyC unless said otherwise.
type body struct {
	*heat.Solver
	m   *mesh.Mesh
	src []float64 // W per cell
}

func law(s material) heat.Material {
	return heat.Material{KWetWMK: s.K, KDryWMK: s.K, CWetJM3K: s.RhoC, CDryJM3K: s.RhoC, PerfusionWM3K: s.G}
}

// newBody lays the layers into the mesh, top first, each with its own heating; the
// last one fills the rest.
func newBody(m *mesh.Mesh, startC float64, layers ...exact.Layer) *body {
	laws, of := make([]heat.Material, len(layers)), make([]int, m.NZ)
	for i, l := range layers {
		laws[i] = law(l.Solid)
	}
	layer, bottom := 0, layers[0].ThicknessM
	for k, z := range m.Z.Centres {
		for z > bottom && layer+1 < len(layers) {
			layer++
			bottom += layers[layer].ThicknessM
		}
		of[k] = layer
	}
	b := &body{heat.New(m, of, laws, heat.NoPhases, startC), m, make([]float64, m.Len())}
	for k := range m.NZ {
		b.heatPlane(k, layers[of[k]].Q)
	}
	return b
}

func uniform(m *mesh.Mesh, s material) *body {
	return newBody(m, bodyC, exact.Layer{Solid: s, ThicknessM: inf})
}

// heatPlane adds q (W/m3) to every cell at depth index k.
func (b *body) heatPlane(k int, q float64) {
	for j := range b.m.NY {
		for i := range b.m.NX {
			b.src[b.m.Index(i, j, k)] += q * b.m.Volume(i, j, k)
		}
	}
}

// flux lets q (W/m2) in through the surface.
func (b *body) flux(q float64) { b.heatPlane(0, q/b.m.Z.Width(0)) }

// hold keeps the surface at tC.
func (b *body) hold(tC float64) { b.SetSurface(inf, tC, nil, 0, 0) }

// run advances by t seconds in steps of at most longest.
func (b *body) run(t, longest float64) {
	n := math.Ceil(t/longest - 1e-9)
	for range int(n) {
		b.Step(t/n, b.src)
	}
}

// at returns the temperature of a cell.
func (b *body) at(i, j, k int) float64 { return b.T[b.m.Index(i, j, k)] }

// column is the mesh of a one-dimensional body: a column of 1 m2.
func column(z mesh.Axis) *mesh.Mesh {
	return mesh.New(mesh.Axisymmetric, mesh.NewAxis([]float64{0, 1 / math.Sqrt(math.Pi)}), mesh.Axis{}, z)
}

// deep is a column into a half-space: cells of h to the depth fine, growing to 80 mm.
func deep(h, fine float64) *mesh.Mesh {
	return column(mesh.Grading{To: fine, FinestM: h, Slope: 0.1}.Axis(0, 80*mm))
}

// even is a column of n equal cells between borders.
func even(h float64, borders ...float64) *mesh.Mesh {
	return column(mesh.Grading{FinestM: h}.Axis(borders...))
}

// list gathers checks.
type list []Check

func (l *list) add(what, source string, expected, ours, tolerance float64, unit string) {
	*l = append(*l, Check{What: what, Source: source, Expected: expected, Ours: ours, Tolerance: tolerance, Unit: unit})
}

// relative is add with the tolerance as a share of what is expected.
func (l *list) relative(what, source string, expected, ours, share float64, unit string) {
	l.add(what, source, expected, ours, share*math.Abs(expected), unit)
}
