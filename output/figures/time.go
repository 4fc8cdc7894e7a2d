package figures

import (
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/thermal"
)

// Heights of the panels of the time course.
const (
	timeGap    = 4 * chart.MM
	tempHeight = 44 * chart.MM
	rowHeight  = 24 * chart.MM // power, resistance
	deepHeight = 34 * chart.MM // injury depth, what a scene draws of its own
)

// course is a panel of a time course: what it takes of the page, and how it is drawn; the label is that of its axis.
type course struct {
	height vg.Length
	above  vg.Length // room for words above it
	draw   func(s *timePanels, label string)
}

// courses lists the panels of the time course: temperatures at the borders of the layers
// under the electrode, what the scene shows of its own, power with its sparks and resistance, and the injury growing
// downwards through the layers.
func courses(page chart.Page, res *thermal.Result) []course {
	own := sceneOf(res)
	list := []course{{tempHeight, tempAbove(page, res), (*timePanels).temperatures}}
	if own.course != nil {
		list = append(list, course{deepHeight, 0, func(s *timePanels, label string) {
			s.axis(own.course(res, s.endS, func(bottom, top float64) *chart.Panel { return s.next(deepHeight, bottom, top) }), label)
		}})
	}
	list = append(list, course{rowHeight, 0, (*timePanels).power}, course{rowHeight, 0, (*timePanels).resistance})
	if own.burns(res) { // else there is nothing to draw a depth of
		list = append(list, course{deepHeight, 0, (*timePanels).depth})
	}
	return list
}

// squeeze is how far panels may ask for more than a page of given height has, and be lower for it.
const squeeze = 1.2

// timeFigures draws the time course, on a page of given height on as many pages as it takes.
func timeFigures(page chart.Page, res *thermal.Result) (figs []chart.Figure) {
	verdict := []string{strings.TrimSpace(phrase.Verdict(res) + " " + phrase.CutVerdict(res))}
	head, foot := page.Head(res.Case.Title, verdict, phrase.Setting(res)), page.Foot(record.Marks(res))
	list := courses(page, res)
	if !page.Compact() {
		return []chart.Figure{timeFigure(page, "timecourse", res, head, foot, 1, list)}
	}
	head = page.Head(res.Case.Title, verdict)
	room := page.H - head.Height() - foot.Height() - chart.AxisHeight
	for len(list) > 0 {
		taken, n := timeGap, 0 // above the first
		for ; n < len(list) && (n == 0 || taken+list[n].height <= squeeze*room); n++ {
			taken += list[n].above + list[n].height + timeGap
		}
		panels := vg.Length(0)
		for _, k := range list[:n] {
			panels += k.height
		}
		stretch := float64((panels + room - taken + timeGap) / panels)
		figs = append(figs, timeFigure(page, pageName("timecourse", len(figs)), res, head, foot, stretch, list[:n]))
		list = list[n:]
	}
	return figs
}

// timeFigure draws some panels, each stretched in height.
func timeFigure(page chart.Page, name string, res *thermal.Result, head chart.Head, foot chart.Foot, stretch float64, list []course) chart.Figure {
	total := head.Height() + chart.AxisHeight + foot.Height()
	for _, k := range list {
		total += timeGap + k.above + k.height*vg.Length(stretch)
	}
	return chart.Figure{Name: page.File(name), W: page.W, H: max(total, page.H), Shown: page.Shown, Draw: func(c draw.Canvas) {
		head.Draw(c)
		s := newTimePanels(page, c, res, c.Max.Y-head.Height()-timeGap)
		s.stretch = vg.Length(stretch)
		for n, k := range list {
			label := ""
			if n == len(list)-1 {
				label = "time (s)"
			}
			s.y -= k.above
			k.draw(s, label)
		}
		foot.Draw(c)
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
