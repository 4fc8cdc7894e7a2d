package thermal

import (
	"math"
	"testing"

	"muralheat/thermal/drive"
	"muralheat/thermal/field"
)

// Sparks strike as often as the face and the tissue ahead ask for, all the time if that is not enough, and at a
// higher voltage the less often they strike.
func TestSparksStrikeAsAsked(t *testing.T) {
	mode := drive.Mode{DutyCycle: 1, PowerW: 30, Limits: drive.Limits{PeakVoltageV: 400}}
	s := &state{Case: &Case{Drive: drive.Drive{Mode: mode, OnS: 1}, Physics: Physics{SparkOnsetV: 200}}, finestM: 1e-4,
		mode: mode, sol: field.Solution{HeatS: 1. / 500}, solved: true, burning: true}
	f := &front{state: s, wallW: 1.5, nextJ: 0.1, budgetJ: 0.12}
	lastV := 0.0
	for _, tt := range []struct{ speedMS, wantW float64 }{
		{0, 1.5},
		{1e-3, 1.5 + 10*0.08}, // a layer of 0.1 mm each 0.1 s, 0.08 J short of two layers
		{4e-3, 1.5 + 40*0.08},
	} {
		f.strike(tt.speedMS)
		supply := f.over(mode)
		if math.Abs(supply.GapW-tt.wantW) > 2e-3*tt.wantW {
			t.Errorf("%g mm/s: %g W in the gap, want %g", tt.speedMS*1e3, supply.GapW, tt.wantW)
		}
		if f.striking >= 1 || lastV != 0 && supply.VoltageV > lastV+1e-9 {
			t.Errorf("%g mm/s: strikes %g of the time at %g V, before at %g V", tt.speedMS*1e3, f.striking, supply.VoltageV, lastV)
		}
		lastV = supply.VoltageV
	}
	if f.strike(1); f.striking < 0.999 {
		t.Errorf("asked for more than there is: strikes %g of the time", f.striking)
	}
	s.Drive.Limits.PeakVoltageV = 0 // nothing holds the voltage of a light load
	if f.strike(0); f.striking != 1 {
		t.Errorf("without a limit of the voltage: strikes %g of the time", f.striking)
	}
}
