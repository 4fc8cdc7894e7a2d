package thermal

import (
	"math"
	"testing"

	"muralheat/thermal/damage"
	"muralheat/thermal/drive"
	"muralheat/thermal/tissue"
)

// small is a case of few cells; its values are invented.
func small(tip Tip) *Case {
	mt := tissue.Material{SigmaSM: 0.4, KWMK: 0.5, DensityKgM3: 1050, HeatCapacityJKgK: 3600, PerfusionKgM3S: 2, WaterFraction: 0.75, MetabolicWM3: 700}
	return &Case{
		Layers:    []Layer{{Name: "wall", ThicknessM: 3e-3, Material: mt, Muscle: true}, {Name: "fat", ThicknessM: 4e-3, Material: mt, Beyond: true}},
		Electrode: Electrode{Tip: tip, ContactRadiusM: 0.4e-3, TipRadiusM: 0.4e-3, InsertionM: 1e-3},
		Drive:     drive.Drive{Mode: drive.Mode{PowerW: 2, DutyCycle: 1, Limits: drive.Limits{PeakVoltageV: 200}}, OnS: 1},
		Body:      Body{TemperatureC: 37, BloodHeatCapacityJKgK: 3600},
		Physics:   Physics{SigmaPerK: 0.02, DrySigmaShare: 0.01, DryKWMK: 0.2, LatentJKg: 2.257e6, MetabolicHeat: true, PerfusionStops: WithDamage},
		Damage:    Damage{Kinetics: damage.Kinetics{Name: "made-up", Segments: []damage.Segment{{LnA: 227, ThetaK: 75000}}}},
		Domain:    Domain{RadiusM: 5e-3, Side: Open, Bottom: Open},
		Numerics:  Numerics{FinestM: 0.2e-3, Tolerance: 1e-2, Resolve: 0.05, MaxStepS: 0.05},
	}
}

// moving lets it be drawn 4 mm at 2 mm/s.
func moving(tip Tip) *Case {
	c := small(tip)
	c.Motion = Motion{LengthM: 4e-3, SpeedMS: 2e-3}
	return c
}

// Blood stops at an Arrhenius integral of 1, or falls as exp(-Omega), as PerfusionStop says.
func TestBloodLeft(t *testing.T) {
	for _, tt := range []struct {
		stop        PerfusionStop
		omega, want float64
	}{
		{Never, 100, 1}, {AtInjury, 0.999, 1}, {AtInjury, 1, 0}, {AtInjury, 2, 0},
		{WithDamage, 0, 1}, {WithDamage, 1, 0.36787944117144233}, {WithDamage, 2, 0.1353352832366127}, // exp(-1), exp(-2)
	} {
		if got := tt.stop.bloodLeft(tt.omega); math.Abs(got-tt.want) > 1e-15 {
			t.Errorf("%s at %g: %g, want %g", tt.stop, tt.omega, got, tt.want)
		}
	}
}

// The heat of metabolism is its density times the volume of the body, no more and no less.
func TestMetabolicHeat(t *testing.T) {
	r := newRun(small(Disc), small(Disc).Grid())
	r.warming.setSource()
	sum := 0.0
	for _, w := range r.warming.sourceW {
		sum += w
	}
	if want := 700 * math.Pi * 5e-3 * 5e-3 * 7e-3; math.Abs(sum/want-1) > 1e-9 {
		t.Errorf("%g W, want %g", sum, want)
	}
}

// Electrodes stand in the middle of the coming step.
func TestElectrodeIsAtTheMiddleOfTheStep(t *testing.T) {
	c := moving(Disc)
	r := newRun(c, c.Grid())
	r.reach(0.5)
	if r.electrode.advance(0.1); math.Abs(r.xM-2e-3*0.55) > 1e-15 {
		t.Errorf("at %g mm, want 1.1", r.xM*1e3)
	}
	c.Motion.Waits = true // then half of the step before and half of this one further
	r.electrode.pathM, r.stepS = 1e-3, 0.02
	if r.electrode.advance(0.04); math.Abs(r.xM-(1e-3+2e-3*0.03)) > 1e-15 {
		t.Errorf("at %g mm, want 1.06", r.xM*1e3)
	}
}

// The field is solved again once the electrode has moved by half a cell, not later.
func TestFieldFollowsTheElectrode(t *testing.T) {
	c := moving(Disc)
	r := newRun(c, c.Grid())
	r.mode = c.Drive.Mode
	r.electrode.place(0)
	r.conduction.solve()
	for moved, want := range map[float64]bool{0.4: false, 0.5: true, 2: true} {
		if r.xM = r.conduction.lastXM + moved*r.finestM; r.conduction.stale() != want {
			t.Errorf("moved by %g cells: stale %v", moved, !want)
		}
	}
}

// A pulled ring presses harder as it closes, as the inverse of its radius, and goes as much
// faster, up to what a hand does.
func TestPulledRingSpeedsUp(t *testing.T) {
	c := &Case{Electrode: Electrode{Tip: Loop, TipRadiusM: 4e-3}, Motion: Motion{SpeedMS: 1e-3, LengthM: 4e-3, Waits: true}}
	for x, want := range map[float64]float64{0: 1e-3, 2e-3: 2e-3, 3e-3: 4e-3, 3.9e-3: fastestLoopMS} {
		if got := (loop{plain{&electrode{state: &state{Case: c, xM: x}}}}).speedMS(); math.Abs(got-want) > 1e-12 {
			t.Errorf("closed by %g mm: %g mm/s, want %g", x*1e3, got*1e3, want*1e3)
		}
	}
}

// A cut is sustained while at most a tenth of what it removes had not parted.
func TestSustained(t *testing.T) {
	for dragged, want := range map[float64]bool{0: true, 0.09: true, 0.11: false, 0.3: false} {
		e := electrode{removedM3: 1, draggedM3: dragged}
		if share, got := e.parted(); got != want || share != 1-dragged {
			t.Errorf("%g dragged: parted %g, sustained %v", dragged, share, got)
		}
	}
	if share, got := (&electrode{}).parted(); got || !math.IsNaN(share) {
		t.Error("nothing removed, but a cut")
	}
}

// The injury beside a cut is a mean over the middle half of the path: its ends do not count.
func TestInjuryBesideACutCountsTheMiddle(t *testing.T) {
	beside := func(from, to float64) float64 {
		c := moving(Needle)
		r := newRun(c, c.Grid())
		r.electrode.place(0)
		r.electrode.removedM3, r.electrode.sweptM3, r.electrode.travelM = 1e-9, 1e-9, 4e-3
		r.each(func(p, i, j, k int) {
			if x := r.m.X.Centres[i]; from < x && x < to && r.m.Y.Centres[j] < 1e-3 && r.m.Z.Centres[k] < 1e-3 {
				r.omega.Sum[p] = 100
			}
		})
		return r.electrode.tip.(needle).cut(&Result{}).BurntM2
	}
	if end, middle := beside(-1e-3, 0.8e-3), beside(1.5e-3, 2.5e-3); end != 0 || !(middle > 0.2e-6) {
		t.Errorf("burnt at the end %g mm2, in the middle %g mm2", end*1e6, middle*1e6)
	}
}

// Skin that is one kelvin warmer over one round square centimetre, and nowhere else, has a mean
// rise of one kelvin over it.
func TestPadIsJudgedOverASquareCentimetre(t *testing.T) {
	c := small(Pad)
	c.Electrode = Electrode{Tip: Pad, ContactRadiusM: 8e-3, TipRadiusM: 8e-3}
	c.Domain.RadiusM, c.Numerics.FinestM = 60e-3, 0.25e-3
	r := newRun(c, c.Grid())
	radius := 10e-3 / math.Sqrt(math.Pi)
	for i, from := range r.m.X.Faces[:r.m.NX] {
		if from < radius {
			r.heat.T[r.m.Index(i, 0, 0)]++
		}
	}
	var row Sample
	r.electrode.tip.record(&row)
	if math.Abs(row.MeanRiseK-1) > 0.02 {
		t.Errorf("mean rise %.3f K, want 1", row.MeanRiseK)
	}
	if w := r.electrode.tip.(*pad).worst; w.CentreRiseK != 1 || w.MeanRiseAtM != 0 {
		t.Errorf("%+v", w)
	}
}

// What leaks through the head of a polyp is the current across the face where it touches.
func TestLeakIsReadWhereTheHeadTouches(t *testing.T) {
	c := small(Loop)
	mt := c.Layers[0].Material
	c.Layers = append([]Layer{
		{Name: "opposite", ThicknessM: 2e-3, Material: mt, Above: true},
		{Name: "touch", ThicknessM: 0.5e-3, Material: mt, Above: true, RadiusM: 1e-3},
		{Name: "head", ThicknessM: 3e-3, Material: mt, Above: true, RadiusM: 3e-3},
		{Name: "stalk", ThicknessM: 5e-3, Material: mt, Above: true, RadiusM: 2e-3},
	}, c.Layers...)
	c.Electrode = Electrode{Tip: Loop, ContactRadiusM: 0.2e-3, TipRadiusM: 2e-3, Own: Own{LoopHeight: 2.5e-3}}
	c.Domain.RadiusM = 15e-3
	r := newRun(c, c.Grid())
	if face := r.m.Z.Faces[r.conduction.leakK+1]; math.Abs(face-c.Edges()[1]) > 1e-9 {
		t.Fatalf("read at %g mm, the head touches at %g mm", face*1e3, c.Edges()[1]*1e3)
	}
	r.mode = c.Drive.Mode
	r.electrode.place(0)
	r.conduction.solve()
	if leak := r.conduction.leak(); !(leak > 0.01 && leak < 0.9) {
		t.Errorf("a share of %g", leak)
	}
}
