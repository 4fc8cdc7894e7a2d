package experiments

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// Every experiment has a place, of the kind that its record states, and is inside of what was compared on every axis.
func TestPlaces(t *testing.T) {
	all, err := Stored()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range all {
		if p := r.Place; p.Kind != r.Regime[0] || p.Tissue != r.Setting.Tissue || !(p.Size.Low > 0) || math.Abs(p.Wet+p.Dried+p.Sparks-1) > 2e-3 {
			t.Errorf("%s: %+v, regime %v", r.ID, p, r.Regime)
		}
		if mark := r.Place.Mark(); mark != "" {
			t.Errorf("%s: %s", r.ID, mark)
		}
	}
	if got := PlacesCSV(all); got != Places() {
		t.Errorf("read and written again:\n%s", got)
	}
}

func made(id, kind, tissue string, energyJ float64, dried float64) Result {
	return Result{Experiment: Experiment{ID: id}, Place: Place{Kind: kind, Tissue: tissue, Tip: "disc", Size: Range{1, 2}, Energy: one(energyJ), Peak: one(100), Duty: one(100), Time: Range{1, 4}, Wet: 1 - dried, Dried: dried, cases: 1}}
}

// Axis by axis inside, near or outside; experiments of the kind come first, the nearest of them at the top.
func TestRegime(t *testing.T) {
	p := made("", Contact, "colon", 10, 0).Place
	all := []Result{made("pad", Pad, "skin", 10, 0), made("far", Contact, "liver", 100, 0), made("close", Contact, "stomach", 8, 0)}
	own, others := p.Regime(all)
	if len(own) != 2 || own[0].ID != "close" || len(others) != 1 {
		t.Fatalf("own %v, others %v", own, others)
	}
	verdicts := func(p Place, list ...Place) (v []Verdict) {
		for _, a := range p.Beside(list) {
			v = append(v, a.Verdict)
		}
		return v
	}
	if got, want := verdicts(p, own[0].Place), []Verdict{Near, Inside, Inside, Near, Inside, Inside, Inside, Inside}; !slices.Equal(got, want) {
		t.Errorf("beside the closer: %v", got)
	}
	if got, want := verdicts(p, own[0].Place, own[1].Place), []Verdict{Near, Inside, Inside, Inside, Inside, Inside, Inside, Inside}; !slices.Equal(got, want) {
		t.Errorf("beside both: %v", got)
	}
	hot := made("", Contact, "fat", 200, 1).Place
	if got, want := verdicts(hot, own[0].Place, own[1].Place), []Verdict{Outside, Inside, Inside, Outside, Inside, Inside, Inside, Outside}; !slices.Equal(got, want) {
		t.Errorf("outside: %v", got)
	}
	if p.Beside(nil) != nil {
		t.Error("beside nothing there are axes")
	}
	if mark := made("", Moved, "colon", 1, 0).Place.Mark(); !strings.Contains(mark, "no published experiment is of this kind (moved contact)") {
		t.Error(mark)
	}
	if mark := made("", Contact, "colon", 1e6, 0).Place.Mark(); !strings.Contains(mark, "energy delivered 1000000 J (compared: ") {
		t.Error(mark)
	}
}

// Cases put together span what each has.
func TestPlacesTogether(t *testing.T) {
	a, b := made("", Contact, "colon", 1, 0).Place, made("", Contact, "stomach", 5, 1).Place
	got := a.And(b).And(a)
	if got.Tissue != "colon or stomach" || got.Energy != (Range{1, 5}) || got.Dried != 1./3 || got.state() != "wet or dried" {
		t.Errorf("%+v", got)
	}
}

// An experiment counts once, however many rows it has: three of 1 mm too deep and one of 5 mm give 3 mm. The interval is
// that of Student's t with one degree of freedom, 12.706 (handbook tables) times 2 mm.
func TestBiases(t *testing.T) {
	row := func(quantity, unit string, measured, ours, residual float64) RowResult {
		x := RowResult{Row: Row{Quantity: quantity, Mean: measured, SD: 0.1}, Unit: unit, Ours: ours, Residual: residual}
		return x
	}
	deep := Result{Rows: []RowResult{row("injury_depth", "mm", 1, 2, 1), row("injury_depth", "mm", 2, 3, 1), row("injury_depth", "mm", 3, 4, 3)}}
	deeper := Result{Rows: []RowResult{row("injury_depth", "mm", 1, 6, 9), row("injury_volume", "mm3", math.Pi/6, math.Pi/6*8, 1), row("muscle_injured", "%", 1, 2, 1)}}
	got := Biases([]Result{deep, deeper})
	if len(got) != 2 {
		t.Fatalf("%+v", got)
	}
	d := got[0]
	if d.Measure != Depth || d.Experiments != 2 || d.Values != 4 || d.Within != 2 || math.Abs(d.Mean-3) > 1e-12 || math.Abs(d.High-3-12.7062*2) > 1e-3 || math.Abs(d.Low-3+12.7062*2) > 1e-3 {
		t.Errorf("%+v", d)
	}
	// Of one experiment: twice its spread, of the diameter pi/6 d2 dd = 0.1 mm3.
	w := got[1]
	if half := 2 * 0.1 * 2 / math.Pi; w.Measure != Width || w.Experiments != 1 || math.Abs(w.Mean-1) > 1e-12 || math.Abs(w.High-1-half) > 0.03*half {
		t.Errorf("%+v", w)
	}
	// Two that agree by chance: 2 times 0.1 mm over the root of 2.
	if b := Biases([]Result{deep, deep})[0]; math.Abs(b.Mean-1) > 1e-12 || math.Abs(b.High-1-0.2/math.Sqrt2) > 1e-9 {
		t.Errorf("%+v", b)
	}
	if s := d.String(); s != "depth +3.00 mm (95 %: -22.41 to +28.41 mm), 2 of 4 values of 2 experiments within twice the combined spread" {
		t.Error(s)
	}
}
