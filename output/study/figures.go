package study

import (
	"errors"
	"fmt"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/chart"
	"muralheat/output/compare"
	"muralheat/output/record"
)

// SweepFigures lists what is drawn of a sweep.
func SweepFigures(t *SweepTable) []chart.Figure {
	if !t.Has(t.Outcome().Column) {
		return nil
	}
	s := t.Shape()
	var figs []chart.Figure
	if t.Outcome().Column == record.DepthColumn {
		figs = append(figs, s.curvesFigure("depth", depthOf(t)))
	}
	for _, own := range ownQuantities {
		if q := own.of(); t.Has(q.column) {
			figs = append(figs, s.curvesFigure(own.figure, q))
		}
	}
	if t.Outcome().Column != record.DepthColumn {
		return append(figs, s.sensitivities()...)
	}
	if t.Has(record.MarginColumn) {
		margins := []quantity{marginOf()}
		if t.Has(shareColumn) {
			margins = append(margins, shareOf())
		}
		figs = append(figs, s.curvesFigure("margin", margins...))
		if t.Draws > 1 {
			figs = append(figs, s.riskFigure())
			if f, ok := s.pairFigure(); ok {
				figs = append(figs, f)
			}
		}
	}
	if f, ok := s.mapFigure(); ok {
		figs = append(figs, f)
	}
	if f, ok := s.uncertaintyFigure(); ok {
		figs = append(figs, f)
	}
	if t.Has(speedColumn) && t.Has(besideColumn) {
		figs = append(figs, s.cutFigure())
	}
	return append(figs, s.sensitivities()...)
}

// SweepShape is a sweep as its figures see it.
type SweepShape struct {
	*SweepTable
	Factors []*factor
	Design  design
	Base    []int // level of each factor at the first point, -1 if that has no result
}

// sheet is a page with a head, a body and notes above the caution.
func (t *SweepTable) sheet(name string, says []string, notes []string, bodyHeight vg.Length, body func(c draw.Canvas, top vg.Length)) chart.Figure {
	head := chart.NewHead(t.Title, says)
	var foot []string
	for _, n := range append(notes, t.LeftOut()...) {
		foot = append(foot, chart.Broken(chart.TextStyle(chart.NoteSize, chart.Soft, text.XLeft, text.YTop), chart.HeadWidth, n)...)
	}
	const line = 3.6 * chart.MM
	footHeight := 7*chart.MM + line*vg.Length(len(foot))
	total := head.Height() + bodyHeight + footHeight
	return chart.Figure{Name: name, W: chart.WallWidth, H: total, Draw: func(c draw.Canvas) {
		head.Draw(c)
		body(c, c.Max.Y-head.Height())
		for n, l := range foot {
			c.FillText(chart.TextStyle(chart.NoteSize, chart.Soft, text.XLeft, text.YTop), vg.Point{X: c.Min.X + 4*chart.MM, Y: c.Min.Y + footHeight - 1*chart.MM - line*vg.Length(n)}, l)
		}
		chart.Caption(c)
	}}
}

// ErrNothing is that no case has a result that figures show.
var ErrNothing = errors.New("nothing to draw")

// Pictures draws the figures of the sweep in dir from its table, in every format. Which ones there are follows from what varies and
// from the columns. It is an error if no case is fit to be shown.
func Pictures(dir string) ([]chart.Picture, error) {
	t, err := ReadSweep(dir)
	if err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	kept, err := t.keptCases(dir)
	if err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	pictures, err := chart.Stored(dir, func() []chart.Figure {
		figs := SweepFigures(t)
		if len(kept) > 0 {
			figs = append(figs, compare.Figure(chart.ForDocument, t.Title, kept))
		}
		return figs
	})
	if err == nil && len(pictures) == 0 {
		return nil, fmt.Errorf("output: %w: %s", ErrNothing, strings.Join(append(t.LeftOut(), "There is no depth of injury in the table."), " "))
	}
	return pictures, err
}
