package thermal_test

import (
	"math"
	"testing"

	"muralheat/thermal"
	"muralheat/thermal/drive"
)

// The stored field is that of the moment when current last flowed, also where a pause of no power, or none
// at all, came after it: the heat of its cells is the power of then.
func TestFieldOfTheLastCurrent(t *testing.T) {
	for name, between := range map[string]drive.Mode{"nothing set": {}, "no power set": {DutyCycle: 1}} {
		c := draft(antrum(thermal.Disc, 1e-3, 3, 0.35))
		c.Physics.SigmaPerK, c.Physics.Boiling = 0, false // one field for all times
		c.Drive.Limits = drive.Limits{}
		c.Drive.Pulses = &drive.Pulses{LengthS: 0.1, PeriodS: 0.2, Between: between}
		c.Domain = thermal.Domain{RadiusM: 15e-3, Side: thermal.Insulated, Bottom: thermal.Grounded} // all heat in the mesh
		r := simulate(t, c)
		if last := r.History[len(r.History)-1]; last.PowerW != 0 {
			t.Fatalf("%s: ends with %g W", name, last.PowerW)
		}
		heatW, highestV := 0.0, 0.0
		m := r.Mesh
		for k := range m.NZ {
			for i := range m.NX {
				p := m.Index(i, 0, k)
				heatW += r.Fields.PowerWM3[p] * m.Volume(i, 0, k)
				highestV = math.Max(highestV, r.Fields.PotentialV[p])
			}
		}
		volts := math.Sqrt(3 * r.Summary.ResistanceStartOhm)
		if math.Abs(heatW/3-1) > 1e-4 || highestV > volts || highestV < 0.7*volts {
			t.Errorf("%s: cells heat by %g W of 3 W, the highest potential is %g V of %g V", name, heatW, highestV, volts)
		}
	}
}
