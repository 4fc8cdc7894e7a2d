package kernel

import (
	"math/rand/v2"
	"testing"
)

// BenchmarkKernels runs every kernel on the mesh of a track, with the bytes it must move from
// memory beside the time. The triads are what this machine can move on as many bytes as an
// iteration touches: in Go, number by number, and as Update, which only streams.
func BenchmarkKernels(b *testing.B) {
	p := random(110, 36, 32, rand.New(rand.NewPCG(1, 1)))
	p.run(use)
	cells := float64(p.NX * p.NRow * p.NPlane)
	run := func(name string, numbers int, kernel func()) {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				kernel()
			}
			ns := float64(b.Elapsed().Nanoseconds()) / float64(b.N)
			b.ReportMetric(ns/cells, "ns/cell")
			b.ReportMetric(float64(4*numbers*p.n*rows)/ns, "GB/s")
		})
	}
	const touched = 13 // numbers of a cell that an iteration works on
	x, y, z := make([]float32, touched*p.n*rows/3), make([]float32, touched*p.n*rows/3), make([]float32, touched*p.n*rows/3)
	run("triad/go", touched, func() {
		for i := range x {
			x[i] = y[i] + 1.5*z[i]
		}
	})
	both := func(name string, numbers int, kernel func()) {
		before := use
		defer func() { use = before }()
		use = plain{}
		run(name+"/plain", numbers, kernel)
		if hasVectors {
			use = fastest()
			run(name+"/vectors", numbers, kernel)
		}
	}
	both("update", 7, func() { p.Update(1e-9, p.t, p.u, p.con, p.y, p.r) })
	both("backward", 8, func() { p.Backward(0.5, 0.1, p.r, p.con, p.p, p.lk, p.t) })
	both("forward", 7, func() { p.Forward(p.p, p.t, p.lk, p.u) })
	both("lift", 6, func() { p.Lift(p.t, p.lk, p.q) })
	both("couple", 8, func() { p.Couple(p.rho, p.half, p.g) })
	both("factor", 12, func() { p.Factor(p.g, p.lk, p.scale, p.inverse, p.ws, p.wz) })
	both("joule", 11, func() { p.Joule(p.phi, p.rho, p.half, p.g, p.q) })
	both("energies", 5, func() { p.Energies(p.phi, p.y, p.g) })
	both("inflow", 6, func() { p.Inflow(p.phi, p.g, p.scale, p.out) })
	both("mixed", 5, func() { p.Mixed(0.5, p.phi, 0.5, p.y, p.scale, p.mix, p.out) })
}
