package chart

import (
	"math"
	"testing"
)

func sample(x, y []float64, f func(x, y float64) float64) *Plane {
	p := &Plane{X: x, Y: y}
	for _, b := range y {
		for _, a := range x {
			p.V = append(p.V, f(a, b))
		}
	}
	return p
}

func steps(lo, hi float64, n int) []float64 {
	v := make([]float64, n+1)
	for i := range v {
		s := float64(i) / float64(n)
		v[i] = lo + (hi-lo)*s*(0.7+0.3*s) // uneven, as a graded mesh
	}
	return v
}

// A circle comes out as one closed line at its radius. Linear interpolation of
// x2 + y2 over a step h errs by at most h2/8 in the field's second derivative 2,
// so by h2/(8 r) in the radius.
func TestIsolineOfACircle(t *testing.T) {
	p := sample(steps(-2, 2, 80), steps(-2, 2, 80), func(x, y float64) float64 { return x*x + y*y })
	lines := p.Isoline(1)
	if len(lines) != 1 {
		t.Fatalf("%d lines", len(lines))
	}
	l := lines[0]
	if l[0] != l[len(l)-1] {
		t.Error("not closed")
	}
	length := 0.0
	for i, q := range l {
		if d := math.Abs(math.Hypot(q.X, q.Y) - 1); d > 0.066*0.066/8*2 {
			t.Errorf("point %v: off by %g", q, d)
		}
		if i > 0 {
			length += math.Hypot(q.X-l[i-1].X, q.Y-l[i-1].Y)
		}
	}
	if math.Abs(length-2*math.Pi) > 0.01 {
		t.Errorf("length %g, want 2 pi", length)
	}
}

func TestIsolineLeavesTheGridOpen(t *testing.T) {
	p := sample(steps(0, 3, 7), steps(0, 2, 5), func(x, y float64) float64 { return 2*y - x })
	lines := p.Isoline(0.5)
	if len(lines) != 1 {
		t.Fatalf("%d lines", len(lines))
	}
	for _, q := range lines[0] {
		if math.Abs(2*q.Y-q.X-0.5) > 1e-12 {
			t.Errorf("point %v is not on the line of a linear field", q)
		}
	}
	if a, b := lines[0][0], lines[0][len(lines[0])-1]; math.Abs(math.Abs(a.X-b.X)-3) > 1e-12 {
		t.Errorf("ends at %v and %v, not at both sides", a, b)
	}
}

func TestIsolineOfASaddleAndOfNothing(t *testing.T) {
	saddle := &Plane{X: []float64{0, 1}, Y: []float64{0, 1}, V: []float64{1, 0, 0, 1}}
	if n := len(saddle.Isoline(0.5)); n != 2 {
		t.Errorf("saddle: %d lines, want 2", n)
	}
	p := sample(steps(0, 1, 4), steps(0, 1, 4), func(x, y float64) float64 { return math.NaN() })
	if n := len(p.Isoline(0)); n != 0 {
		t.Errorf("not a number: %d lines", n)
	}
}

func TestPlaneIsExactForBilinearFields(t *testing.T) {
	f := func(x, y float64) float64 { return 3 + 2*x - y + 0.5*x*y }
	p := sample(steps(-1, 2, 6), steps(0, 3, 5), f)
	for _, q := range []Point{{-0.9, 0.1}, {0.333, 2.9}, {1.99, 1.5}} {
		if got := p.At(q.X, q.Y); math.Abs(got-f(q.X, q.Y)) > 1e-12 {
			t.Errorf("at %v: %g, want %g", q, got, f(q.X, q.Y))
		}
	}
	if got, want := p.At(9, -9), f(2, 0); math.Abs(got-want) > 1e-12 {
		t.Errorf("beyond the edge: %g, want %g", got, want)
	}
}
