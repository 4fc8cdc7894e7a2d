package thermal_test

import (
	"context"
	"math"
	"testing"

	"muralheat/thermal"
	"muralheat/thermal/drive"
)

// inSequence computes cases one after another.
func inSequence(t *testing.T, cases ...thermal.Case) []*thermal.Result {
	t.Helper()
	var s thermal.Sequence
	for i := range cases {
		s = append(s, &cases[i])
	}
	results, err := thermal.SimulateSequence(context.Background(), s, thermal.Options{AllFields: true})
	if err != nil {
		t.Fatal(err)
	}
	return results
}

// wetAndSparks dries, moves steam and liquid water, and strikes sparks.
func wetAndSparks(c *thermal.Case) {
	interrupted(c)
	c.Physics.WaterM2S = 1e-9
	c.Physics.Drying, c.Physics.SigmaExponent, c.Physics.SigmaThreshold = thermal.Percolation, 1.5, 0.2
	c.Physics.Steam.PermeabilityM2, c.Physics.Steam.WetShare, c.Physics.Steam.TearPa, c.Physics.Steam.VentShare = 1e-15, 0.02, 50e3, 0.5
	c.Electrode.CapacityJK, c.Electrode.LossWK = 0.05, 0.01
	c.Probes = []thermal.Probe{{Name: "in", ZM: 0.5e-3}} // so that damage is integrated at each row
}

// Activations without a pause are one that is as long as all of them, to the bit: with steps that end where
// activations do (pulses that fill their period), drying, steam, sparks and metal that warms.
func TestNoPause(t *testing.T) {
	const times, each = 4, 0.5
	disc := with(draft(antrum(thermal.Disc, 1e-3, 10, each)), wetAndSparks)
	needle := with(draft(antrum(thermal.Needle, 0.25e-3, 6, each)), wetAndSparks)
	for name, one := range map[string]thermal.Case{"disc": disc, "needle": needle} {
		t.Run(name, func(t *testing.T) {
			long := one
			long.Drive.OnS = times * each
			long.Drive.Pulses = &drive.Pulses{LengthS: each, PeriodS: each, Between: one.Drive.Mode}
			want := simulate(t, long)
			repeated := one
			repeated.Repeat = thermal.Repeat{Times: times}
			same(t, "repeated", simulate(t, repeated), want)
			same(t, "in sequence", inSequence(t, one, one, one, one)[times-1], want)
			if want.Summary.SparkShare == 0 || want.Summary.DriedDepthM == 0 || !(want.Summary.SteamCondensed > 0) {
				t.Errorf("sparks %g, dried %g m, condensed %g: nothing to compare", want.Summary.SparkShare, want.Summary.DriedDepthM, want.Summary.SteamCondensed)
			}
		})
	}
}

// same holds fields to be those of another result, to the bit.
func same(t *testing.T, what string, r, want *thermal.Result) {
	t.Helper()
	for name, v := range map[string][2][]float64{
		"temperature": {r.Fields.TemperatureC, want.Fields.TemperatureC}, "water": {r.Fields.Water, want.Fields.Water},
		"dry mass": {r.Fields.Solid, want.Fields.Solid}, "omega": {r.Fields.Omega, want.Fields.Omega}, "potential": {r.Fields.PotentialV, want.Fields.PotentialV},
	} {
		worst, n := 0.0, 0
		for p := range v[1] {
			if v[0][p] != v[1][p] {
				worst, n = math.Max(worst, math.Abs(v[0][p]-v[1][p])), n+1
			}
		}
		if n > 0 {
			t.Errorf("%s: %s differs in %d of %d cells, by up to %g", what, name, n, len(v[1]), worst)
		}
	}
}
