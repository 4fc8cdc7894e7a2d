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
	across := mesh.Grading{From: 0, To: 2e-3, FinestM: 0.1e-3, Slope: 0.4}
	m := mesh.New(mesh.Track, along.Axis(-8e-3, 16e-3), across.Axis(0, 3e-3), across.Axis(0, border, 3e-3))
	rho := make([]float64, m.Len())
	for p := range rho {
		rho[p] = 2 + math.Sin(float64(p))
	}
	return m, rho, windowOf(m, x)
}

// windowOf is the window of a disc of 0.5 mm at x, with a border in the depth.
func windowOf(m *mesh.Mesh, x float64) *window {
	return newWindow(m, x, 0.5e-3, 0, 0.1e-3, []float64{0, border, 3e-3})
}

const border = 1e-3

// Where the electrode is, and until it leaves, cells are those of the body; elsewhere there are far fewer, and
// together they are the body.
func TestWindowHoldsTheElectrode(t *testing.T) {
	for _, x := range []float64{0, 4e-3, 10e-3} {
		m, _, w := track(x)
		if w.m.NX > m.NX*2/3 {
			t.Errorf("at %g m %d cells of %d", x, w.m.NX, m.NX)
		}
		for i, c := range m.X.Centres {
			j := w.x.in[i]
			if i < w.x.first[j] || i >= w.x.first[j+1] || c < w.m.X.Faces[j] || c > w.m.X.Faces[j+1] {
				t.Fatalf("at %g m cell %d is not in cell %d of the window", x, i, j)
			}
			if near := c > x-0.5e-3-windowM && c < x+0.5e-3+windowM+windowMove; near && w.m.X.Centres[j] != c {
				t.Errorf("at %g m the cell at %g m is put together with others", x, c)
			}
		}
		for _, a := range []struct {
			body, own mesh.Axis
			near      float64
		}{{m.Y, w.m.Y, 0.5e-3 + windowM}, {m.Z, w.m.Z, windowM}} {
			if a.own.Len() >= a.body.Len() {
				t.Errorf("no cells are put together: %d of %d", a.own.Len(), a.body.Len())
			}
			for i, f := range a.body.Faces {
				if f <= a.near && a.own.Faces[i] != f {
					t.Errorf("the face at %g m is not in the window", f)
				}
			}
		}
		if !slices.Contains(w.m.Z.Faces, border) {
			t.Error("cells are put together across a border")
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
	w.look(rho, func(int, int) {}, []mesh.Contact{{P: p, AreaM2: 1, Squares: 2}})
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
		t.Errorf("the body conducts %g, the window %g", a, b)
	}
	sum := 0.0
	for q := w.m.Plane(); q < w.m.Plane()+w.m.Cells(); q++ {
		w.q[q] = 1 + math.Cos(float64(q))
		sum += w.q[q]
	}
	q := make([]float64, m.Len())
	w.share(q)
	for _, v := range q {
		sum -= v
	}
	if math.Abs(sum) > 1e-9*float64(w.m.Cells()) || q[gone] > 1e-20 {
		t.Errorf("heat that is missing: %g; in missing tissue: %g", sum, q[gone])
	}
}

// A potential that is linear stays so from window to window and in the body.
func TestWindowCarriesPotentials(t *testing.T) {
	m, _, before := track(3e-3)
	after := windowOf(m, 4e-3)
	phi := make([]float64, before.m.Len())
	line := func(m *mesh.Mesh, p int) float64 {
		i, j, k := m.Cell(p)
		return m.X.Centres[i] + 2*m.Y.Centres[j] + 3*m.Z.Centres[k]
	}
	each := func(m *mesh.Mesh, do func(p int)) {
		for p := m.Plane(); p < m.Plane()+m.Cells(); p++ {
			do(p)
		}
	}
	each(before.m, func(p int) { phi[p] = line(before.m, p) })
	carried := after.carry(before, phi)
	within := func(a mesh.Axis, x float64) bool { return x >= a.Centres[0] && x <= a.Centres[a.Len()-1] }
	inside := func(m *mesh.Mesh, p int) bool { // there is no potential beyond the outermost centres
		i, j, k := m.Cell(p)
		return within(before.m.X, m.X.Centres[i]) && within(before.m.Y, m.Y.Centres[j]) && within(before.m.Z, m.Z.Centres[k])
	}
	each(after.m, func(p int) {
		if inside(after.m, p) && math.Abs(carried[p]-line(after.m, p)) > 1e-9 {
			t.Fatalf("%g, want %g", carried[p], line(after.m, p))
		}
	})
	each(m, func(p int) {
		if inside(m, p) && math.Abs(before.phi(phi, p)-line(m, p)) > 1e-9 {
			t.Fatalf("%g, want %g", before.phi(phi, p), line(m, p))
		}
	})
}

// A window that holds all of the track gives what there is without; the usual one the same current within 0.5 %, and its
// energy balance and charge close as well.
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

// Cells of the body in the window are brought up to date at each look, all others once in windowTurns, all at first; and
// heat comes back whole while they wait.
func TestWindowLooksInTurn(t *testing.T) {
	m, rho, w := track(4e-3)
	seen := make([]int, m.Len())
	look := func() {
		w.look(rho, func(first, end int) {
			for p := first; p < end; p++ {
				seen[p]++
				rho[p] *= 1.01
			}
		}, nil)
	}
	look()
	first, end := m.Plane(), m.Plane()+m.Cells()
	for p := first; p < end; p++ {
		if seen[p] != 1 {
			t.Fatalf("cell %d was looked at %d times by a new window", p, seen[p])
		}
	}
	clear(seen)
	for range windowTurns {
		look()
		sum := 0.0
		for q := w.m.Plane(); q < w.m.Plane()+w.m.Cells(); q++ {
			w.q[q] = 1
			sum++
		}
		q := make([]float64, m.Len())
		w.share(q)
		for _, v := range q {
			sum -= v
		}
		if math.Abs(sum) > 1e-9*float64(w.m.Cells()) {
			t.Fatalf("heat that is missing: %g", sum)
		}
	}
	together := 0
	for p := first; p < end; p++ {
		i, j, k := m.Cell(p)
		own := w.m.Index(w.x.in[i], w.y.in[j], w.z.in[k])
		a, b, c := w.m.Cell(own)
		want := 1
		if w.m.Volume(a, b, c) < 1.5*m.Volume(i, j, k) && a >= w.x.same[0] && a < w.x.same[1] {
			want = windowTurns
			if w.rho[own] != rho[p] {
				t.Errorf("cell %d has %g ohm m, the window %g", p, rho[p], w.rho[own])
			}
		} else {
			together++
		}
		if seen[p] != want {
			t.Fatalf("cell %d was looked at %d times in %d solutions, want %d", p, seen[p], windowTurns, want)
		}
	}
	if together == 0 {
		t.Error("no cells are put together: the case tests nothing")
	}
}

// After a pause, and in another activation, all cells are brought up to date at once, by the first solution.
func TestWindowLooksAnewAfterAPause(t *testing.T) {
	r := solvedTrack()
	k := r.conduction
	behind := func() (n int) {
		for p := r.m.Plane(); p < r.m.Plane()+r.m.Cells(); p++ {
			if math.Abs(k.rho[p]/k.resistivity(p, r.material(p).Material.SigmaSM)-1) > 1e-12 {
				n++
			}
		}
		return n
	}
	warm := func() {
		for p := range r.heat.T {
			r.heat.T[p] += 5
		}
		k.solve()
	}
	for n, pause := range []func(){func() { r.clockS += 2 * freshS }, func() { r.nth++ }} {
		if warm(); behind() == 0 {
			t.Fatal("nothing waits for its turn: the case tests nothing")
		}
		pause()
		if warm(); behind() > 0 {
			t.Errorf("pause %d: %d cells are not up to date", n, behind())
		}
	}
}
