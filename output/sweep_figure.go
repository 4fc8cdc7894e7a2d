package output

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// SweepFigures draws the figures of the sweep in dir from its table, in every format, and
// returns the names of their files. Which ones there are follows from what varies and
// from the columns. It is an error if no case is fit to be shown.
func SweepFigures(dir string) ([]string, error) {
	t, err := readSweep(dir)
	if err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	kept, err := keptCases(dir)
	if err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	for n := range kept {
		kept[n].name = t.nameKept(kept[n].name)
	}
	files, err := stored(dir, func() []figure {
		figs := sweepFigures(t)
		if len(kept) > 0 {
			figs = append(figs, sectionsFigure(t.Title, kept))
		}
		return figs
	})
	if err != nil {
		return nil, err
	}
	if len(files) == 0 {
		return nil, errors.New("output: nothing to draw: " + strings.Join(append(t.leftOut(), "There is no depth of injury in the table."), " "))
	}
	var names []string
	for _, f := range files {
		if err := Replace(filepath.Join(dir, f.name), f.data); err != nil {
			return nil, fmt.Errorf("output: %w", err)
		}
		names = append(names, f.name)
	}
	return names, nil
}

// sweepFigures lists what is drawn of a sweep.
func sweepFigures(t *sweepTable) []figure {
	if !t.has(t.outcome().column) {
		return nil
	}
	factors := t.factors()
	design, base := t.designOf(factors)
	s := &sweepShape{t, factors, design, base}
	if t.has(riseColumn) {
		return append([]figure{s.curvesFigure("rise", riseOf())}, s.sensitivities()...)
	}
	figs := []figure{s.curvesFigure("depth", depthOf(t))}
	if t.has(cutColumn) {
		figs = append(figs, s.curvesFigure("cut-time", cutTimeOf()))
	}
	if t.has(marginColumn) {
		margins := []quantity{marginOf()}
		if t.has(shareColumn) {
			margins = append(margins, shareOf())
		}
		figs = append(figs, s.curvesFigure("margin", margins...))
		if t.Draws > 1 {
			figs = append(figs, s.curvesFigure("risk", riskOf()))
		}
	}
	if f, ok := s.mapFigure(); ok {
		figs = append(figs, f)
	}
	if t.has(speedColumn) && t.has(besideColumn) {
		figs = append(figs, s.cutFigure())
	}
	return append(figs, s.sensitivities()...)
}

// sweepShape is a sweep as its figures see it.
type sweepShape struct {
	*sweepTable
	factors []*factor
	design  design
	base    []int // level of each factor
}

// sheet is a page with a head, a body and notes above the caution.
func (t *sweepTable) sheet(name string, says []string, notes []string, bodyHeight vg.Length, body func(c draw.Canvas, top vg.Length)) figure {
	head := newHead(t.Title, says)
	var foot []string
	for _, n := range append(notes, t.leftOut()...) {
		foot = append(foot, broken(words(noteSize, soft, text.XLeft, text.YTop), headWidth, n)...)
	}
	const line = 3.6 * mm
	footHeight := 7*mm + line*vg.Length(len(foot))
	total := head.height() + bodyHeight + footHeight
	return figure{name, wallWidth, total, func(c draw.Canvas) {
		head.draw(c)
		body(c, c.Max.Y-head.height())
		for n, l := range foot {
			c.FillText(words(noteSize, soft, text.XLeft, text.YTop), vg.Point{X: c.Min.X + 4*mm, Y: c.Min.Y + footHeight - 1*mm - line*vg.Length(n)}, l)
		}
		caption(c)
	}}
}
