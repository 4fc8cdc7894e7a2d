package thermal

import (
	"slices"

	"muralheat/mesh"
	"muralheat/thermal/heat/kernel"
	"muralheat/thermal/internal/cores"
)

// window is the mesh of the electric field of an electrode that moves along a track: that of the body, with cells put
// together where the electrode is not. It moves with the electrode. Where the electrode and what it dries are its cells
// are those of the body.
type window struct {
	m       *mesh.Mesh
	body    *mesh.Mesh
	atM     float64 // place of the electrode that it was made for
	x, y, z merger
	rows    []windowRow
	part    []float64 // of each cell of the body that is put together with others: its share of the volume over resistivity of all
	rho, q  []float64
	along   []float64 // room for a row of the body in each plane
	feeds   []mesh.Contact
	looks   int // so far, since all was brought up to date
	cores   *cores.Pair
}

// windowRow is a row of cells along the track: its first cell in the window, and in the rows of the body in it, side by
// side and below each other.
type windowRow struct {
	own    int
	bodies []bodyRow
	areaM2 float64 // across the track
}

type bodyRow struct {
	first  int
	areaM2 float64
}

const (
	// windowM is how far beyond the electrode cells stay as they are, and windowSlope how much they grow from there,
	// m per m. What depths move by with it: see DEVELOPERS.md.
	windowM     = 0.5e-3
	windowSlope = 0.8
	windowMove  = 0.3e-3 // how far the electrode goes in a window, m
	windowTurns = 8      // in how many solutions all cells that are put together are brought up to date
)

// newWindow makes the window of an electrode of the given radius that reaches down to depth, at x. Cells are never put
// together across borders, depths at which conductivity changes.
func newWindow(body *mesh.Mesh, x, radius, depth, finest float64, borders []float64) *window {
	w := &window{body: body, atM: x}
	w.x = newMerger(body.X, x-radius-windowM, x+radius+windowM+windowMove, finest, nil)
	w.y = newMerger(body.Y, body.Y.Faces[0], radius+windowM, finest, nil)
	w.z = newMerger(body.Z, body.Z.Faces[0], depth+windowM, finest, borders)
	w.m = mesh.New(body.Geometry, w.x.own, w.y.own, w.z.own)
	for k := range w.m.NZ {
		for j := range w.m.NY {
			r := windowRow{own: w.m.Index(0, j, k)}
			for kk := w.z.first[k]; kk < w.z.first[k+1]; kk++ {
				for jj := w.y.first[j]; jj < w.y.first[j+1]; jj++ {
					area := body.Y.Width(jj) * body.Z.Width(kk)
					r.bodies = append(r.bodies, bodyRow{body.Index(0, jj, kk), area})
					r.areaM2 += area
				}
			}
			w.rows = append(w.rows, r)
		}
	}
	w.rho, w.q = make([]float64, w.m.Len()), make([]float64, w.m.Len())
	w.part, w.along = make([]float64, body.Len()), make([]float64, w.m.NZ*body.NX)
	return w
}

// left reports whether an electrode at x has left the window.
func (w *window) left(x float64) bool { return x < w.atM || x > w.atM+windowMove }

// alone returns the cells j0 to j1-1 of a row that are those of the body, none where rows are put together.
func (w *window) alone(r *windowRow) (j0, j1 int) {
	if len(r.bodies) > 1 {
		return 0, 0
	}
	return w.x.same[0], w.x.same[1]
}

// look brings in the resistivity of the body, after resist has set rho for the cells of it from first to end-1, and the
// contacts of the electrode. Cells that are those of the body are brought up to date each time, a turn of the rows that are
// put together, all of them the first time. Cells put together conduct side by side: so dried ones do not cut off those
// beside them.
func (w *window) look(rho []float64, resist func(first, end int), feeds []mesh.Contact) {
	w.eachRow(func(n int, r *windowRow) {
		j0, j1 := w.alone(r)
		first := r.bodies[0].first
		if w.looks > 0 && n%windowTurns != w.looks%windowTurns {
			if from, end := first+w.x.first[j0], first+w.x.first[j1]; from < end {
				resist(from, end)
				copy(w.rho[r.own+j0:r.own+j1], rho[from:end])
			}
			return
		}
		for _, b := range r.bodies {
			resist(b.first, b.first+w.body.NX)
		}
		copy(w.rho[r.own+j0:r.own+j1], rho[first+w.x.first[j0]:])
		w.together(n, r, 0, j0, rho)
		w.together(n, r, j1, w.m.NX, rho)
	})
	w.looks++
	w.feeds = w.own(w.feeds[:0], feeds)
}

// together sets the resistivity of its cells j0 to j1-1 of a row, that of the body's cells in each side by side, and the part of each of
// those.
func (w *window) together(n int, r *windowRow, j0, j1 int, rho []float64) {
	from, end := w.x.first[j0], w.x.first[j1]
	for _, b := range r.bodies {
		kernel.Over(w.part[b.first+from:b.first+end], b.areaM2, w.x.wideM[from:end], rho[b.first+from:b.first+end])
	}
	each := w.room(n)[from:end]
	for j := j0; j < j1; j++ {
		first, last, sum := w.x.first[j], w.x.first[j+1], 0.0
		for _, b := range r.bodies {
			for _, part := range w.part[b.first+first : b.first+last] {
				sum += part
			}
		}
		w.rho[r.own+j] = r.areaM2 * w.m.X.Width(j) / sum
		for i := first - from; i < last-from; i++ {
			each[i] = 1 / sum
		}
	}
	for _, b := range r.bodies {
		part := w.part[b.first+from : b.first+end]
		kernel.Scaled(part, part, each)
	}
}

// room is that of the plane of row n.
func (w *window) room(n int) []float64 { return w.along[n/w.m.NY*w.body.NX:][:w.body.NX] }

// own appends the contacts with its own cells.
func (w *window) own(dst, contacts []mesh.Contact) []mesh.Contact {
	for _, c := range contacts {
		i, j, k := w.body.Cell(c.P)
		c.P = w.m.Index(w.x.in[i], w.y.in[j], w.z.in[k])
		dst = append(dst, c)
	}
	return dst
}

// share fills q with the heat of the body's cells from that of the window's: by how well they conducted when they were brought
// up to date last.
func (w *window) share(q []float64) {
	w.eachRow(func(n int, r *windowRow) {
		heat := w.room(n)
		for i, j := range w.x.in {
			heat[i] = w.q[r.own+j]
		}
		j0, j1 := w.alone(r)
		left, right := w.x.first[j0], w.x.first[j1]
		for _, b := range r.bodies {
			to, part := q[b.first:][:len(heat)], w.part[b.first:][:len(heat)]
			kernel.Scaled(to[:left], heat[:left], part[:left])
			copy(to[left:right], heat[left:])
			kernel.Scaled(to[right:], heat[right:], part[right:])
		}
	})
}

// eachRow calls do for each row, in any order.
func (w *window) eachRow(do func(n int, r *windowRow)) {
	w.cores.Each(w.m.NZ, func(k int) {
		for n := k * w.m.NY; n < (k+1)*w.m.NY; n++ {
			do(n, &w.rows[n])
		}
	})
}

// phi returns v, a field of the window, at cell p of the body: linear between centres.
func (w *window) phi(v []float64, p int) float64 {
	i, j, k := w.body.Cell(p)
	j0, fy := between(w.m.Y.Centres, w.body.Y.Centres[j])
	k0, fz := between(w.m.Z.Centres, w.body.Z.Centres[k])
	x := w.body.X.Centres[i]
	row := func(j, k int) float64 { return along(v[w.m.Index(0, j, k):][:w.m.NX], w.m.X.Centres, x) }
	upper := row(j0, k0)
	if fy > 0 {
		upper += fy * (row(j0+1, k0) - upper)
	}
	if fz == 0 {
		return upper
	}
	lower := row(j0, k0+1)
	if fy > 0 {
		lower += fy * (row(j0+1, k0+1) - lower)
	}
	return upper + fz*(lower-upper)
}

// carry returns v, a field of the window before, on this one: they differ along the track only.
func (w *window) carry(before *window, v []float64) []float64 {
	out := make([]float64, w.m.Len())
	for n, r := range w.rows {
		from := v[before.rows[n].own:][:before.m.NX]
		for j, x := range w.m.X.Centres {
			out[r.own+j] = along(from, before.m.X.Centres, x)
		}
	}
	return out
}

// along returns the values v at centres, at x: linear between them.
func along(v, centres []float64, x float64) float64 {
	i, f := between(centres, x)
	if f == 0 {
		return v[i]
	}
	return v[i] + f*(v[i+1]-v[i])
}

// between returns the last of the centres that is not beyond x, and how far x lies towards the next, as a share; the outermost
// centre beyond them.
func between(centres []float64, x float64) (i int, f float64) {
	n, at := slices.BinarySearch(centres, x)
	switch {
	case at:
		return n, 0
	case n == 0:
		return 0, 0
	case n == len(centres):
		return n - 1, 0
	}
	return n - 1, (x - centres[n-1]) / (centres[n] - centres[n-1])
}

// merger puts cells of an axis together.
type merger struct {
	own   mesh.Axis
	first []int     // first cell of the body in each of its own, and one past the last
	in    []int     // for each cell of the body, its own that holds it
	same  [2]int    // the first of its own cells that is one of the body, and the first after it that is not
	wideM []float64 // width of the body's cells
}

// newMerger leaves the cells of body between from and to as they are; those beside them grow from finest on, by
// windowSlope, up to the next of stops.
func newMerger(body mesh.Axis, from, to, finest float64, stops []float64) merger {
	n := body.Len()
	a := merger{in: make([]int, n), wideM: make([]float64, n)}
	var faces []float64
	for i := 0; i < n; {
		start := body.Faces[i]
		a.first, faces = append(a.first, i), append(faces, start)
		next := i + 1
		for ; next < n; next++ {
			end := body.Faces[next+1]
			longest := finest + windowSlope*max(from-end, start-to)
			if end-start > longest || slices.ContainsFunc(stops, func(s float64) bool { return start+1e-9 < s && s < end-1e-9 }) {
				break
			}
		}
		for ; i < next; i++ {
			a.in[i], a.wideM[i] = len(a.first)-1, body.Width(i)
		}
	}
	a.same = [2]int{a.in[body.Find(from)], a.in[body.Find(to)] + 1}
	a.first, faces = append(a.first, n), append(faces, body.Faces[n])
	a.own = mesh.NewAxis(faces)
	return a
}
