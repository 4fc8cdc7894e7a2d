// Package brackets puts published experiments beside the model: what was measured, what
// the model says of the nearest scenario, and how much of the energy set in the
// experiment it takes up. It is a report, never a target: nothing in the model is tuned
// to it, and a bracket that is missed is reported as missed.
package brackets

import (
	"context"
	"embed"
	"fmt"
	"math"

	"muralheat/scenarios"
	"muralheat/thermal"
)

//go:embed published/*.yaml
var published embed.FS

// Bracket is one published number with its spread, and ours.
type Bracket struct {
	ID        string
	Measured  string // what, in which setting
	Source    string // paper, year, model, n
	Low, High float64
	Unit      string
	Why       string // why the model may miss it

	SetJ   float64 // energy set in the experiment; NaN: the source does not say
	Ours   float64
	Share  float64         // absorbed: energy delivered in the model over SetJ
	Inside bool            // Ours is from Low to High
	Result *thermal.Result // the run behind Ours

	read func(*thermal.Result) float64
}

// experiment is one run of ours and what was measured there. The power of its file stands
// for fileW set in the experiment and goes with setW.
type experiment struct {
	file             string
	over             string  // file, run before, whose number ours is divided by; empty: ours is read as it is
	fileW, setW, onS float64 // 0: the source does not say, the file is run as it is
	brackets         []Bracket
}

// Run computes every experiment. It fails when a run does or ctx ends.
func Run(ctx context.Context) ([]Bracket, error) {
	var all []Bracket
	ran := map[string]*thermal.Result{} // by file
	for _, e := range experiments() {
		r, err := e.run(ctx)
		if err != nil {
			return nil, fmt.Errorf("brackets: %s: %w", e.file, err)
		}
		ran[e.file] = r
		over, ok := ran[e.over]
		if e.over != "" && !ok {
			return nil, fmt.Errorf("brackets: %s is to be divided by %s, which has not run", e.file, e.over)
		}
		setJ := math.NaN()
		if e.setW > 0 {
			setJ = e.setW * e.onS
		}
		for _, b := range e.brackets {
			b.SetJ, b.Share, b.Result = setJ, r.Balance.ElectricJ/setJ, r
			b.Ours = b.read(r)
			if ok {
				b.Ours /= b.read(over)
			}
			b.Inside = b.Low <= b.Ours && b.Ours <= b.High
			all = append(all, b)
		}
	}
	return all, nil
}

func (e experiment) run(ctx context.Context) (*thermal.Result, error) {
	text, err := published.ReadFile("published/" + e.file)
	if err != nil {
		return nil, err
	}
	s, err := scenarios.Parse(e.file, text)
	if err != nil {
		return nil, err
	}
	c := s.Case()
	if e.setW > 0 {
		c.Drive.PowerW *= e.setW / e.fileW
		c.Drive.OnS = e.onS
	}
	return thermal.Simulate(ctx, &c, thermal.Options{})
}

// What answers the measurements.

func diameterMM(r *thermal.Result) float64 { return 2e3 * r.Summary.InjuryHalfWidthM }

func depthMM(r *thermal.Result) float64 { return 1e3 * r.Summary.InjuryDepthM }

func musclePercent(r *thermal.Result) float64 { return 100 * r.Summary.MuscleInjuredShare }

func serosaK(r *thermal.Result) float64 {
	return r.Summary.OuterSurfacePeakC - r.Case.Body.TemperatureC
}

func meanRiseK(r *thermal.Result) float64 { return r.Summary.Pad.MeanRiseK }

func skinOmega(r *thermal.Result) float64 { return r.Summary.Layers[0].OmegaMax }

func besideCutUM(r *thermal.Result) float64 {
	return 1e6 * (r.Summary.InjuryHalfWidthM - r.Summary.Cut.KerfWidthM/2)
}
