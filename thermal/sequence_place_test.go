package thermal

import (
	"math"
	"testing"
)

// The window of a pass back lies where the electrode is going to.
func TestWindowOfAPassBack(t *testing.T) {
	c := moving(Disc)
	c.Motion.FromM, c.Motion.Back = c.Motion.LengthM, true
	r := newRun(c, c.Grid())
	r.begin(c, 0)
	w := r.conduction.windowAt(2e-3)
	if w.left(2e-3) || w.left(2e-3-0.9*windowMove) || !w.left(2e-3+0.1*windowMove) || !w.left(2e-3-1.1*windowMove) {
		t.Errorf("a window for 2 mm holds from %g to %g mm", w.atM*1e3, (w.atM+windowMove)*1e3)
	}
	if r.xM != 4e-3 {
		t.Errorf("begins at %g mm", r.xM*1e3)
	}
}

// An activation begins where it says, with no path behind it, and a field that was solved elsewhere is not kept.
func TestBegin(t *testing.T) {
	c := moving(Disc)
	c.Repeat = Repeat{Times: 3}
	r := newRun(c, c.Grid())
	r.begin(c.activation(0), 0)
	r.reach(c.Drive.OnS)
	r.electrode.place(0)
	r.solved = true
	if r.electrode.whereM() != 2e-3 { // after a second
		t.Errorf("at %g mm", r.electrode.whereM()*1e3)
	}
	r.begin(c.activation(1), 1)
	if r.xM != 0 || r.electrode.whereM() != 0 || r.solved || r.electrode.pathM != 0 {
		t.Errorf("the second begins at %g mm after a path of %g mm, solved: %t", r.xM*1e3, r.electrode.pathM*1e3, r.solved)
	}
	c.Repeat.BackAndForth, c.Drive.OnS = true, 2
	r.Case = c
	r.reach(c.Drive.OnS)
	r.electrode.place(0)
	r.solved = true
	r.begin(c.activation(1), 3)
	if r.xM != 4e-3 || !r.solved {
		t.Errorf("a pass back begins at %g mm, solved: %t", r.xM*1e3, r.solved)
	}
	if r.reach(0.5); math.Abs(r.electrode.whereM()-3e-3) > 1e-12 || r.timeS != 3.5 || math.Abs(r.clockS-3.5) > 1e-12 {
		t.Errorf("after 0.5 s at %g mm, at %g s of the case, %g s of the clock", r.electrode.whereM()*1e3, r.timeS, r.clockS)
	}
}
