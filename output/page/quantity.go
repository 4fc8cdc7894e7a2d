package page

import (
	"fmt"
	"math"

	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/thermal"
)

// judged is what the cases of a scene are judged by: the quantity, its value at the end and in time, and the bands behind it.
type judged struct {
	Quantity
	of    func(*thermal.Summary) float64
	then  func(thermal.Sample) float64
	bands func(c *thermal.Case, most float64) []Band
}

// byDepth is what scenes are judged by that have no quantity of their own.
var byDepth = judged{
	Quantity{Name: "injury depth", Unit: "mm", Digits: 2},
	func(s *thermal.Summary) float64 { return inMM(phrase.Finite(s.InjuryDepthM)) },
	func(s thermal.Sample) float64 { return 1e3 * s.DepthM },
	layersOf,
}

// own are the quantities of scenes that have one.
var own = map[thermal.Scene]judged{thermal.OnSkin: {
	Quantity{Name: "mean rise over 1 cm²", Unit: "K", Digits: 2, Rises: true, Most: 1.2 * phrase.RiseLimitK},
	func(s *thermal.Summary) float64 { return phrase.Finite(s.Pad.MeanRiseK) },
	func(s thermal.Sample) float64 { return s.MeanRiseK },
	func(_ *thermal.Case, most float64) []Band {
		return []Band{{"up to 6 K", 0, phrase.RiseLimitK, hex(chart.BandShades[0]), false}, {"above the 6 K of the standard", phrase.RiseLimitK, most, hex(chart.MuscleShade), false}}
	},
}}

func judgedBy(c *thermal.Case) judged {
	if q, ok := own[c.Scene()]; ok {
		return q
	}
	return byDepth
}

// isDepth reports whether a quantity is one: then the gauge has the scale of the section.
func (q Quantity) isDepth() bool { return q.Unit == byDepth.Unit }

// layersOf are the layers of the wall, and what lies beyond it.
func layersOf(c *thermal.Case, _ float64) (bands []Band) {
	edges := c.Edges()
	for i, l := range c.Layers {
		if !l.Above && !l.Liquid {
			bands = append(bands, layer(l, edges[i], edges[i+1], i))
		}
	}
	return bands
}

// layer is the i-th layer between two depths, m.
func layer(l thermal.Layer, top, bottom float64, i int) Band {
	return Band{clean(l.Name), rounded(1e3 * top), rounded(1e3 * bottom), hex(chart.LayerShade(i, l.Muscle, l.Beyond)), l.Beyond}
}

// shareWalls gives each case its wall, and tells equal ones once.
func (p *Page) shareWalls(told []*thermal.Result) {
	walls := map[string]int{}
	for n, r := range told {
		bands := judgedBy(r.Case).bands(r.Case, p.Quantity.Most)
		key := fmt.Sprint(bands)
		if _, there := walls[key]; !there {
			walls[key] = len(p.Walls)
			p.Walls = append(p.Walls, bands)
		}
		p.Cases[n].Wall = walls[key]
	}
}

// inMM returns millimetres, rounded as tables are.
func inMM(metres float64) float64 { return math.Round(metres*1e12) / 1e9 }

// rounded is a length in mm to a micrometre.
func rounded(v float64) float64 { return math.Round(v*1e3) / 1e3 }
