package exact

import "testing"

// V35. Alexiades & Solomon 1993, one-phase.
func TestStefanOnePhase(t *testing.T) {
	row(t, "V35", func(ste float64) float64 {
		return Stefan{Near: ref, Far: ref, WallC: 1, LatentJM3: ref.RhoC / ste}.Lambda()
	}, []float64{.01, .05, .1, .2, .5, 1, 2, 5}, ".070593 .156821 .220016 .306424 .464786 .620063 .800601 1.059687")
}

// V36. Carslaw & Jaeger 1959, ch. 11: water freezing.
func TestStefanFreezing(t *testing.T) {
	p := Stefan{
		Near:  Solid{K: 2.22, RhoC: 2100e3},
		Far:   Solid{K: .556, RhoC: 4200e3},
		WallC: -10, ChangeC: 0, StartC: 10, LatentJM3: 334e6,
	}
	same(t, "V36 lambda", p.Lambda(), ".157456")
	row(t, "V36 front, mm", func(s float64) float64 { return p.Front(s) / mm }, []float64{60, 3600}, "2.50803 19.42713")
	row(t, "V36 T, C", func(x float64) float64 { return p.TemperatureC(x, 3600) },
		[]float64{2 * mm, 5 * mm, 10 * mm, 20 * mm, 30 * mm}, "-8.9621 -7.4064 -4.8213 .2282 3.7415")
}

// V37: tissue drying behind a boiling front, the same mathematics.
func TestStefanDrying(t *testing.T) {
	p := Stefan{
		Near:  Solid{K: .2, RhoC: 1.2e6},
		Far:   ref,
		WallC: 200, ChangeC: 100, StartC: 37, LatentJM3: 1050 * .75 * 2.257e6,
	}
	same(t, "V37 lambda", p.Lambda(), ".146624")
	row(t, "V37 front, mm", func(s float64) float64 { return p.Front(s) / mm }, []float64{1, 5, 10, 30}, ".11972 .26770 .37858 .65572")
}
