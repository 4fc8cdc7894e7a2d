package output

import (
	"math"
	"testing"
)

func sample(x, y []float64, f func(x, y float64) float64) *plane {
	p := &plane{x: x, y: y}
	for _, b := range y {
		for _, a := range x {
			p.v = append(p.v, f(a, b))
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
	lines := p.isoline(1)
	if len(lines) != 1 {
		t.Fatalf("%d lines", len(lines))
	}
	l := lines[0]
	if l[0] != l[len(l)-1] {
		t.Error("not closed")
	}
	length := 0.0
	for i, q := range l {
		if d := math.Abs(math.Hypot(q.x, q.y) - 1); d > 0.066*0.066/8*2 {
			t.Errorf("point %v: off by %g", q, d)
		}
		if i > 0 {
			length += math.Hypot(q.x-l[i-1].x, q.y-l[i-1].y)
		}
	}
	if math.Abs(length-2*math.Pi) > 0.01 {
		t.Errorf("length %g, want 2 pi", length)
	}
}

func TestIsolineLeavesTheGridOpen(t *testing.T) {
	p := sample(steps(0, 3, 7), steps(0, 2, 5), func(x, y float64) float64 { return 2*y - x })
	lines := p.isoline(0.5)
	if len(lines) != 1 {
		t.Fatalf("%d lines", len(lines))
	}
	for _, q := range lines[0] {
		if math.Abs(2*q.y-q.x-0.5) > 1e-12 {
			t.Errorf("point %v is not on the line of a linear field", q)
		}
	}
	if a, b := lines[0][0], lines[0][len(lines[0])-1]; math.Abs(math.Abs(a.x-b.x)-3) > 1e-12 {
		t.Errorf("ends at %v and %v, not at both sides", a, b)
	}
}

func TestIsolineOfASaddleAndOfNothing(t *testing.T) {
	saddle := &plane{x: []float64{0, 1}, y: []float64{0, 1}, v: []float64{1, 0, 0, 1}}
	if n := len(saddle.isoline(0.5)); n != 2 {
		t.Errorf("saddle: %d lines, want 2", n)
	}
	p := sample(steps(0, 1, 4), steps(0, 1, 4), func(x, y float64) float64 { return math.NaN() })
	if n := len(p.isoline(0)); n != 0 {
		t.Errorf("not a number: %d lines", n)
	}
}

func TestPlaneIsExactForBilinearFields(t *testing.T) {
	f := func(x, y float64) float64 { return 3 + 2*x - y + 0.5*x*y }
	p := sample(steps(-1, 2, 6), steps(0, 3, 5), f)
	for _, q := range []point{{-0.9, 0.1}, {0.333, 2.9}, {1.99, 1.5}} {
		if got := p.at(q.x, q.y); math.Abs(got-f(q.x, q.y)) > 1e-12 {
			t.Errorf("at %v: %g, want %g", q, got, f(q.x, q.y))
		}
	}
	if got, want := p.at(9, -9), f(2, 0); math.Abs(got-want) > 1e-12 {
		t.Errorf("beyond the edge: %g, want %g", got, want)
	}
}

// The line drawn must be where the summary says the injury ends.
func TestInjuryLineIsTheDepthReported(t *testing.T) {
	for name, s := range synthetics {
		r := s.result()
		if r.Summary.InjuryDepthM == 0 {
			continue
		}
		i, _ := deepest(r)
		lowest := 0.0
		for _, l := range across(r, i).injury().isoline(0) {
			for _, q := range l {
				lowest = math.Max(lowest, q.y)
			}
		}
		if d := math.Abs(lowest - 1e3*r.Summary.InjuryDepthM); d > 1e-9 {
			t.Errorf("%s: line ends at %g mm, summary says %g mm", name, lowest, 1e3*r.Summary.InjuryDepthM)
		}
	}
}
