package thermal

import "muralheat/mesh"

// window is the mesh of the electric field of an electrode that moves along a track: that of the body, with cells put
// together away from the electrode, the more the farther. It moves with the electrode. Where the electrode and what it
// dries are its cells are those of the body.
type window struct {
	m, body *mesh.Mesh
	atM     float64 // place of the electrode that it was made for
	x, y, z merged

	rho, q  []float64
	volumes []float64 // of its cells, m3
	feeds   []mesh.Contact
}

// merged is an axis with cells put together: the new one that holds each of the old cells, and the stretch of old
// cells that are as they were.
type merged struct {
	of   []int
	same [2]int
	axis mesh.Axis
	wide []float64 // of the old cells, m
}

const (
	// windowM is how far beyond the electrode cells stay as they are, and windowSlope how much they grow from there,
	// m per m. Depths move by less than 0.003 mm with it (measured, see DEVELOPERS.md).
	windowM     = 0.6e-3
	windowSlope = 0.8
	windowMove  = 0.3e-3 // how far the electrode goes in a window, m
)

// merge puts cells of a together outside of from and to where they are smaller than finest and the slope say. Cells i
// and i+1 only where joins says so.
func merge(a mesh.Axis, from, to, finest float64, joins func(i int) bool) merged {
	g := merged{of: make([]int, a.Len()), wide: make([]float64, a.Len())}
	var faces []float64
	for i := 0; i < a.Len(); {
		start, next := a.Faces[i], i+1
		for next < a.Len() && joins(next-1) && a.Faces[next+1]-start <= finest+windowSlope*max(from-a.Faces[next+1], start-to) {
			next++
		}
		for ; i < next; i++ {
			g.of[i], g.wide[i] = len(faces), a.Width(i)
		}
		faces = append(faces, start)
	}
	g.same = [2]int{a.Find(from), a.Find(to) + 1}
	g.axis = mesh.NewAxis(append(faces, a.Faces[a.Len()]))
	return g
}

// isSame reports whether cell i is one by itself.
func (g *merged) isSame(i int) bool { return i >= g.same[0] && i < g.same[1] }

// newWindow makes the window of an electrode at x, of a radius and a depth in the tissue.
func newWindow(body *mesh.Mesh, layerOf []int, x, radius, depth, finest float64) *window {
	any := func(int) bool { return true }
	oneLayer := func(k int) bool { return layerOf[k] == layerOf[k+1] }
	w := &window{
		body: body, atM: x,
		x: merge(body.X, x-radius-windowM, x+radius+windowM+windowMove, finest, any),
		y: merge(body.Y, body.Y.Faces[0], radius+windowM, finest, any),
		z: merge(body.Z, body.Z.Faces[0], depth+windowM, finest, oneLayer),
	}
	w.m = mesh.New(body.Geometry, w.x.axis, w.y.axis, w.z.axis)
	w.rho, w.q, w.volumes = make([]float64, w.m.Len()), make([]float64, w.m.Len()), make([]float64, w.m.Len())
	for p := w.m.Plane(); p < w.m.Plane()+w.m.Cells(); p++ {
		i, j, k := w.m.Cell(p)
		w.volumes[p] = w.m.Volume(i, j, k)
	}
	return w
}

// left reports whether an electrode at x has left the window.
func (w *window) left(x float64) bool { return x < w.atM || x > w.atM+windowMove }

// cell returns the cell of the window that holds cell p of the body.
func (w *window) cell(p int) int {
	i, j, k := w.body.Cell(p)
	return w.m.Index(w.x.of[i], w.y.of[j], w.z.of[k])
}

// rows calls visit for each row of cells along the track: its first cell in the body and in the window, its section in
// m2, and whether it is a row by itself, in which cells near the electrode are as they are.
func (w *window) rows(visit func(body, own int, sectionM2 float64, alone bool)) {
	for k := range w.body.NZ {
		for j := range w.body.NY {
			visit(w.body.Index(0, j, k), w.m.Index(0, w.y.of[j], w.z.of[k]), w.body.Volume(0, j, k)/w.x.wide[0], w.y.isSame(j) && w.z.isSame(k))
		}
	}
}

// together returns the stretches of a row whose cells are put together with others.
func (w *window) together(alone bool) [2][2]int {
	if n := w.body.NX; alone {
		return [2][2]int{{0, w.x.same[0]}, {w.x.same[1], n}}
	} else {
		return [2][2]int{{0, n}}
	}
}

// look brings in the resistivity of the body and the contacts of the electrode. Cells put together conduct side by
// side: so dried ones do not cut off those beside them.
func (w *window) look(rho []float64, feeds []mesh.Contact) {
	clear(w.rho)
	w.rows(func(body, own int, section float64, alone bool) {
		for _, s := range w.together(alone) {
			for i := s[0]; i < s[1]; i++ {
				w.rho[own+w.x.of[i]] += section * w.x.wide[i] / rho[body+i]
			}
		}
	})
	for p := w.m.Plane(); p < w.m.Plane()+w.m.Cells(); p++ {
		w.rho[p] = w.volumes[p] / w.rho[p]
	}
	w.rows(func(body, own int, _ float64, alone bool) {
		if i0, i1 := w.x.same[0], w.x.same[1]; alone {
			copy(w.rho[own+w.x.of[i0]:], rho[body+i0:body+i1])
		}
	})
	w.feeds = w.feeds[:0]
	for _, c := range feeds {
		c.P = w.cell(c.P)
		w.feeds = append(w.feeds, c)
	}
}

// share fills q with the heat of the body's cells from that of the window's: by how well they conduct.
func (w *window) share(q, rho []float64) {
	w.rows(func(body, own int, section float64, alone bool) {
		if i0, i1 := w.x.same[0], w.x.same[1]; alone {
			copy(q[body+i0:body+i1], w.q[own+w.x.of[i0]:])
		}
		for _, s := range w.together(alone) {
			for i := s[0]; i < s[1]; i++ {
				p := own + w.x.of[i]
				q[body+i] = w.q[p] * w.rho[p] / w.volumes[p] * section * w.x.wide[i] / rho[body+i]
			}
		}
	})
}

// at returns v, a field of the window, at a point: linear between centres, the end cells' own values outside.
func (w *window) at(v []float64, x, y, z float64) float64 {
	i, f := w.x.axis.Between(x)
	j, g := w.y.axis.Between(y)
	k, h := w.z.axis.Between(z)
	row := func(p int) float64 {
		if f == 0 {
			return v[p]
		}
		return v[p] + f*(v[p+1]-v[p])
	}
	plane := func(p int) float64 {
		a := row(p)
		if g == 0 {
			return a
		}
		return a + g*(row(p+w.m.NX)-a)
	}
	p := w.m.Index(i, j, k)
	a := plane(p)
	if h == 0 {
		return a
	}
	return a + h*(plane(p+w.m.Plane())-a)
}

// phi returns v, a field of the window, at cell p of the body.
func (w *window) phi(v []float64, p int) float64 {
	i, j, k := w.body.Cell(p)
	return w.at(v, w.body.X.Centres[i], w.body.Y.Centres[j], w.body.Z.Centres[k])
}

// carry returns v, a field of the window before, on this one.
func (w *window) carry(before *window, v []float64) []float64 {
	out := make([]float64, w.m.Len())
	for p := w.m.Plane(); p < w.m.Plane()+w.m.Cells(); p++ {
		i, j, k := w.m.Cell(p)
		out[p] = before.at(v, w.m.X.Centres[i], w.m.Y.Centres[j], w.m.Z.Centres[k])
	}
	return out
}
