package record

import (
	"strings"
	"testing"

	"muralheat/output/internal/fixture"
)

// A run fails its self-check where a hundredth of the charge is missing, a millionth of the
// energy, a billionth of the water that boiled off, or a hundredth of a kelvin below everything around; not before.
func TestLimitsOfTheSelfChecks(t *testing.T) {
	for name, tt := range map[string]struct {
		charge, energy, water, coldC float64
		want                         string // what fails
	}{
		"sound":          {0.009, 0.9e-6, 0.9e-9, 0.009, ""},
		"charge":         {0.011, 0, 0, 0, "charge balance"},
		"charge, signed": {-0.011, 0, 0, 0, "charge balance"},
		"energy":         {0, 1.1e-6, 0, 0, "energy balance"},
		"water":          {0, 0, -1.1e-9, 0, "water balance"},
		"cold":           {0, 0, 0, 0.011, "coldest tissue"},
	} {
		r := fixture.Synthetics["mild"].Result()
		r.Balance.ChargeResidual, r.Balance.EnergyResidual, r.Balance.WaterResidual = tt.charge, tt.energy, tt.water
		r.Case.Lumen.HeatTransferWM2K, r.Case.Beyond.HeatTransferWM2K, r.Case.Electrode.HeatTransferWM2K = 0, 0, 0
		r.Fields.TemperatureC[r.Mesh.Index(0, 0, 0)] = r.Case.Body.TemperatureC - tt.coldC
		for _, c := range Checks(r) {
			if failed := strings.HasPrefix(c.Name, tt.want) && tt.want != ""; c.OK == failed {
				t.Errorf("%s: %s", name, c)
			}
		}
	}
}
