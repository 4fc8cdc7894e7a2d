package measured

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"muralheat/output/chart"
	"muralheat/scenarios/experiments"
)

func made(id, regime, unit string, measured, ours, residual float64) experiments.Result {
	r := experiments.RowResult{Unit: unit, Ours: ours, InputSD: ours / 5, Residual: residual}
	r.Mean, r.SD = measured, measured/10
	return experiments.Result{Experiment: experiments.Experiment{ID: id, Regime: []string{regime}}, Rows: []experiments.RowResult{r}}
}

// Each experiment is a mark, those that miss are named, those without a place on an axis are told below, and the head
// counts them.
func TestFigure(t *testing.T) {
	all := []experiments.Result{
		made("far", "contact", "mm", 4, 1, -5), made("near", "cut", "um", 300, 330, 0.3),
		made("warm", "pad", "K", 5, 6, 0.5), made("share", "contact", "%", 80, 40, -3),
	}
	svg, err := chart.Svg(Figures(all, "")[0])
	if err != nil {
		t.Fatal(err)
	}
	text := string(svg)
	for _, want := range []string{"A point an experiment, 3 of 4, 2 of them within", ">far<", ">contact<", ">cut<", ">pad<", "nought: share.", "ours width (mm)", "ours rise (K)"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q", want)
		}
	}
	for _, not := range []string{">near<", ">loop<", ">needle<"} {
		if strings.Contains(text, not) {
			t.Errorf("%q is there", not)
		}
	}
	// Of one kind: the others are faint, and not counted.
	svg, err = chart.Svg(Figures(all, "contact")[0])
	if text := string(svg); err != nil || !strings.Contains(text, "A point an experiment, 1 of 2") || strings.Contains(text, ">cut<") || strings.Contains(text, "rise (K)") {
		t.Errorf("of contacts alone: %v", err)
	}
	if Figures(all, "loop") != nil {
		t.Error("a figure of nothing")
	}
	// What changes in the score changes the picture.
	all[1] = made("near", "cut", "um", 300, 400, 0.3)
	if other, err := chart.Svg(Figures(all, "")[0]); err != nil || string(other) == text {
		t.Errorf("the same picture of other values, %v", err)
	}
}

// TestLook writes the figure of the stored score for the eye.
func TestLook(t *testing.T) {
	dir := os.Getenv("MURALHEAT_LOOK")
	if dir == "" {
		t.Skip("MURALHEAT_LOOK names no folder")
	}
	all, err := experiments.Stored()
	if err != nil {
		t.Fatal(err)
	}
	pictures, err := chart.Rendered(append(Figures(all, ""), Figures(all, "contact")...))
	if err != nil {
		t.Fatal(err)
	}
	for n, p := range pictures {
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprint(n)+p.Name), p.Data, 0o666); err != nil {
			t.Fatal(err)
		}
	}
}
