package record

import (
	"strings"
	"testing"

	"muralheat/output/internal/fixture"
)

// A run fails its self-check where a hundredth of the charge is missing, a millionth of the
// energy, or a hundredth of a kelvin below everything around; not before.
func TestLimitsOfTheSelfChecks(t *testing.T) {
	for name, tt := range map[string]struct {
		charge, energy, coldC float64
		want                  string // what fails
	}{
		"sound":          {0.009, 0.9e-6, 0.009, ""},
		"charge":         {0.011, 0, 0, "charge balance"},
		"charge, signed": {-0.011, 0, 0, "charge balance"},
		"energy":         {0, 1.1e-6, 0, "energy balance"},
		"cold":           {0, 0, 0.011, "coldest tissue"},
	} {
		r := fixture.Synthetics["mild"].Result()
		r.Balance.ChargeResidual, r.Balance.EnergyResidual = tt.charge, tt.energy
		r.Case.Lumen.HeatTransferWM2K, r.Case.Beyond.HeatTransferWM2K, r.Case.Electrode.HeatTransferWM2K = 0, 0, 0
		r.Fields.TemperatureC[r.Mesh.Index(0, 0, 0)] = r.Case.Body.TemperatureC - tt.coldC
		for _, c := range Checks(r) {
			if failed := strings.HasPrefix(c.Name, tt.want) && tt.want != ""; c.OK == failed {
				t.Errorf("%s: %s", name, c)
			}
		}
	}
}
