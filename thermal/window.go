package thermal

import "muralheat/mesh"

// window is the mesh of the electric field of an electrode that moves along a track: that of the body, with cells
// along the track put together where the electrode is not. It moves with the electrode. Across the track and in depth it
// is the mesh of the body, and where the electrode and what it dries are its cells are the same.
type window struct {
	m     *mesh.Mesh
	body  *mesh.Mesh
	atM   float64 // place of the electrode that it was made for
	first []int   // first cell along the track of the body in each of its own, and one past the last
	in    []int   // for each cell along the track of the body, its own that holds it
	same  [2]int  // the first of its own cells that is one of the body, and the first after it that is not

	wide   []float64 // width of the body's cells along the track, m
	merged []piece   // its cells along the track that are put together, or might be
	rho, q []float64
	feeds  []mesh.Contact
}

// piece is a cell of the window along the track: those of the body in it, and its width, m.
type piece struct {
	j, first, end int
	wide          float64
}

const (
	// windowM is how far beyond the electrode cells stay as they are, and windowSlope how much they grow from there,
	// m per m. Depths move by less than 0.002 mm with it (measured, see DEVELOPERS.md).
	windowM     = 0.5e-3
	windowSlope = 0.8
	windowMove  = 0.3e-3 // how far the electrode goes in a window, m
)

// newWindow makes the window of an electrode of the given radius at x.
func newWindow(body *mesh.Mesh, x, radius, finest float64) *window {
	w := &window{body: body, atM: x, in: make([]int, body.NX), wide: make([]float64, body.NX)}
	from, to := x-radius-windowM, x+radius+windowM+windowMove
	var faces []float64
	for i := 0; i < body.NX; {
		w.first, faces = append(w.first, i), append(faces, body.X.Faces[i])
		longest := func(end float64) float64 { return finest + windowSlope*max(from-end, faces[len(faces)-1]-to) }
		next := i + 1
		for next < body.NX && body.X.Faces[next+1]-body.X.Faces[i] <= longest(body.X.Faces[next+1]) {
			next++
		}
		for ; i < next; i++ {
			w.in[i] = len(w.first) - 1
		}
	}
	for i := range w.wide {
		w.wide[i] = body.X.Width(i)
	}
	w.same = [2]int{w.in[body.X.Find(from)], w.in[body.X.Find(to)] + 1}
	w.first, faces = append(w.first, body.NX), append(faces, body.X.Faces[body.NX])
	w.m = mesh.New(body.Geometry, mesh.NewAxis(faces), body.Y, body.Z)
	for j := range w.m.NX {
		if j < w.same[0] || j >= w.same[1] {
			w.merged = append(w.merged, piece{j, w.first[j], w.first[j+1], w.m.X.Width(j)})
		}
	}
	w.rho, w.q = make([]float64, w.m.Len()), make([]float64, w.m.Len())
	return w
}

// left reports whether an electrode at x has left the window.
func (w *window) left(x float64) bool { return x < w.atM || x > w.atM+windowMove }

// rows calls visit for each row of cells along the track: its first cell in the body and in the window.
func (w *window) rows(visit func(body, own int)) {
	for r := w.body.NY; r < w.body.NY*(w.body.NZ+1); r++ {
		visit(r*w.body.NX, r*w.m.NX)
	}
}

// look brings in the resistivity of the body and the contacts of the electrode. Cells put together conduct side by
// side: so dried ones do not cut off those beside them.
func (w *window) look(rho []float64, feeds []mesh.Contact) {
	j0, j1 := w.same[0], w.same[1]
	w.rows(func(body, own int) {
		copy(w.rho[own+j0:own+j1], rho[body+w.first[j0]:])
		for _, c := range w.merged {
			sum := 0.0
			for i := c.first; i < c.end; i++ {
				sum += w.wide[i] / rho[body+i]
			}
			w.rho[own+c.j] = c.wide / sum
		}
	})
	w.feeds = w.feeds[:0]
	for _, c := range feeds {
		c.P = c.P/w.body.NX*w.m.NX + w.in[c.P%w.body.NX]
		w.feeds = append(w.feeds, c)
	}
}

// share fills q with the heat of the body's cells from that of the window's: by how well they conduct.
func (w *window) share(q, rho []float64) {
	j0, j1 := w.same[0], w.same[1]
	w.rows(func(body, own int) {
		copy(q[body+w.first[j0]:], w.q[own+j0:own+j1])
		for _, c := range w.merged {
			each := w.q[own+c.j] * w.rho[own+c.j] / c.wide
			for i := c.first; i < c.end; i++ {
				q[body+i] = each * w.wide[i] / rho[body+i]
			}
		}
	})
}

// at returns v, a field of the window, at x in the row that starts with its cell own: linear between centres.
func (w *window) at(v []float64, own int, x float64) float64 {
	c := w.m.X.Centres
	j := w.m.X.Find(x)
	if x < c[j] {
		j--
	}
	if j < 0 || j+1 == len(c) {
		return v[own+max(j, 0)]
	}
	v0, v1 := v[own+j], v[own+j+1]
	return v0 + (x-c[j])/(c[j+1]-c[j])*(v1-v0)
}

// phi returns v, a field of the window, at cell p of the body.
func (w *window) phi(v []float64, p int) float64 {
	return w.at(v, p/w.body.NX*w.m.NX, w.body.X.Centres[p%w.body.NX])
}

// carry returns v, a field of the window before, on this one.
func (w *window) carry(before *window, v []float64) []float64 {
	out := make([]float64, w.m.Len())
	w.rows(func(body, own int) {
		for j, x := range w.m.X.Centres {
			out[own+j] = before.at(v, body/w.body.NX*before.m.NX, x)
		}
	})
	return out
}
