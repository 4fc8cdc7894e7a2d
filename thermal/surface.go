package thermal

import (
	"math"
	"slices"

	"muralheat/mesh"
)

// surface reads off the injury: the surface Omega = 1, placed between cell centres
// where the straight line through ln Omega crosses zero.
type surface struct {
	m     *mesh.Mesh
	omega []float64
	gone  []bool
	cut   func(p int) bool // tissue that is gone was cut away, which counts as injury
	base  int              // first depth index of the wall: a stalk or liquid is above it
	top   int              // first depth index of tissue: liquid is above it
}

// quietLn stands for ln Omega of a cell that was never warm enough to integrate.
const quietLn = -14

func (s surface) level(p int) float64 {
	if s.gone[p] {
		if s.cut(p) {
			return math.Inf(1)
		}
		return math.Inf(-1)
	}
	return math.Max(math.Log(s.omega[p]), quietLn)
}

// injured reports whether the centre of cell p is.
func (s surface) injured(p int) bool {
	if s.gone[p] {
		return s.cut(p)
	}
	return s.omega[p] >= 1
}

// cross returns where level falls through zero between the centres a and b of two
// cells, la >= 0 > lb; face is their common face, used where tissue is gone.
func cross(a, b, face, la, lb float64) float64 {
	if math.IsInf(la, 1) || math.IsInf(lb, -1) {
		return face
	}
	return a + (b-a)*la/(la-lb)
}

// depth returns the deepest injured point in metres, 0 if none of the wall is: it is below a cell of the deepest plane
// that has an injured one.
func (s surface) depth() float64 {
	for k := s.m.NZ - 1; k >= 0; k-- {
		found, deepest := false, 0.0 // where that is still above the wall, in a stalk
		first, end := s.m.Index(0, 0, k), s.m.Index(0, 0, k+1)
		gone := s.gone[first:end]
		for n, o := range s.omega[first:end] {
			if o < 1 && !gone[n] { // most cells
				continue
			}
			if p := first + n; s.injured(p) {
				i, j, _ := s.m.Cell(p)
				found, deepest = true, math.Max(deepest, s.lower(i, j, k))
			}
		}
		if found {
			return deepest
		}
	}
	return 0
}

// DepthByFields reads the injury depth off the fields of a result once more, in m: what Summary.InjuryDepthM must be.
func (r *Result) DepthByFields() float64 {
	c, m := r.Case, r.Mesh
	cut := func(p int) bool {
		i, _, k := m.Cell(p)
		return c.Motion.Moving() && !(c.Scene() == AroundStalk && c.Empty(m.X.Centres[i], m.Z.Centres[k]))
	}
	return surface{m: m, omega: r.Fields.Omega, gone: r.Fields.Removed, cut: cut}.depth()
}

// lower returns the depth at which the injury of cell (i,j,k), injured, ends below.
func (s surface) lower(i, j, k int) float64 {
	z := s.m.Z
	if k+1 == s.m.NZ {
		return z.Faces[k+1]
	}
	p := s.m.Index(i, j, k)
	return cross(z.Centres[k], z.Centres[k+1], z.Faces[k+1], s.level(p), s.level(p+s.m.Plane()))
}

// halfWidth returns the largest distance of an injured point of the wall from the axis, or
// from the plane of the track, in metres.
func (s surface) halfWidth() float64 {
	m := s.m
	widest := 0.0
	across, n, other, stride := m.X, m.NX, 1, 1
	if m.Geometry == mesh.Track {
		across, n, other, stride = m.Y, m.NY, m.NX, m.NX
	}
	for k := s.base; k < m.NZ; k++ {
		for o := range other {
			at := func(l int) int {
				if m.Geometry == mesh.Track {
					return m.Index(o, l, k)
				}
				return m.Index(l, 0, k)
			}
			l := n - 1
			for ; l >= 0; l-- {
				if s.injured(at(l)) {
					break
				}
			}
			switch {
			case l == n-1:
				widest = across.Faces[n]
			case l >= 0:
				p := at(l)
				w := cross(across.Centres[l], across.Centres[l+1], across.Faces[l+1], s.level(p), s.level(p+stride))
				widest = math.Max(widest, w)
			}
		}
	}
	return widest
}

// volumes returns the injured volume in m3 of each layer and its highest and deepest
// injured point in metres (its bottom and its top where there is none).
func (s surface) volumes(tops []float64) (volume, highest, deepest []float64) {
	n := len(tops) - 1
	volume = make([]float64, n)
	highest, deepest = slices.Clone(tops[1:]), slices.Clone(tops[:n])
	s.stretches(0, s.m.NX, func(area, z0, z1 float64) {
		for l := range volume {
			lo, hi := math.Max(z0, tops[l]), math.Min(z1, tops[l+1])
			if hi > lo {
				volume[l] += area * (hi - lo)
				highest[l], deepest[l] = math.Min(highest[l], lo), math.Max(deepest[l], hi)
			}
		}
	})
	return volume, highest, deepest
}

// volume returns the injured volume of the cells from i0 up to and without i1 along x, m3.
func (s surface) volume(i0, i1 int) float64 {
	sum := 0.0
	s.stretches(i0, i1, func(area, z0, z1 float64) { sum += area * (z1 - z0) })
	return sum
}

// stretches visits every injured stretch, from depth z0 to z1, of the columns from i0 up
// to and without i1 along x, with the area of the column.
func (s surface) stretches(i0, i1 int, visit func(area, z0, z1 float64)) {
	m, z := s.m, s.m.Z
	for j := range m.NY {
		for i := i0; i < i1; i++ {
			area := m.Area(i, j)
			above := math.Inf(-1)   // level of the cell above
			start := z.Faces[s.top] // where the present injured stretch begins
			in := false
			for k := s.top; k < m.NZ; k++ {
				l := s.level(m.Index(i, j, k))
				switch {
				case l >= 0 && !in:
					in, start = true, z.Faces[s.top]
					if k > s.top {
						start = cross(z.Centres[k], z.Centres[k-1], z.Faces[k], l, above)
					}
				case l < 0 && in:
					in = false
					visit(area, start, cross(z.Centres[k-1], z.Centres[k], z.Faces[k], above, l))
				}
				above = l
			}
			if in {
				visit(area, start, z.Faces[m.NZ])
			}
		}
	}
}
