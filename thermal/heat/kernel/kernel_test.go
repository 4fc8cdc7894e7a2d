package kernel

import (
	"fmt"
	"math"
	"math/bits"
	"math/rand/v2"
	"slices"
	"testing"
)

// random is a body of rows of nx cells with everything at random.
func random(nx, ny, nz int, rng *rand.Rand) *Body {
	n := nx * ny * (nz + 2)
	some := func(least, most float64) []float64 {
		f := make([]float64, n)
		for i := range f {
			f[i] = least + (most-least)*rng.Float64()
		}
		return f
	}
	return &Body{
		T: some(20, 101), Source: some(0, 1e-3), Blood: some(0, 1e-5), PerJ: some(0, 1e4),
		X: some(0, 1e-4), Y: some(0, 1e-4), Z: some(0, 1e-4), Row: nx, Plane: nx * ny, BloodC: 37, Scale: 0.7,
	}
}

var sizes = [][3]int{{1, 1, 1}, {5, 1, 3}, {84, 1, 7}, {3, 2, 2}, {7, 9, 5}, {16, 4, 8}}

// both runs a test on the loops in Go and on vectors, if there are any.
func both(t *testing.T, test func(t *testing.T)) {
	before := use
	defer func() { use = before }()
	use = plain{}
	t.Run("plain", test)
	if hasVectors {
		use = fastest()
		t.Run("vectors", test)
	}
}

// A step is what its documentation says, cell by cell, and sums are those of the cells.
func TestStep(t *testing.T) {
	both(t, func(t *testing.T) {
		for i, n := range sizes {
			b := random(n[0], n[1], n[2], rand.New(rand.NewPCG(1, uint64(i))))
			next := slices.Clone(b.T)
			const h, hot = 0.1, 100
			first, end := b.Plane, len(b.T)-b.Plane
			perfusion, source, any := b.Step(next, first, end, h, hot)
			wantP, wantS, wantAny := 0.0, 0.0, false
			for p := first; p < end; p++ {
				flow := func(g float64, q int) float64 { return g * (b.T[q] - b.T[p]) }
				sum := flow(b.X[p], p+1) + flow(b.X[p-1], p-1) + flow(b.Z[p], p+b.Plane) + flow(b.Z[p-b.Plane], p-b.Plane)
				if n[1] > 1 {
					sum += flow(b.Y[p], p+b.Row) + flow(b.Y[p-b.Row], p-b.Row)
				}
				taken := b.Blood[p] * (b.T[p] - 37)
				want := b.T[p] + h*b.PerJ[p]*(sum+0.7*b.Source[p]-taken)
				if math.Abs(next[p]-want) > 1e-12*math.Abs(want) {
					t.Fatalf("%v: cell %d at %.17g, want %.17g", n, p, next[p], want)
				}
				wantP, wantS, wantAny = wantP+taken, wantS+0.7*b.Source[p], wantAny || want > hot
			}
			if math.Abs(perfusion-wantP) > 1e-12*math.Abs(wantP) || math.Abs(source-wantS) > 1e-12*wantS || any != wantAny {
				t.Errorf("%v: sums %g, %g, %v, want %g, %g, %v", n, perfusion, source, any, wantP, wantS, wantAny)
			}
			if !slices.Equal(next[:first], b.T[:first]) || !slices.Equal(next[end:], b.T[end:]) {
				t.Errorf("%v: cells outside the mesh were changed", n)
			}
		}
	})
}

// Any cell that gets hot is seen, wherever it lies.
func TestHot(t *testing.T) {
	both(t, func(t *testing.T) {
		b := random(11, 1, 1, rand.New(rand.NewPCG(2, 0)))
		clear(b.PerJ)
		next := make([]float64, len(b.T))
		for p := range b.T {
			for i := range b.T {
				b.T[i] = 99
			}
			b.T[p] = 100.5
			if _, _, any := b.Step(next, 11, 22, 1, 100); any != (p >= 11 && p < 22) {
				t.Errorf("cell %d hot: %v", p, any)
			}
		}
	})
}

// Outside finds exactly the cells that are outside, and keeps the peaks.
func TestOutside(t *testing.T) {
	both(t, func(t *testing.T) {
		rng := rand.New(rand.NewPCG(3, 0))
		for n := range Group + 1 {
			v, low, high, peak := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
			for i := range v {
				v[i], low[i], high[i], peak[i] = rng.Float64(), 0.3*rng.Float64(), 1-0.3*rng.Float64(), rng.Float64()
				switch rng.IntN(8) {
				case 0:
					v[i] = math.NaN()
				case 1:
					v[i] = low[i]
				case 2:
					v[i] = high[i]
				}
			}
			before := slices.Clone(peak)
			got := Outside(v, low, high, peak)
			if bits.Len64(got) > n {
				t.Errorf("%d cells, but %b", n, got)
			}
			for i, x := range v {
				if out := !(x >= low[i] && x <= high[i]); out != (got>>i&1 == 1) {
					t.Errorf("%d: %g within %g and %g: %v", i, x, low[i], high[i], !out)
				}
				want := before[i]
				if x > want {
					want = x
				}
				if peak[i] != want {
					t.Errorf("%d: peak %g of %g after %g", i, peak[i], x, before[i])
				}
			}
		}
	})
}

// Resist is what its documentation says, and tells of every cell that is not so, whatever makes it.
func TestResist(t *testing.T) {
	both(t, func(t *testing.T) {
		rng := rand.New(rand.NewPCG(6, 0))
		for n := range Group + 1 {
			const first = 5
			f := func(v float64) []float64 { return slices.Repeat([]float64{v}, first+n) }
			c := &Tissue{T: f(37), Water: f(1), Spark: f(0), Omega: f(0), PerJ: f(1), BoilC: 100, MostOmega: 1e-4, MostOhmM: 3}
			for p := range c.T {
				c.T[p] = 20 + 79*rng.Float64()
				switch rng.IntN(12) {
				case 0:
					c.T[p] = 100
				case 1:
					c.Water[p] = 0.999
				case 2:
					c.Spark[p] = 1e-9
				case 3:
					c.Omega[p] = 1e-4
				case 4:
					c.PerJ[p] = 0
				case 5:
					c.T[p] = math.NaN()
				}
			}
			rho := make([]float64, n)
			got := Resist(rho, c, first, 0.4, 0.02)
			for i, r := range rho {
				p := first + i
				want := 1 / (0.4 * (1 + 0.02*(c.T[p]-37)))
				if math.Abs(r/want-1) > 1e-15 {
					t.Fatalf("%g ohm m at %g C, want %g", r, c.T[p], want)
				}
				other := c.T[p] == 100 || c.Water[p] < 1 || c.Spark[p] > 0 || c.Omega[p] > 0 || c.PerJ[p] == 0 || !(want <= 3)
				if other != (got>>i&1 == 1) {
					t.Fatalf("cell %d of %d: other %v", i, n, !other)
				}
			}
			if bits.Len64(got) > n {
				t.Fatalf("%d cells, but %b", n, got)
			}
		}
	})
}

// Heated finds exactly the cells that it says.
func TestHeated(t *testing.T) {
	both(t, func(t *testing.T) {
		rng := rand.New(rand.NewPCG(7, 0))
		for n := range Group + 1 {
			q, temperature := make([]float64, n), make([]float64, n)
			for i := range q {
				q[i], temperature[i] = float64(rng.IntN(5)), float64(rng.IntN(5))
				if rng.IntN(8) == 0 {
					temperature[i] = math.NaN()
				}
			}
			got := Heated(q, temperature, 3, 1, 2)
			if bits.Len64(got) > n {
				t.Errorf("%d cells, but %b", n, got)
			}
			for i := range q {
				if want := q[i] > 3 || q[i] > 1 && temperature[i] > 2; want != (got>>i&1 == 1) {
					t.Errorf("heat %g at %g: %v", q[i], temperature[i], !want)
				}
			}
		}
	})
}

// What is gathered is what its documentation says.
func TestGather(t *testing.T) {
	both(t, func(t *testing.T) {
		rng := rand.New(rand.NewPCG(8, 0))
		for n := range 2*lanes + 3 {
			sum, v := make([]float64, n), make([]float64, n)
			for i := range v {
				sum[i], v[i] = rng.Float64(), rng.Float64()
			}
			before := slices.Clone(sum)
			Gather(sum, v, 0.3)
			for i := range sum {
				if want := before[i] + float64(0.3*v[i]); sum[i] != want {
					t.Errorf("%d: %g, want %g", i, sum[i], want)
				}
			}
		}
	})
}

// Products and quotients are what their documentation says.
func TestScaledAndOver(t *testing.T) {
	both(t, func(t *testing.T) {
		rng := rand.New(rand.NewPCG(9, 0))
		for n := range 2*lanes + 3 {
			v, by, scaled, over := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
			for i := range v {
				v[i], by[i] = rng.Float64(), rng.Float64()
			}
			Scaled(scaled, v, by)
			Over(over, 0.3, v, by)
			for i := range v {
				if scaled[i] != v[i]*by[i] || over[i] != float64(0.3*v[i])/by[i] {
					t.Errorf("%d: %g and %g of %g and %g", i, scaled[i], over[i], v[i], by[i])
				}
			}
		}
	})
}

// Changes of resistivity and rates are what their documentation says, of the cells that are asked for; a rate that is no number
// hides no other.
func TestChangedAndRates(t *testing.T) {
	both(t, func(t *testing.T) {
		rng := rand.New(rand.NewPCG(10, 0))
		for n := range Group + 1 {
			cells := rng.Uint64()
			q, rho, then, per := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
			sum, change, most := 0.0, 0.0, 0.0
			for i := range q {
				q[i], rho[i], then[i], per[i] = rng.Float64(), rng.Float64(), rng.Float64(), rng.Float64()
				switch {
				case cells>>i&1 == 0:
					rho[i], per[i] = math.Inf(1), math.Inf(1)
					continue
				case i%7 == 3:
					per[i] = math.NaN()
				default:
					most = max(most, q[i]*per[i])
				}
				sum += q[i]
				change += q[i] * math.Abs(rho[i]/then[i]-1)
			}
			near := func(a, b float64) bool { return math.Abs(a-b) <= 1e-12*b }
			if heat, got := Changed(cells, q, rho, then); !near(heat, sum) || !near(got, change) {
				t.Errorf("%d cells: heat %g and change %g, want %g and %g", n, heat, got, sum, change)
			}
			if heat, got := Rates(cells, q, per); !near(heat, sum) || got != most {
				t.Errorf("%d cells: heat %g and rate %g, want %g and %g", n, heat, got, sum, most)
			}
		}
	})
}

// Keep finds the largest change wherever it lies, up or down, and what is no number does not hide it.
func TestKeep(t *testing.T) {
	both(t, func(t *testing.T) {
		for n := range 3*lanes + 1 {
			for at := range n {
				for _, change := range []float64{5, -5} {
					v, next := make([]float64, n), make([]float64, n)
					for i := range v {
						v[i], next[i] = float64(i), float64(i)+0.01*float64(i)
						if i%3 == 1 {
							next[i] = math.NaN()
						}
					}
					next[at] = v[at] + change
					if got := Keep(v, next); got != 5 {
						t.Errorf("%d of %d: changed by %g, want 5", at, n, got)
					}
					for i := range v {
						if math.Float64bits(v[i]) != math.Float64bits(next[i]) {
							t.Errorf("%d: kept %g, want %g", i, v[i], next[i])
						}
					}
				}
			}
		}
	})
}

// Vectors give the bits of the loops in Go.
func TestVectorsEqualPlain(t *testing.T) {
	if !hasVectors {
		t.Skip("this processor has no AVX2: the loops in Go are all there is")
	}
	for i, n := range sizes {
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			b := random(n[0], n[1], n[2], rand.New(rand.NewPCG(4, uint64(i))))
			first, end := b.Plane, len(b.T)-b.Plane
			one, two := slices.Clone(b.T), slices.Clone(b.T)
			a := *b
			any1 := plain{}.step(&a, one, first, end, 0.1, 100)
			any2 := fastest().step(b, two, first, end, 0.1, 100)
			p1, s1, p2, s2 := a.perfusion, a.source, b.perfusion, b.source
			if p1 != p2 || s1 != s2 || any1 != any2 {
				t.Errorf("sums %v, %v, %v in Go, %v, %v, %v in assembly", p1, s1, any1, p2, s2, any2)
			}
			tissue := &Tissue{T: one, Water: b.T, Spark: b.X, Omega: b.Y, PerJ: b.PerJ, BoilC: 90, MostOmega: 5e-5, MostOhmM: 3}
			for p := 0; p < len(one); p += Group {
				m := min(Group, len(one)-p)
				r1, r2 := make([]float64, m), make([]float64, m)
				if c1, c2 := (plain{}).resist(r1, tissue, p, 0.3, 0.02), fastest().resist(r2, tissue, p, 0.3, 0.02); c1 != c2 {
					t.Errorf("cells %b in Go, %b in assembly", c1, c2)
				}
				for i := range r1 {
					if math.Float64bits(r1[i]) != math.Float64bits(r2[i]) {
						t.Fatalf("resistivity %x in Go, %x in assembly", math.Float64bits(r1[i]), math.Float64bits(r2[i]))
					}
				}
			}
			for p := 0; p < len(one); p += Group {
				end := min(p+Group, len(one))
				if c1, c2 := (plain{}).heated(b.Source[p:end], one[p:end], 9e-4, 1e-4, 50), fastest().heated(b.Source[p:end], one[p:end], 9e-4, 1e-4, 50); c1 != c2 {
					t.Errorf("heated cells %b in Go, %b in assembly", c1, c2)
				}
				cells := uint64(0xfedcba9876543210) >> (p % 3)
				h1, r1 := plain{}.changed(cells, b.Source[p:end], one[p:end], b.T[p:end])
				h2, r2 := fastest().changed(cells, b.Source[p:end], one[p:end], b.T[p:end])
				h3, m1 := plain{}.rates(cells, b.Source[p:end], b.PerJ[p:end])
				h4, m2 := fastest().rates(cells, b.Source[p:end], b.PerJ[p:end])
				if h1 != h2 || r1 != r2 || h3 != h4 || m1 != m2 {
					t.Errorf("sums %v, %v, %v, %v in Go, %v, %v, %v, %v in assembly", h1, r1, h3, m1, h2, r2, h4, m2)
				}
			}
			for i := range one {
				if math.Float64bits(one[i]) != math.Float64bits(two[i]) {
					t.Fatalf("cell %d: %x in Go, %x in assembly", i, math.Float64bits(one[i]), math.Float64bits(two[i]))
				}
			}
		})
	}
}

func BenchmarkKernels(b *testing.B) {
	for _, n := range [][3]int{{84, 1, 63}, {120, 25, 25}} {
		c := random(n[0], n[1], n[2], rand.New(rand.NewPCG(5, 0)))
		next := slices.Clone(c.T)
		cells := len(c.T) - 2*c.Plane
		each := func(name string, fields int, do func()) {
			b.Run(fmt.Sprintf("%d/%s", cells, name), func(b *testing.B) {
				for b.Loop() {
					do()
				}
				perCell := b.Elapsed().Seconds() / float64(b.N) / float64(cells)
				b.ReportMetric(perCell*1e9, "ns/cell")
				b.ReportMetric(float64(8*fields)/perCell/1e9, "GB/s")
			})
		}
		low, high := slices.Clone(c.T), slices.Clone(c.T)
		for i := range low {
			low[i]--
			high[i]++
		}
		x, y := next, c.T
		each("triad", 3, func() {
			for i := range x {
				x[i] = y[i] + 3*low[i]
			}
		})
		for _, k := range []struct {
			name string
			use  loops
		}{{"plain", plain{}}, {"fastest", fastest()}} {
			before := use
			use = k.use
			fields := 8
			if n[1] > 1 {
				fields++
			}
			each("step-"+k.name, fields, func() { c.Step(next, c.Plane, c.Plane+cells, 0, 1e3) })
			each("outside-"+k.name, 5, func() {
				for p := 0; p+Group <= cells; p += Group {
					Outside(c.T[p:][:Group], low[p:][:Group], high[p:][:Group], next[p:][:Group])
				}
			})
			use = before
		}
	}
}
