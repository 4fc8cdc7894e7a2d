package phrase

import (
	"math"

	"muralheat/thermal"
)

// BesideCutM returns how far the injury reaches beside a cut, m: its half-width less half the kerf.
func BesideCutM(s thermal.Summary) float64 { return s.InjuryHalfWidthM - s.Cut.KerfWidthM/2 }

// BelowCutM returns how far the injury reaches below a cut, m.
func BelowCutM(s thermal.Summary) float64 { return s.InjuryDepthM - s.RemovedDepthM }

// MeanSpeedMS returns the speed of a needle, mean over the time the current was on.
func MeanSpeedMS(r *thermal.Result) float64 { return r.Summary.Cut.PathM / r.Case.Drive.OnS }

// PerRemoved returns joules per mm3 of removed tissue; NaN if there is none.
func PerRemoved(r *thermal.Result, perM3 float64) float64 {
	if r.Summary.Cut.RemovedM3 == 0 {
		return math.NaN()
	}
	return perM3 / 1e9
}
