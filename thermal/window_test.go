package thermal

import (
	"math"
	"slices"
	"testing"

	"muralheat/mesh"
)

// track is a small body along a track with cells of unlike conductivity, and a window in it.
func track(x float64) (*mesh.Mesh, []float64, *window) {
	const finest = 0.1e-3
	along := mesh.Grading{From: -2e-3, To: 10e-3, FinestM: finest, Slope: 0.4}
	across := mesh.Grading{From: 0, To: 1e-3, FinestM: 0.25e-3, Slope: 0.4}
	m := mesh.New(mesh.Track, along.Axis(-8e-3, 16e-3), across.Axis(0, 3e-3), across.Axis(0, 3e-3))
	rho := make([]float64, m.Len())
	for p := range rho {
		rho[p] = 2 + math.Sin(float64(p))
	}
	return m, rho, newWindow(m, layers(m), x, 0.5e-3, 0, finest)
}

// layers has a border in the middle of the depth, where cells are put together.
func layers(m *mesh.Mesh) []int {
	of := make([]int, m.NZ)
	for k := range of {
		if k > m.NZ/2 {
			of[k] = 1
		}
	}
	return of
}

// Where the electrode is, and until it leaves, cells are those of the body; elsewhere there are far fewer, and
// together they are the body.
func TestWindowHoldsTheElectrode(t *testing.T) {
	for _, x := range []float64{0, 4e-3, 10e-3} {
		m, _, w := track(x)
		if w.m.Cells() > m.Cells()/3 {
			t.Errorf("at %g m %d cells of %d", x, w.m.Cells(), m.Cells())
		}
		inside := func(a mesh.Axis, i int, c float64) bool { return c > a.Faces[i] && c < a.Faces[i+1] }
		for p := m.Plane(); p < m.Plane()+m.Cells(); p++ {
			i, j, k := m.Cell(p)
			at := [3]float64{m.X.Centres[i], m.Y.Centres[j], m.Z.Centres[k]}
			i, j, k = w.m.Cell(w.cell(p))
			if !inside(w.m.X, i, at[0]) || !inside(w.m.Y, j, at[1]) || !inside(w.m.Z, k, at[2]) {
				t.Fatalf("at %g m cell %d is not in cell %d,%d,%d of the window", x, p, i, j, k)
			}
			near := at[0] > x-0.5e-3-windowM && at[0] < x+0.5e-3+windowM+windowMove && at[1] < 0.5e-3+windowM && at[2] < windowM
			if near && at != [3]float64{w.m.X.Centres[i], w.m.Y.Centres[j], w.m.Z.Centres[k]} {
				t.Errorf("at %g m the cell at %v m is put together with others", x, at)
			}
			if layers(m)[m.Z.Find(at[2])] != layers(m)[m.Z.Find(w.m.Z.Faces[k]+1e-9)] || layers(m)[m.Z.Find(at[2])] != layers(m)[m.Z.Find(w.m.Z.Faces[k+1]-1e-9)] {
				t.Errorf("at %g m cell %d is put together with one of another layer", x, p)
			}
		}
		if w.left(x) || w.left(x+windowMove) || !w.left(x+1.01*windowMove) || !w.left(x-1e-6) {
			t.Error("left too early, or not at all")
		}
	}
}

// Contacts are found, resistances of cells side by side add up, and all heat comes back to the body, none of it to
// missing tissue.
func TestWindowKeepsCurrentAndHeat(t *testing.T) {
	m, rho, w := track(4e-3)
	gone := m.Index(1, 1, 1)
	rho[gone] = 1e30
	p := m.Index(m.X.Find(4e-3), 2, 1)
	w.look(rho, []mesh.Contact{{P: p, AreaM2: 1, Squares: 2}})
	i, j, k := w.m.Cell(w.feeds[0].P)
	if w.m.X.Find(4e-3) != i || j != 2 || k != 1 || w.feeds[0].AreaM2 != 1 || w.feeds[0].Squares != 2 {
		t.Errorf("contact in cell %d,%d,%d: %+v", i, j, k, w.feeds[0])
	}
	conductance := func(m *mesh.Mesh, rho []float64) (sum float64) { // of all cells side by side
		for p := m.Plane(); p < m.Plane()+m.Cells(); p++ {
			i, j, k := m.Cell(p)
			sum += m.Volume(i, j, k) / rho[p]
		}
		return sum
	}
	if a, b := conductance(m, rho), conductance(w.m, w.rho); math.Abs(a/b-1) > 1e-12 {
		t.Errorf("the cells of the body conduct %g, of the window %g", a, b)
	}
	sum := 0.0
	for q := w.m.Plane(); q < w.m.Plane()+w.m.Cells(); q++ {
		w.q[q] = 1 + math.Cos(float64(q))
		sum += w.q[q]
	}
	q := make([]float64, m.Len())
	w.share(q, rho)
	for _, v := range q {
		sum -= v
	}
	if math.Abs(sum) > 1e-9 || q[gone] > 1e-20 {
		t.Errorf("heat that is missing: %g; in missing tissue: %g", sum, q[gone])
	}
}

// A potential that is linear in space stays so from window to window and in the body.
func TestWindowCarriesPotentials(t *testing.T) {
	m, _, before := track(3e-3)
	after := newWindow(m, layers(m), 4e-3, 0.5e-3, 0, 0.1e-3)
	phi := make([]float64, before.m.Len())
	// What is at cell p of m, and whether it lies between centres of the window, beyond which nothing is known.
	line := func(m *mesh.Mesh, p int) (v float64, known bool) {
		i, j, k := m.Cell(p)
		known = true
		for _, a := range []struct {
			mesh.Axis
			x, slope float64
		}{{before.m.X, m.X.Centres[i], 1}, {before.m.Y, m.Y.Centres[j], 2}, {before.m.Z, m.Z.Centres[k], -3}} {
			v += a.slope * a.x
			known = known && a.x >= a.Centres[0] && a.x <= a.Centres[a.Len()-1]
		}
		return v, known
	}
	each := func(m *mesh.Mesh, do func(p int)) {
		for p := m.Plane(); p < m.Plane()+m.Cells(); p++ {
			do(p)
		}
	}
	each(before.m, func(p int) { phi[p], _ = line(before.m, p) })
	carried := after.carry(before, phi)
	each(after.m, func(p int) {
		if want, known := line(after.m, p); known && math.Abs(carried[p]-want) > 1e-12 {
			t.Fatalf("%g, want %g", carried[p], want)
		}
	})
	each(m, func(p int) {
		if want, known := line(m, p); known && math.Abs(before.phi(phi, p)-want) > 1e-12 {
			t.Fatalf("%g, want %g", before.phi(phi, p), want)
		}
	})
}

// A window gives the current of the whole body within 0.5 %, and the heat of its cells; its charge closes, too.
func TestWindowAgreesWithTheWholeBody(t *testing.T) {
	c := small(Disc)
	c.Motion = Motion{LengthM: 3e-3, SpeedMS: 3e-3}
	c.Drive.OnS = 1
	r := newRun(c, c.Grid())
	if r.conduction.window == nil {
		t.Fatal("no window")
	}
	r.electrode.place(0)
	field := func(window *window) (inS float64, q []float64) {
		k := r.conduction
		k.window = window
		m := r.m
		if window != nil {
			m = window.m
		}
		k.field = k.newField(m)
		k.solve()
		if s := k.sol; math.Abs(s.InS-s.OutS) > 1e-9*s.InS {
			t.Errorf("%g S in, %g S out", s.InS, s.OutS)
		}
		return k.sol.InS, slices.Clone(k.q)
	}
	in, q := field(r.conduction.window)
	whole, want := field(nil)
	if math.Abs(in/whole-1) > 5e-3 {
		t.Errorf("%g S with a window, %g S without", in, whole)
	}
	most := slices.Max(want)
	for p := range q {
		if math.Abs(q[p]-want[p]) > 2e-3*most {
			t.Errorf("cell %d: %g W/V2 with a window, %g without", p, q[p], want[p])
		}
	}
}
