package figures

import (
	"gonum.org/v1/plot/vg"

	"muralheat/output/chart"
	"muralheat/thermal"
)

// scene is what the figures of one scene draw differently. Each has a file of its own, scene_*.go, where
// it enters itself into scenes.
type scene struct {
	own func(chart.Page, *thermal.Result) []chart.Figure // of this scene alone; nil: none

	// Of a cut through the wall.
	tallest   vg.Length                                       // of a single cut
	above     vg.Length                                       // room for words above the surface
	colours   func(*Cut) (p *chart.Plane, s Scale, w float64) // what is shown, and from where on it must be seen
	headMM    func(*Cut) float64                              // how much of what stands on the surface must be seen; nil: nothing
	look      func(*Cut)                                      // changes what is seen; nil: nothing
	electrode func(*Cut, *chart.Panel)                        // draws and names it
	sketch    func(*Cut, *chart.Panel)                        // draws it without words
	parts     func(*Cut, *Parts)                              // adds what this scene shows, for a drawing that is not made here
	depths    func(*Cut, *chart.Panel)                        // draws the axis of depth
	legend    func(*thermal.Result, func(label string, sample func(*chart.Panel)))

	// Of the time course.
	surface string                     // what the innermost border is called
	where   string                     // the temperatures are drawn
	warmC   float64                    // least top of the scale of temperatures
	burns   func(*thermal.Result) bool // whether there is a depth of injury to draw
	course  func(res *thermal.Result, endS float64, next func(bottom, top float64) *chart.Panel) *chart.Panel
}

var scenes = map[thermal.Scene]scene{}

func sceneOf(res *thermal.Result) scene { return scenes[res.Case.Scene()] }

// depthOnly is the axis of depth where nothing above the surface has one.
func depthOnly(k *Cut, p *chart.Panel) {
	p.AxisY("depth (mm)", chart.Within(chart.Ticks(0, k.Z1, 6), 0, k.Z1))
}

// peakColours shows the hottest temperature; everything warmer than 45 C must be seen, below which
// skin has borne six hours without injury (Henriques and Moritz 1947 give 44 C).
func peakColours(k *Cut) (*chart.Plane, Scale, float64) {
	c := k.res.Case
	return k.peak(), Scale{"peak temperature (°C)", c.Body.TemperatureC, chart.HottestShownC, k.res.Summary.PeakC}, 45
}

func always(*thermal.Result) bool { return true }
