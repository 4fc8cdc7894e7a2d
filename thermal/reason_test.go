package thermal_test

import (
	"math"
	"testing"

	"muralheat/thermal/drive"

	"muralheat/thermal"
)

// What limits a source and when it first does, and when sparks first cross dried tissue, is read off the rows of
// history: the first of them in which the power is below what was set, or sparks carry current.
func TestLimitsAndSparksSayWhen(t *testing.T) {
	c := draft(antrum(thermal.Disc, 0.5e-3, 10, 0.8))
	c.Drive.Limits = drive.Limits{PeakVoltageV: 150}
	c.Physics.SparkOnsetV = 1000 // none
	r := simulate(t, c)
	s := r.Summary
	if len(s.Limited) != 1 || s.Limited[0].By != drive.PeakVoltage || s.Limited[0].Share != s.LimitedShare || !math.IsNaN(s.SparkFromS) {
		t.Fatalf("limited %+v for %g, sparks from %g s", s.Limited, s.LimitedShare, s.SparkFromS)
	}
	row := c.Drive.OnS / 200
	for _, h := range r.History {
		if h.PowerW > 0 && h.PowerW < 9.99 {
			if from := s.Limited[0].FromS; from > h.TimeS+1e-9 || from < h.TimeS-2*row {
				t.Errorf("limited from %g s, in the history from %g s", from, h.TimeS)
			}
			break
		}
	}
	r = simulate(t, with(draft(antrum(thermal.Disc, 0.5e-3, 10, 0.8)), interrupted))
	for _, h := range r.History {
		if h.SparkShare > 0.01 {
			if from := r.Summary.SparkFromS; from > h.TimeS+1e-9 || from < h.TimeS-2*row {
				t.Errorf("sparks from %g s, in the history from %g s", from, h.TimeS)
			}
			return
		}
	}
	t.Error("no sparks: the case tests nothing")
}

// An injury that outgrows the fine cells is marked; one within them is not.
func TestBeyondFineCells(t *testing.T) {
	c := draft(antrum(thermal.Disc, 0.5e-3, 2, 1))
	r := simulate(t, c)
	grid := c.Grid()
	if s := r.Summary; s.InjuryDepthM == 0 || s.InjuryDepthM > grid.Z.To || s.BeyondFine {
		t.Errorf("%g mm deep, fine cells to %g mm: beyond %v", s.InjuryDepthM*1e3, grid.Z.To*1e3, s.BeyondFine)
	}
	c = draft(antrum(thermal.Disc, 4e-3, 30, 80))
	r, grid = simulate(t, c), c.Grid()
	if s := r.Summary; s.InjuryDepthM <= grid.Z.To || !s.BeyondFine {
		t.Errorf("%g mm deep, fine cells to %g mm: beyond %v", s.InjuryDepthM*1e3, grid.Z.To*1e3, s.BeyondFine)
	}
}
