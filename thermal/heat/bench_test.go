package heat

import (
	"testing"

	"muralheat/mesh"
)

// BenchmarkStep is one explicit step on a 3-D mesh. Bytes are those a cell must move:
// seven fields read and one written. Triad is what the machine can do, in the same run.
func BenchmarkStep(b *testing.B) {
	g := mesh.Grading{From: 0, To: 1, FinestM: 1e-4}
	m := mesh.New(mesh.Track, g.Axis(0, 12e-3), g.Axis(0, 3e-3), g.Axis(0, 3e-3))
	s := New(m, make([]int, m.NZ), []Material{{KWetWMK: 0.5, CWetJM3K: 3.8e6, PerfusionWM3K: 3e4}}, NoPhases, 37)
	src := make([]float64, m.Len())
	src[m.Index(60, 0, 0)] = 1e-3
	dt := s.Limit() / 2
	triad := make([][]float64, 8)
	for i := range triad {
		triad[i] = make([]float64, m.Len())
	}
	b.Run("step", func(b *testing.B) {
		b.SetBytes(int64(64 * m.Cells()))
		b.ReportAllocs()
		for b.Loop() {
			s.Step(dt, src)
		}
		b.ReportMetric(float64(m.Cells())*float64(b.N)/b.Elapsed().Seconds()/1e6, "Mcell/s")
	})
	b.Run("triad", func(b *testing.B) { // the same bytes with hardly any arithmetic
		b.SetBytes(int64(64 * m.Len()))
		for b.Loop() {
			for i := 0; i < 8; i += 4 {
				d, x, y, z := triad[i], triad[i+1], triad[i+2], triad[i+3]
				x, y, z = x[:len(d)], y[:len(d)], z[:len(d)]
				for p := range d {
					d[p] = x[p] + 0.5*y[p] + z[p]
				}
			}
		}
	})
}
