package figures

import (
	"slices"
	"strings"

	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/thermal"
)

// Heights of the panels of the time course.
const (
	timeGap    = 4 * chart.MM
	tempHeight = 44 * chart.MM
	rowHeight  = 24 * chart.MM // power, resistance
	deepHeight = 34 * chart.MM // injury depth, what a scene draws of its own
)

// timeFigure draws the time course: temperatures at the borders of the layers
// under the electrode, power with its sparks and resistance, and the injury growing
// downwards through the layers.
func timeFigure(res *thermal.Result) chart.Figure {
	head := chart.NewHead(res.Case.Title, []string{strings.TrimSpace(phrase.Verdict(res) + " " + phrase.CutVerdict(res))}, phrase.Setting(res))
	total := head.Height() + 4*chart.MM + tempHeight + 2*rowHeight + 2*timeGap + chart.AxisHeight + 7*chart.MM
	own := sceneOf(res)
	burns := own.burns(res)
	if own.course != nil {
		total += deepHeight + timeGap
	}
	if burns {
		total += deepHeight + timeGap
	}
	return chart.Figure{Name: "timecourse", W: chart.WallWidth, H: total, Draw: func(c draw.Canvas) {
		head.Draw(c)
		s := newTimePanels(c, res, c.Max.Y-head.Height()-4*chart.MM)
		s.temperatures(own)
		if own.course != nil {
			p := own.course(res, s.endS, func(bottom, top float64) *chart.Panel { return s.next(deepHeight, bottom, top) })
			s.axis(p, "")
		}
		s.power()
		if burns {
			s.resistance("")
			s.depth("time (s)")
		} else { // there is nothing to draw a depth of
			s.resistance("time (s)")
		}
		chart.Caption(c)
	}}
}

// shownBorders returns which borders the time course shows, from the surface down:
// all, or if there are more than lines can be told apart, the surface, the outer
// surface and those on top of the thickest layers between.
func shownBorders(c *thermal.Case) []int {
	shown := make([]int, len(c.Borders()))
	for n := range shown {
		shown[n] = n
	}
	for len(shown) > len(chart.LineStyles) {
		thinnest := 1
		for i := range shown[1 : len(shown)-1] {
			if wall := c.Layers[above(c):]; wall[shown[i+1]].ThicknessM < wall[shown[thinnest]].ThicknessM {
				thinnest = i + 1
			}
		}
		shown = slices.Delete(shown, thinnest, thinnest+1)
	}
	return shown
}

// borderName names border n for a reader; columns have the name with a hyphen, which
// layers may have in theirs.
func borderName(c *thermal.Case, n int) string {
	switch borders := c.Borders(); {
	case n == 0:
		return scenes[c.Scene()].surface
	case n == len(borders)-1 && borders[n].Name == "outer-surface":
		return "outer surface"
	}
	below := n + above(c)
	return c.Layers[below-1].Name + " / " + c.Layers[below].Name
}

// above returns how many layers rise from the wall.
func above(c *thermal.Case) int {
	n := 0
	for n < len(c.Layers) && c.Layers[n].Above {
		n++
	}
	return n
}
