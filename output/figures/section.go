package figures

import (
	"math"

	"muralheat/mesh"
	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/thermal"
)

// section is a vertical cut through the mesh, in millimetres: the coordinate
// across the drawing, the depth, and the cell behind each sample. A symmetric
// cut shows both sides. The samples are the cell centres and, so that the
// drawing reaches the surface, the tops of the uppermost cells.
type section struct {
	res   *thermal.Result
	along bool // the track, not across it
	x, z  []float64
	cell  []int
}

// Across cuts through column i: the whole (r,z) plane of an axisymmetric case,
// or the plane at right angles to the track.
func Across(res *thermal.Result, i int) *section {
	m := res.Mesh
	if m.Geometry == mesh.Axisymmetric {
		return newSection(res, m.X, true, func(a, k int) int { return m.Index(a, 0, k) })
	}
	return newSection(res, m.Y, true, func(a, k int) int { return m.Index(i, a, k) })
}

// along cuts along the track, through the cells next to y = 0.
func along(res *thermal.Result) *section {
	m := res.Mesh
	s := newSection(res, m.X, false, func(a, k int) int { return m.Index(a, 0, k) })
	s.along = true
	return s
}

func newSection(res *thermal.Result, a mesh.Axis, mirror bool, index func(a, k int) int) *section {
	s := &section{res: res}
	var cols []int
	if mirror {
		for i := a.Len() - 1; i >= 0; i-- {
			s.x, cols = append(s.x, -1e3*a.Centres[i]), append(cols, i)
		}
	}
	for i, x := range a.Centres {
		s.x, cols = append(s.x, 1e3*x), append(cols, i)
	}
	for k := -1; k < res.Mesh.NZ; k++ {
		z := res.Mesh.Z.Faces[0]
		if k >= 0 {
			z = res.Mesh.Z.Centres[k]
		}
		s.z = append(s.z, 1e3*z)
		for _, i := range cols {
			s.cell = append(s.cell, index(i, max(k, 0)))
		}
	}
	return s
}

// plane returns value(cell) on the section.
func (s *section) plane(value func(cell int) float64) *chart.Plane {
	p := &chart.Plane{X: s.x, Y: s.z, V: make([]float64, len(s.cell))}
	for n, c := range s.cell {
		p.V[n] = value(c)
	}
	return p
}

// tissue returns value(cell) on the section; cells without tissue, in the metal or
// removed, take the mean of their neighbours, so that interpolation beside them is
// not led astray by a value that means nothing.
func (s *section) tissue(value func(cell int) float64) *chart.Plane {
	p := s.plane(value)
	known := make([]bool, len(s.cell))
	for n, c := range s.cell {
		known[n] = !s.res.Fields.Removed[c]
	}
	const layers = 3 // interpolation looks one cell deep; more only smooths the picture
	for range layers {
		before := append([]bool(nil), known...)
		for n := range known {
			if before[n] {
				continue
			}
			i, j, sum, count := n%len(s.x), n/len(s.x), 0.0, 0.0
			for _, d := range [][2]int{{-1, 0}, {1, 0}, {0, -1}, {0, 1}} {
				a, b := i+d[0], j+d[1]
				if 0 <= a && a < len(s.x) && 0 <= b && b < len(s.z) && before[b*len(s.x)+a] {
					sum, count = sum+p.Value(a, b), count+1
				}
			}
			if count > 0 {
				p.V[n], known[n] = sum/count, true
			}
		}
	}
	return p
}

// peak returns the hottest temperature reached.
func (s *section) peak() *chart.Plane {
	return s.tissue(func(c int) float64 { return s.res.Fields.PeakC[c] })
}

// injury returns ln Omega, which is linear enough between cells to interpolate;
// the injury line is its zero. Tissue that is gone counts as injured.
func (s *section) injury() *chart.Plane { return s.lnOmega(s.res.Fields.Omega) }

// atOnce returns the same of what is coagulated at once, nil if that was not computed.
func (s *section) atOnce() *chart.Plane {
	if s.res.Fields.OmegaAtOnce == nil {
		return nil
	}
	return s.lnOmega(s.res.Fields.OmegaAtOnce)
}

func (s *section) lnOmega(omega []float64) *chart.Plane {
	p := s.tissue(func(c int) float64 { return phrase.LnOmega(omega[c]) })
	for n, c := range s.cell {
		if s.res.Fields.Removed[c] && !s.empty(n) {
			p.V[n] = -phrase.QuietLn
		}
	}
	return p
}

// empty reports whether sample n lies where there never was tissue.
func (s *section) empty(n int) bool {
	return s.res.Case.Empty(math.Abs(s.x[n%len(s.x)])/1e3, s.z[n/len(s.x)]/1e3)
}

// rise returns the highest rise above the temperature before the current.
func (s *section) rise() *chart.Plane {
	f := &s.res.Fields
	return s.tissue(func(c int) float64 {
		if f.RestC == nil {
			return f.PeakC[c] - s.res.Case.Body.TemperatureC
		}
		return f.PeakC[c] - f.RestC[c]
	})
}

// dried returns how far tissue has dried, 0 wet to 1 dry.
func (s *section) dried() *chart.Plane {
	return s.tissue(func(c int) float64 { return 1 - s.res.Fields.Water[c] })
}

// carbon returns how far the dry mass has carbonised, 0 to 1.
func (s *section) carbon() *chart.Plane {
	return s.tissue(func(c int) float64 { return 1 - s.res.Fields.Solid[c] })
}

// removed returns 1 where a moving electrode took tissue away. A standing needle
// only displaces it; the drawing of the metal shows where.
func (s *section) removed() *chart.Plane {
	p := s.plane(func(int) float64 { return 0 })
	for n, c := range s.cell {
		if s.res.Fields.Removed[c] && s.res.Case.Motion.Moving() && !s.empty(n) {
			p.V[n] = 1
		}
	}
	return p
}
