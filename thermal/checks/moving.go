package checks

import (
	"fmt"
	"math"

	"muralheat/mesh"
	"muralheat/thermal/exact"
)

// track is a 3-D half-symmetric mesh: equal cells of h along x from -before to
// length+ahead, the same to reach in y and z, growing to far and to deep.
func track(h, before, length, ahead, reach, far, deep float64) *mesh.Mesh {
	x := mesh.Grading{From: -before, To: length + ahead, FinestM: h}.Axis(-before, length+ahead)
	g := mesh.Grading{To: reach, FinestM: h, Slope: 0.15}
	return mesh.New(mesh.Track, x, g.Axis(0, far), g.Axis(0, deep))
}

// MovingSources checks sources pulled along the surface in 3-D.
func MovingSources() []Check {
	var l list

	// Gaussian disc: switched on at x = 0, pulled 2 mm.
	const sd, power = 0.5 * mm, 0.1
	for _, c := range []struct{ v, t float64 }{{0, 1}, {1 * mm, 2}, {5 * mm, 0.8}} {
		b := uniform(track(0.1*mm, 2.5*mm, c.v*c.t, 2.5*mm, 2*mm, 4*mm, 4*mm), ref)
		m := b.m
		acrossY, alongX := make([]float64, m.NY), make([]float64, m.NX)
		share := func(lo, hi float64) float64 { return (math.Erf(hi/sd/math.Sqrt2) - math.Erf(lo/sd/math.Sqrt2)) / 2 }
		for j := range acrossY {
			acrossY[j] = 2 * share(m.Y.Faces[j], m.Y.Faces[j+1])
		}
		// A hundred steps while the disc passes: the scheme is of first order in time.
		n := math.Ceil(c.t / math.Min(5e-3, sd/c.v/100))
		dt := c.t / n
		for step := range int(n) {
			x := c.v * (float64(step) + 0.5) * dt
			for i := range alongX {
				alongX[i] = power * share(m.X.Faces[i]-x, m.X.Faces[i+1]-x)
			}
			for j, y := range acrossY {
				for i, a := range alongX {
					b.src[m.Index(i, j, 0)] = a * y
				}
			}
			b.Step(dt, b.src)
		}
		for _, at := range [][3]float64{{0, 0, 0}, {-1, 0, 0}, {-1, 0, 0.3}, {-1, 1, 0}} {
			i, j, k := m.X.Find(c.v*c.t+at[0]*mm), m.Y.Find(at[1]*mm), m.Z.Find(at[2]*mm)
			xi, y, z := m.X.Centres[i]-c.v*c.t, m.Y.Centres[j], m.Z.Centres[k]
			want := exact.MovingGaussian(ref, power, sd, c.v, xi, y, z, c.t)
			l.add(fmt.Sprintf("Gaussian disc at %g mm/s: rise at %.3g, %.3g, %.3g mm after %g s", c.v/mm, xi/mm, y/mm, z/mm, c.t),
				"cf. Eagar and Tsai 1983, Weld J 62:346s", want, b.at(i, j, k)-bodyC, 0.01*want+0.01, "K")
		}
	}

	// A point pulled at 5 mm/s: the highest rise 1 mm off its track.
	const r = 1 * mm
	b := uniform(track(0.125*mm, 3*mm, 16*mm, 1*mm, 2*mm, 5*mm, 5*mm), ref)
	peak := 0.0
	i, j := b.m.X.Find(3*mm), b.m.Y.Find(r)
	b.pull(2, 5*mm, 16*mm, func() { peak = math.Max(peak, b.at(i, j, 0)-bodyC) })
	l.relative("point at 5 mm/s, 2 W: highest rise 1 mm off the track", rosen,
		exact.MovingPointPeak(ref, 2, 5*mm, math.Hypot(b.m.Y.Centres[j], b.m.Z.Centres[0])), peak, 0.015, "K")

	// The same at 1 mm/s on a plate of 4 mm, insulated on both faces.
	b = uniform(track(0.2*mm, 3*mm, 15*mm, 3*mm, 4*mm, 12*mm, 4*mm), ref)
	b.pull(2, 1*mm, 15*mm, func() {})
	for _, at := range [][3]float64{{-10, 1, 0}, {-5, 0, 2}, {-10, 0, 4}} {
		i, j, k := b.m.X.Find(15*mm+at[0]*mm), b.m.Y.Find(at[1]*mm), b.m.Z.Find(at[2]*mm)
		xi, y, z := b.m.X.Centres[i]-15*mm, b.m.Y.Centres[j], b.m.Z.Centres[k]
		l.relative(fmt.Sprintf("point at 1 mm/s, 2 W, plate of 4 mm: rise at %.3g, %.3g, %.3g mm", xi/mm, y/mm, z/mm), rosen+", with images",
			exact.MovingPointPlate(ref, 2, 1*mm, 4*mm, xi, y, z), b.at(i, j, k)-bodyC, 0.02, "K")
	}
	return l
}

// pull moves a point source of the given power along the surface from x = 0 to
// length and calls watch after each step. The point is spread over the cells it
// touches like a disc of one cell's radius.
func (b *body) pull(powerW, v, length float64, watch func()) {
	h := b.m.X.Width(0)
	n := math.Ceil(length / v / math.Min(0.02, h/(4*v)))
	dt := length / v / n
	var touched []mesh.Contact
	for step := range int(n) {
		for _, c := range touched {
			b.src[c.P] = 0
		}
		touched = b.m.Disc(touched[:0], v*(float64(step)+0.5)*dt, h)
		for _, c := range touched {
			b.src[c.P] = powerW * c.AreaM2 / (math.Pi * h * h)
		}
		b.Step(dt, b.src)
		watch()
	}
}
