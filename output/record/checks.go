package record

import (
	"fmt"
	"math"

	"muralheat/thermal"
)

// A Check is a self-check of a run: a number that must not exceed a limit.
type Check struct {
	Name  string
	Value float64
	Limit float64
	OK    bool
}

const (
	// EnergyLimit is far above rounding and far below anything visible in a depth.
	EnergyLimit = 1e-6
	// WaterLimit is far above rounding: what flows only changes place.
	WaterLimit = 1e-9
	// chargeLimit: what leaves the electrode must arrive, to the accuracy of the
	// iterative field solution. Power does not depend on it: the voltage is set from
	// the heat deposited.
	ChargeLimit = 1e-2
	// coldLimit in K: nothing cools tissue below its surroundings (maximum principle
	// of the heat equation). Sound runs stay within rounding; a run gone astray can
	// still balance, with huge terms against each other.
	coldLimit = 1e-2
)

// Checks judges a result. A result that fails one must not be used.
func Checks(r *thermal.Result) []Check {
	var broken float64
	for _, f := range fields(r) {
		for _, v := range f.cells(r) {
			// An Arrhenius integral may overflow; nothing else may.
			if math.IsNaN(v) || math.IsInf(v, -1) {
				broken++
			}
		}
	}
	c := r.Case
	coldest := c.Body.TemperatureC
	for _, s := range []thermal.Surface{c.Lumen, c.Beyond, c.Electrode.Surface} {
		if s.HeatTransferWM2K > 0 {
			coldest = min(coldest, s.TemperatureC)
		}
	}
	var colder float64
	first := r.Mesh.Index(0, 0, 0)
	for cell := first; cell < first+r.Mesh.Cells(); cell++ {
		if !r.Fields.Removed[cell] {
			colder = max(colder, coldest-r.Fields.TemperatureC[cell])
		}
	}
	judge := func(name string, v, limit float64) Check {
		return Check{name, v, limit, math.Abs(v) <= limit}
	}
	return []Check{
		judge("energy balance (in minus accounted for, over in)", r.Balance.EnergyResidual, EnergyLimit),
		judge("energy from the source (at the terminals minus lost minus into the tissue, over the first)", r.Balance.SourceResidual, EnergyLimit),
		judge("water balance (missing minus left as steam, over all that boiled off)", r.Balance.WaterResidual, WaterLimit),
		judge("charge balance (worst current in minus out, over in)", r.Balance.ChargeResidual, ChargeLimit),
		judge("coldest tissue (K below the coldest surroundings)", colder, coldLimit),
		judge("values that are not a number", broken, 0),
	}
}

// Passed reports whether every check holds.
func Passed(checks []Check) bool {
	for _, c := range checks {
		if !c.OK {
			return false
		}
	}
	return true
}

func (c Check) String() string {
	verdict := "ok"
	if !c.OK {
		verdict = "FAILED"
	}
	return fmt.Sprintf("%s: %.2g, limit %.2g: %s", c.Name, c.Value, c.Limit, verdict)
}
