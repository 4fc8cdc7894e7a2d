package figures

import (
	"math"
	"testing"

	"muralheat/output/chart"
	"muralheat/output/internal/fixture"
	"muralheat/output/phrase"
)

// inside reports whether a place lies in areas, one within another being a hole.
func inside(areas [][]chart.Point, x, y float64) (in bool) {
	for _, a := range areas {
		for n := range a {
			p, q := a[n], a[(n+1)%len(a)]
			if (p.Y > y) != (q.Y > y) && x < p.X+(y-p.Y)/(q.Y-p.Y)*(q.X-p.X) {
				in = !in
			}
		}
	}
	return in
}

// An area holds the places where more than half of a state is reached, and no others; it is closed at the surface too.
func TestPartsCoverTheirStates(t *testing.T) {
	for _, name := range []string{"hot", "slot"} {
		r := fixture.Synthetics[name].Result()
		i, j := phrase.Deepest(r)
		k := NewCut(chart.ForDocument, r, Across(r, i), i, j)
		parts := k.Parts()
		for what, c := range map[string]struct {
			areas [][]chart.Point
			state *chart.Plane
		}{"dried": {parts.Dried, k.dry}, "carbonised": {parts.Carbonised, k.char}, "removed": {parts.Removed, k.gone}} {
			for _, a := range c.areas {
				if a[0] != a[len(a)-1] {
					t.Errorf("%s, %s: an area is open", name, what)
				}
			}
			within := 0
			for x := k.X0; x < k.X1; x += (k.X1 - k.X0) / 97 {
				for z := 0.001; z < k.Z1; z += k.Z1 / 89 {
					v := c.state.At(x, z)
					if got := inside(c.areas, x, z); got {
						within++
						if v < 0.35 { // lines are straight between samples, the state is not
							t.Fatalf("%s, %s: (%.3f, %.3f) mm is inside at %g", name, what, x, z, v)
						}
					} else if v > 0.65 {
						t.Fatalf("%s, %s: (%.3f, %.3f) mm is outside at %g", name, what, x, z, v)
					}
				}
			}
			if must := name == "hot" && what != "removed" || name == "slot" && what == "removed"; must && within == 0 {
				t.Errorf("%s: nothing is %s", name, what)
			}
		}
		lowest := 0.0
		for _, l := range parts.Injury {
			for _, q := range l {
				lowest = math.Max(lowest, q.Y)
			}
		}
		if want := 1e3 * phrase.ColumnDepth(r, i, j); math.Abs(lowest-want) > 1e-9 {
			t.Errorf("%s: the injury line goes down to %g mm, the deepest column to %g", name, lowest, want)
		}
	}
}
