package experiments

import (
	"math"

	"muralheat/thermal"
)

// Quantity is what answers a measurement.
type Quantity struct {
	Unit   string
	Injury bool // it depends on the damage kinetics
	Read   func(*thermal.Result) float64
}

// Quantities lists what can be compared.
var Quantities = map[string]Quantity{
	"injury_diameter": {"mm", true, func(r *thermal.Result) float64 { return 2e3 * r.Summary.InjuryHalfWidthM }},
	"injury_depth":    {"mm", true, func(r *thermal.Result) float64 { return 1e3 * r.Summary.InjuryDepthM }},
	"injury_volume":   {"mm3", true, volumeMM3},
	"longitudinal_injured": {"1", true, func(r *thermal.Result) float64 { // a share of lesions: over the draws
		if r.Summary.MuscleInjuredShare > circularShare {
			return 1
		}
		return 0
	}},
	"beside_cut": {"um", true, func(r *thermal.Result) float64 {
		return 1e6 * (r.Summary.InjuryHalfWidthM - r.Summary.Cut.KerfWidthM/2)
	}},
	"skin_omega_log10": {"1", true, func(r *thermal.Result) float64 {
		return math.Log10(math.Max(r.Summary.Layers[0].OmegaMax, 1e-6))
	}},
	"outer_rise":       {"K", false, func(r *thermal.Result) float64 { return r.Summary.OuterSurfacePeakC - r.Case.Body.TemperatureC }},
	"pad_mean_rise":    {"K", false, func(r *thermal.Result) float64 { return r.Summary.Pad.MeanRiseK }},
	"pad_highest_rise": {"K", false, func(r *thermal.Result) float64 { return r.Summary.Pad.HighestRiseK }},
	"probe_end":        {"C", false, probeEndC},
}

// circularShare is the share of the muscularis of a colon that its inner, circular layer has (from memory).
const circularShare = 0.67

// probeEndC is the temperature of the first probe at the end of the run.
func probeEndC(r *thermal.Result) float64 { return r.History[len(r.History)-1].ProbeC[0] }

func volumeMM3(r *thermal.Result) float64 {
	sum := 0.0
	for _, l := range r.Summary.Layers {
		sum += l.InjuredM3
	}
	return 1e9 * sum
}

// kinetics is the set of the library that draws a line, the only place it is chosen: the half
// coagulation of liver for what is seen at once, and for what dies within a day the set that
// held.yaml bears out best.
var kinetics = map[Line]string{Seen: "liver-whitening", Dead: "skin-1947-joule"}
