package press

import (
	"math"
	"testing"
)

// However it is asked for, a contact carries its load, or has given all the way it can.
func TestLoadIsCarried(t *testing.T) {
	tips := map[string]Tip{"sphere": Sphere(1e-3), "punch": Punch(1e-3)}
	for name, tip := range tips {
		last := Contact{}
		for _, force := range []float64{0.001, 0.01, 0.05, 0.2, 1, 10} {
			l := Layer{20e3, 1.7e-3, 0.4}
			c := l.UnderForce(tip, force)
			carried, radius := tip(l, c.IndentationM)
			way := c.IndentationM / (0.6 * l.ThicknessM)
			if !c.Furthest && (math.Abs(carried/force-1) > 1e-12 || way > 1) || c.Furthest && (carried > force || math.Abs(way-1) > 1e-12) {
				t.Errorf("%s, %g N: carries %g N at %g m", name, force, carried, c.IndentationM)
			}
			if c.RadiusM != radius || c.RadiusM > 1e-3 || c.IndentationM < last.IndentationM || c.RadiusM < last.RadiusM {
				t.Errorf("%s, %g N: %+v after %+v", name, force, c, last)
			}
			if p := c.ForceN / (math.Pi * c.RadiusM * c.RadiusM); math.Abs(p/c.PressurePa-1) > 1e-12 {
				t.Errorf("%s, %g N: pressure %g, force over area %g", name, force, c.PressurePa, p)
			}
			back := l.UnderPressure(tip, c.PressurePa)
			if math.Abs(back.ForceN/force-1) > 1e-9 || math.Abs(back.IndentationM/c.IndentationM-1) > 1e-9 {
				t.Errorf("%s, %g N: its pressure of %g Pa gives %+v, not %+v", name, force, c.PressurePa, back, c)
			}
			last = c
		}
		if !last.Furthest {
			t.Errorf("%s: 10 N leave some way", name)
		}
	}
}

// What a layer loses is the indentation, and never more than it may.
func TestSqueeze(t *testing.T) {
	l := Layer{10e3, 0.85e-3, 0.4}
	c := l.UnderForce(Punch(1e-3), 0.01)
	if lost := l.ThicknessM * (1 - l.Squeeze(c.IndentationM)); math.Abs(lost-c.IndentationM) > 1e-18 || lost == 0 {
		t.Errorf("the layer loses %g m under an indentation of %g m", lost, c.IndentationM)
	}
	if s := l.Squeeze(l.UnderForce(Punch(1e-3), 10).IndentationM); math.Abs(s-0.4) > 1e-15 {
		t.Errorf("pressed as hard as can be, %g of the layer is left", s)
	}
}
