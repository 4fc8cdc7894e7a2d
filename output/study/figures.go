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

// SweepFigures lists what is drawn of a sweep on a page.
func SweepFigures(page chart.Page, t *SweepTable) []chart.Figure {
	if !t.Has(t.Outcome().Column) {
		return nil
	}
	s := t.Shape()
	s.page = page
	var figs []chart.Figure
	if t.Outcome().Column == record.DepthColumn {
		figs = append(figs, s.curvesFigures("depth", depthOf(t))...)
	}
	for _, own := range ownQuantities {
		if q := own.of(); t.Has(q.column) {
			figs = append(figs, s.curvesFigures(own.figure, q)...)
		}
	}
	if t.Outcome().Column != record.DepthColumn {
		return append(figs, s.sensitivities()...)
	}
	if t.Has(record.MarginColumn) {
		margins := []quantity{marginOf()}
		if t.Draws > 1 {
			if never := s.neverReached(riskOf()); never != "" {
				margins[0].note = "The injury reaches the muscle " + never + "."
			}
		}
		if t.Has(shareColumn) {
			margins = append(margins, shareOf())
		}
		figs = append(figs, s.curvesFigures("margin", margins...)...)
		if t.Draws > 1 {
			figs = append(figs, s.riskFigures()...)
			figs = append(figs, s.pairFigures()...)
		}
	}
	figs = append(figs, s.mapFigures()...)
	figs = append(figs, s.uncertaintyFigures()...)
	if t.Has(speedColumn) && t.Has(besideColumn) {
		figs = append(figs, s.cutFigures()...)
	}
	return append(figs, s.sensitivities()...)
}

// SweepShape is a sweep as its figures see it.
type SweepShape struct {
	*SweepTable
	Factors []*factor
	Design  design
	Base    []int // level of each factor at the first point, -1 if that has no result
	page    chart.Page
}

// body is what stands between head and foot of a page.
type body struct {
	height func(room vg.Length) vg.Length // what it takes; room is that of a page of given height, else 0
	draw   func(c draw.Canvas, top vg.Length)
}

// leastBody is the height of a body on a page of given height, for which notes go to a page of their own.
const leastBody = 52 * chart.MM

// sheets are pages with a head, a body each, and notes above the caution. On pages of given height notes that leave
// too little room have one of their own, the last.
func (s *SweepShape) sheets(name string, says []string, notes []string, bodies ...body) (figs []chart.Figure) {
	head := s.page.Head(s.Title, says)
	notes = append(notes, s.LeftOut()...)
	foot := s.page.Foot(s.marks(), notes...)
	room := s.page.H - head.Height() - foot.Height()
	apart := s.page.Compact() && room < leastBody && len(notes) > 0
	if apart {
		foot = s.page.Foot(s.marks(), "Notes: on the last page of this figure.")
		room = s.page.H - head.Height() - foot.Height()
		bodies = append(bodies, s.notes(notes))
	}
	for n, b := range bodies {
		if apart && n == len(bodies)-1 {
			foot = s.page.Foot(s.marks())
			room = s.page.H - head.Height() - foot.Height()
		}
		called := name
		if n > 0 {
			called = fmt.Sprintf("%s-%d", name, n+1)
		}
		total := head.Height() + b.height(max(room, 0)) + foot.Height()
		f := foot
		figs = append(figs, chart.Figure{Name: s.page.File(called), W: s.page.W, H: max(total, s.page.H), Shown: s.page.Shown, Draw: func(c draw.Canvas) {
			head.Draw(c)
			b.draw(c, c.Max.Y-head.Height())
			f.Draw(c)
		}})
	}
	return figs
}

// notes is a body of notes alone.
func (s *SweepShape) notes(notes []string) body {
	style := chart.TextStyle(s.page.Word, chart.Ink, text.XLeft, text.YTop)
	var lines []string
	for _, n := range notes {
		lines = append(lines, chart.Wrapped(style, s.page.W-8*chart.MM, chart.Raised(n))...)
	}
	return body{func(vg.Length) vg.Length { return vg.Length(len(lines)) * s.page.WordLine() }, func(c draw.Canvas, top vg.Length) {
		for n, l := range lines {
			c.FillText(style, vg.Point{X: c.Min.X + 4*chart.MM, Y: top - vg.Length(n)*s.page.WordLine()}, l)
		}
	}}
}

// marks are those of the cases that are shown.
func (t *SweepTable) marks() string { return record.MarksOf(t.Marks) }

// ErrNothing is that no case has a result that figures show.
var ErrNothing = errors.New("nothing to draw")

// Pictures draws the figures of the sweep in dir from its table on a page, in every format. Which ones there are follows from what varies and
// from the columns. It is an error if no case is fit to be shown.
func Pictures(dir string, page chart.Page) ([]chart.Picture, error) {
	t, err := ReadSweep(dir)
	if err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	kept, err := t.keptCases(dir)
	if err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	pictures, err := chart.Stored(dir, func() []chart.Figure {
		figs := SweepFigures(page, t)
		if len(kept) > 0 {
			figs = append(figs, compare.Figures(page, t.Title, kept)...)
		}
		return figs
	})
	if err == nil && len(pictures) == 0 {
		return nil, fmt.Errorf("output: %w: %s", ErrNothing, strings.Join(append(t.LeftOut(), "There is no depth of injury in the table."), " "))
	}
	return pictures, err
}
