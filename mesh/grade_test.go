package mesh

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// Properties of a graded axis: a face on each break; ascending; no cell wider than
// the target size at its own far end; neighbours alike except across a break.
func TestGradingProperties(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 4))
	for trial := range 300 {
		g := Grading{From: rng.Float64() * mm, FinestM: (0.02 + 0.1*rng.Float64()) * mm, Slope: 0.4 * rng.Float64()}
		if trial%10 == 0 {
			g.Slope = 0
		}
		g.To = g.From + 4*mm*rng.Float64()
		breaks := []float64{0}
		for range 1 + rng.IntN(5) {
			breaks = append(breaks, breaks[len(breaks)-1]+(0.01+5*rng.Float64())*mm)
		}
		a := g.Axis(breaks...)
		for _, b := range breaks {
			if !slices.Contains(a.Faces, b) {
				t.Fatalf("%+v: no face on the break %g", g, b)
			}
		}
		if got := g.Cells(breaks...); got != a.Len() {
			t.Fatalf("%+v: Cells %d, Axis has %d", g, got, a.Len())
		}
		last := 0.0
		for i := range a.Len() {
			w := a.Width(i)
			far := math.Max(math.Max(g.From-a.Faces[i], a.Faces[i+1]-g.To), 0)
			if !(w > 0) || w > (g.FinestM+g.Slope*far)*(1+1e-9) {
				t.Fatalf("%+v: cell %d of width %g, %g from the fine zone", g, i, w, far)
			}
			if i > 0 && !slices.Contains(breaks, a.Faces[i]) {
				if ratio := w / last; ratio > 1+1.5*g.Slope+1e-9 || ratio < 1/(1+1.5*g.Slope)-1e-9 {
					t.Fatalf("%+v: widths %g and %g side by side", g, last, w)
				}
			}
			last = w
		}
		for range 20 {
			n := (rng.Float64() - 0.3) * 100
			if x := g.position(n); math.Abs(g.count(x)-n) > 1e-6*(1+math.Abs(n)) && math.Abs(x) < 1 {
				t.Fatalf("%+v: count(position(%g)) = %g", g, n, g.count(x))
			}
		}
	}
}

func TestAxisFind(t *testing.T) {
	a := NewAxis([]float64{0, 1, 3, 6})
	for _, c := range []struct {
		x    float64
		cell int
	}{{-1, 0}, {0, 0}, {0.99, 0}, {1, 1}, {2.9, 1}, {3, 2}, {6, 2}, {9, 2}} {
		if got := a.Find(c.x); got != c.cell {
			t.Errorf("Find(%g) = %d, want %d", c.x, got, c.cell)
		}
	}
	defer func() {
		if recover() == nil {
			t.Error("NewAxis took faces that do not ascend")
		}
	}()
	NewAxis([]float64{0, 1, 1})
}
