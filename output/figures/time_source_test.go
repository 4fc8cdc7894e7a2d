package figures

import (
	"testing"

	"gonum.org/v1/plot/vg"

	"muralheat/output/chart"
	"muralheat/thermal"
	"muralheat/thermal/drive"
)

// Beside the power in the tissue stand that at the terminals where some is lost, and that set where less came and the scale
// has room for it.
func TestPowerFromTheSource(t *testing.T) {
	made := func(setW, gotW, lostShare float64, p *drive.Pulses) *thermal.Result {
		r := &thermal.Result{Case: &thermal.Case{Drive: drive.Drive{Mode: drive.Mode{PowerW: setW, DutyCycle: 1}, OnS: 4, Pulses: p}, AfterS: 1}}
		r.Summary.MeanPowerW, r.Balance.ElectricJ = gotW, 4*gotW
		r.Balance.TerminalJ = r.Balance.ElectricJ / (1 - lostShare)
		r.Balance.LeadsJ = r.Balance.TerminalJ - r.Balance.ElectricJ
		for _, at := range []float64{0, 2, 4, 5} {
			r.History = append(r.History, thermal.Sample{TimeS: at, PowerW: gotW, TerminalW: gotW / (1 - lostShare)})
		}
		return r
	}
	const perSecond = 20 * chart.MM
	pulses := &drive.Pulses{LengthS: 0.5, PeriodS: 2}
	for _, tt := range []struct {
		name string
		r    *thermal.Result
		want map[string]float64 // the highest power of each curve
	}{
		{"as set", made(10, 10, 0, nil), nil},
		{"lost", made(10, 8, 0.2, nil), map[string]float64{"at the terminals": 10, "set": 10}},
		{"short", made(10, 4, 0, nil), map[string]float64{"set": 10}},
		{"far short", made(50, 4, 0, nil), nil},
		{"a voltage", func() *thermal.Result {
			r := made(0, 4, 0, nil)
			r.Case.Drive.PeakVoltageV = 100
			return r
		}(), nil},
		{"pulses", made(10, 2, 0.2, pulses), map[string]float64{"at the terminals": 2.5}}, // 10 W in pulses is five times what is drawn
		{"pulses, short", made(10, 2.3, 0, pulses), map[string]float64{}},
		{"pulses too close", made(10, 1, 0, &drive.Pulses{LengthS: 0.01, PeriodS: 0.04}), map[string]float64{"set": 2.5}},
	} {
		curves := fromSource(tt.r, newRhythm(tt.r, vg.Length(perSecond)), perSecond)
		if len(curves) != len(tt.want) {
			t.Errorf("%s: %d curves, want %v", tt.name, len(curves), tt.want)
		}
		for _, c := range curves {
			most, last := 0.0, 0.0
			for _, p := range c.Pts {
				most, last = max(most, p.Y), max(last, p.X)
			}
			if want, ok := tt.want[c.Name]; !ok || most < 0.999*want || most > 1.001*want || last > 5 {
				t.Errorf("%s: %s up to %g W until %g s, want %g W", tt.name, c.Name, most, last, want)
			}
		}
	}
}
