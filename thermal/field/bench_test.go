package field

import (
	"testing"

	"muralheat/mesh"
)

// BenchmarkSolve is a cold solve of a disc on a 3-D mesh: iterations and the time
// each takes, and the set-up of the equations before them.
func BenchmarkSolve(b *testing.B) {
	g := mesh.Grading{From: -2e-3, To: 10e-3, FinestM: 1e-4, Slope: 0.4}
	d := mesh.Grading{From: 0, To: 2e-3, FinestM: 1e-4, Slope: 0.4}
	m := mesh.New(mesh.Track, g.Axis(-20e-3, 28e-3), d.Axis(0, 20e-3), d.Axis(0, 1e-3, 3e-3, 11e-3))
	rho := make([]float64, m.Len())
	for p := range rho {
		rho[p] = 2
	}
	s := New(m)
	s.Open(m.Side(), 0)
	s.Open(m.Bottom(), 0)
	contacts := m.Disc(nil, 0, 1e-3)
	q := make([]float64, m.Len())
	s.Assemble(rho, contacts, 0)
	single, double := newSingle(s.circuit), newDouble(s.circuit)
	cells := func(b *testing.B, each int) {
		b.ReportMetric(float64(m.Cells())*float64(each)/b.Elapsed().Seconds()/1e6, "Mcell/s")
	}
	solve := func(b *testing.B, solve func() int) {
		b.ReportAllocs()
		n := 0
		for b.Loop() {
			n += solve()
		}
		b.ReportMetric(float64(n)/float64(b.N), "iterations")
		cells(b, n)
	}
	b.Run("single/assemble", func(b *testing.B) {
		for b.Loop() {
			single.assemble()
		}
		cells(b, b.N)
	})
	b.Run("double/assemble", func(b *testing.B) {
		for b.Loop() {
			double.assemble()
		}
		cells(b, b.N)
	})
	b.Run("single/cold", func(b *testing.B) {
		solve(b, func() int {
			single.known = 0
			n, _ := single.solve(s.Phi, 5e-3)
			return n
		})
	})
	b.Run("single/warm", func(b *testing.B) { // what each step of a track does
		i := 0
		b.ReportAllocs()
		for b.Loop() {
			rho[m.Index(40+i%20, 0, 0)] *= 1.1
			i++
			s.Assemble(rho, contacts, 0)
			n, _ := single.solve(s.Phi, 5e-3)
			if i > 1 && n > 20 {
				b.Fatal(n)
			}
			single.heat(q)
		}
		cells(b, b.N)
	})
	b.Run("double/cold", func(b *testing.B) {
		solve(b, func() int {
			clear(s.Phi)
			for l := range double.coarse.past {
				clear(double.coarse.past[l])
			}
			double.assemble()
			return double.solve(s.Phi, 5e-3)
		})
	})
}
