package output

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/mesh"
	"muralheat/thermal"
)

const (
	wallWidth  = 170 * mm
	marginLeft = 17 * mm
	namesWidth = 36 * mm // layer names at the right
	barWidth   = 21 * mm // colour bar with its numbers
	axisHeight = 12.5 * mm
	footHeight = 13 * mm // legend and caption
	leastCut   = 42 * mm // height of a cut: as its content asks, within these
	onlyCut    = 76 * mm
	pairedCut  = 50 * mm
	stalkCut   = 112 * mm
)

// wallFigure draws the wall in cross-section: the hottest temperature each point
// reached, the injury line, dried, carbonised and removed tissue, the layers and
// the electrode, to scale. A moving electrode is shown along and across its track.
func wallFigure(res *thermal.Result) figure {
	i, j := deepest(res)
	cuts := []*cut{newCut(res, across(res, i), i, j)}
	most := onlyCut
	if res.Case.Electrode.Tip == thermal.Loop {
		most = stalkCut
	}
	if res.Mesh.Geometry == mesh.Track {
		most = pairedCut
		cuts = append([]*cut{newCut(res, along(res), i, j)}, cuts...)
		cuts[0].label, cuts[1].label = "along the track", "across the track"
		if !res.Case.Motion.Moving() {
			cuts[0].label, cuts[1].label = "in the plane y = 0", "at right angles to it"
		}
	}
	width := wallWidth - marginLeft - namesWidth - barWidth
	head := newHead(res.Case.Title,
		[]string{strings.TrimSpace(fmt.Sprintf("%s Hottest %.0f °C. %s", verdict(res), res.Summary.PeakC, cutVerdict(res)))}, setting(res))
	total := head.height() + footHeight
	for _, k := range cuts {
		k.frame(width, most)
		total += k.height + axisHeight
	}
	var colours image.Image // the same in every format, so computed once
	return figure{"wall", wallWidth, total, func(c draw.Canvas) {
		head.draw(c)
		y := c.Max.Y - head.height()
		panels := make([]*panel, len(cuts))
		for n, k := range cuts {
			y -= k.height
			panels[n] = newPanel(c, marginLeft, y, width, k.height, k.x0, k.x1, k.z1, -k.head)
			y -= axisHeight
		}
		area := panels[0].Rectangle
		area.Min.Y = panels[len(panels)-1].Min.Y
		if colours == nil {
			colours = paint(area, cuts, panels)
		}
		c.DrawImage(area, colours)
		for n, k := range cuts {
			k.draw(panels[n])
		}
		scale := cuts[0].scale
		bar := newPanel(c, wallWidth-barWidth+2*mm, y+axisHeight, 3.5*mm, c.Max.Y-head.height()-y-axisHeight, 0, 1, scale.low, scale.high)
		bar.Max.Y -= 4 * mm // room for the arrow
		colourBar(bar, scale)
		legend(c, marginLeft, footHeight-4.6*mm, res, cuts)
		caption(c)
	}}
}

// cut is one vertical cut as drawn.
type cut struct {
	*section
	label     string
	symmetric bool
	there     bool    // across a track: the electrode stands here at the end
	deepX     float64 // of the deepest injury, mm
	half      float64 // half of the injury's width about deepX, mm
	x0, x1    float64 // what must be seen across, mm
	z1        float64 // and in depth
	head      float64 // and above the surface
	height    vg.Length

	shown                    *plane // by colour
	scale                    scale
	lnOmega, dry, char, gone *plane
}

// scale says what the colours of a cut mean.
type scale struct {
	name            string
	low, high, most float64 // its ends, and the most that occurs
}

func newCut(res *thermal.Result, s *section, i, j int) *cut {
	k := &cut{section: s, lnOmega: s.injury(), dry: s.dried(), char: s.carbon(), gone: s.removed()}
	warm := 45.0 // see below
	if res.Case.Electrode.Tip == thermal.Pad {
		k.shown, k.scale, warm = s.rise(), riseScale(res), 0.2*res.Summary.Pad.HighestRiseK
	} else {
		k.shown = s.peak()
		k.scale = scale{"peak temperature (°C)", res.Case.Body.TemperatureC, hottestShownC, res.Summary.PeakC}
	}
	k.symmetric = s.x[0] < 0 && s.x[0] == -s.x[len(s.x)-1]
	if !k.symmetric {
		k.deepX = 1e3 * res.Mesh.X.Centres[i]
	} else if res.Mesh.Geometry == mesh.Axisymmetric {
		k.deepX = 1e3 * res.Mesh.X.Centres[i]
	} else {
		k.deepX = 1e3 * res.Mesh.Y.Centres[j]
	}
	k.there = math.Abs(1e3*res.Mesh.X.Centres[i]-endMM(res)) < 1e3*res.Case.Electrode.ContactRadiusM
	// What is seen: electrode, injury and everything warmer than 45 C, below
	// which skin has borne six hours without injury (Henriques and Moritz 1947
	// give 44 C), and the whole wall.
	e := res.Case.Electrode
	metalHalf := 1e3 * math.Max(e.ContactRadiusM, e.TipRadiusM)
	k.x0, k.x1 = -metalHalf, metalHalf
	if !k.symmetric {
		k.x1 += 1e3 * res.Case.Motion.LengthM
	}
	k.z1 = 1e3 * math.Max(res.Case.WallM()*1.12, math.Max(finite(res.Summary.InjuryDepthM), e.InsertionM)*1.15)
	in0, in1 := math.Inf(1), math.Inf(-1)
	for n := range s.cell {
		x, z := s.x[n%len(s.x)], s.z[n/len(s.x)]
		if k.lnOmega.v[n] >= 0 && z >= 0 {
			in0, in1 = math.Min(in0, x), math.Max(in1, x)
		}
		if s.empty(n) {
			continue
		}
		if k.shown.v[n] > warm && !math.IsInf(k.shown.v[n], 1) {
			k.x0, k.x1, k.z1 = math.Min(k.x0, x), math.Max(k.x1, x), math.Max(k.z1, z*1.05)
		}
	}
	if in1 >= in0 {
		k.half = (in1 - in0) / 2
	}
	pad := 0.06 * (k.x1 - k.x0)
	k.x0, k.x1 = k.x0-pad, k.x1+pad
	switch e.Tip {
	case thermal.Ball:
		k.head = 1.25 * 1e3 * e.TipRadiusM
	case thermal.Disc:
		k.head = 0.8 * 1e3 * e.ContactRadiusM
	case thermal.Needle:
		k.head = 0.25 * k.z1
	}
	k.head = math.Min(math.Max(k.head, 0.16*k.z1), k.z1) // of a large electrode the end is enough
	if e.Tip == thermal.Loop {
		k.polyp()
	}
	return k
}

// frame chooses what is seen: all that must be, room for the dimensions beside the
// injury and for words above the surface, and one millimetre of tissue equally
// long in both directions.
func (k *cut) frame(width, most vg.Length) {
	const beside = 26 * mm // an arrow and its words
	above := 11 * mm
	if k.res.Case.Electrode.Tip == thermal.Pad {
		above = 14 * mm
	}
	if room := width/2 - beside; k.symmetric {
		k.x1 = math.Max(k.x1, k.half*float64(width/2/room))
		k.x0 = -k.x1
	}
	mid := (k.x0 + k.x1) / 2
	for range 3 { // the room above depends on the scale and the scale on the room
		k.head = math.Max(k.head, float64(above/width)*(k.x1-k.x0))
		k.height = width * vg.Length((k.head+k.z1)/(k.x1-k.x0))
		if k.height > most { // too tall: look at more to the sides
			wide := (k.head + k.z1) * float64(width/most)
			k.x0, k.x1, k.height = mid-wide/2, mid+wide/2, most
		}
	}
	k.height = max(k.height, leastCut)
	k.z1 = float64(k.height/width)*(k.x1-k.x0) - k.head
}

// draw draws the cut on its colours.
func (k *cut) draw(p *panel) {
	k.layers(p)
	k.hatch(p)
	for _, s := range []draw.LineStyle{stroke(paper, 4.2), stroke(ink, 2.2)} {
		for _, l := range k.lnOmega.isoline(0) {
			k.inTissue(p, s, l)
		}
	}
	k.border(p, stroke(ink, 1.2), 0)
	switch k.res.Case.Electrode.Tip {
	case thermal.Pad:
		k.pad(p)
	case thermal.Loop:
		k.loop(p)
	default:
		k.electrode(p)
	}
	k.dimensions(p)
	if k.label != "" {
		s := words(wordSize, ink, text.XLeft, text.YTop)
		p.FillText(s, vg.Point{X: p.Min.X + 1.5*mm, Y: p.Max.Y - 1.2*mm}, k.label)
	}
	p.frame()
	if k.res.Case.Electrode.Tip == thermal.Loop {
		p.axisY("depth below the base of the stalk (mm)", within(ticks(-k.head, k.z1, 9), -k.head, k.z1))
	} else {
		p.axisY("depth (mm)", within(ticks(0, k.z1, 6), 0, k.z1))
	}
	number := tickText
	if k.symmetric {
		number = distanceText
	}
	p.axisX(k.axis(), ticks(k.x0, k.x1, 9), number)
}

// axis names the horizontal axis.
func (k *cut) axis() string {
	moving := k.res.Case.Motion.Moving()
	switch {
	case k.res.Mesh.Geometry == mesh.Axisymmetric:
		return "distance from the axis (mm)"
	case k.symmetric && moving:
		return "distance from the track (mm)"
	case k.symmetric:
		return "distance from the plane y = 0 (mm)"
	case moving:
		return "distance along the track (mm)"
	default:
		return "x (mm)"
	}
}

func within(v []float64, lo, hi float64) []float64 {
	var out []float64
	for _, x := range v {
		if lo <= x && x <= hi {
			out = append(out, x)
		}
	}
	return out
}

// paint fills the tissue of all cuts with the colour of the hottest temperature it
// reached; removed tissue is white. It is one image for all, because vgpdf puts
// several into a page in random order and equal figures would be unequal files.
func paint(area vg.Rectangle, cuts []*cut, panels []*panel) image.Image {
	const perInch = 200
	w, h := area.Max.X-area.Min.X, area.Max.Y-area.Min.Y
	nx, ny := int(w.Dots(perInch))+1, int(h.Dots(perInch))+1
	img := image.NewNRGBA(image.Rect(0, 0, nx, ny))
	for b := range ny {
		y := area.Max.Y - h*vg.Length(b)/vg.Length(ny) - h/vg.Length(2*ny)
		for a := range nx {
			x := area.Min.X + w*vg.Length(a)/vg.Length(nx) + w/vg.Length(2*nx)
			shade := paper
			for n, p := range panels {
				if p.Contains(vg.Point{X: x, Y: y}) {
					shade = cuts[n].colour(p.across(x), p.back(y))
				}
			}
			img.SetNRGBA(a, b, shade)
		}
	}
	return img
}

// colour returns the colour of the tissue at (x,z), white where there is none.
func (k *cut) colour(x, z float64) color.NRGBA {
	m := k.res.Mesh
	if z < 1e3*m.Z.Faces[0] || z > 1e3*m.Z.Faces[m.NZ] || x < k.x[0] || x > k.x[len(k.x)-1] || k.gone.at(x, z) > half || k.void(x, z) {
		return paper
	}
	v := k.shown.at(x, z)
	if math.IsNaN(v) {
		return paper
	}
	return warmth((v - k.scale.low) / (k.scale.high - k.scale.low))
}

// void reports whether there never was tissue at (x,z), mm.
func (k *cut) void(x, z float64) bool {
	return k.res.Case.Electrode.Tip == thermal.Loop && k.res.Case.Empty(math.Abs(x)/1e3, z/1e3)
}

// inTissue draws a line where there is tissue.
func (k *cut) inTissue(p *panel, s draw.LineStyle, line []point) {
	var run []point
	for _, q := range line {
		if k.void(q.x, q.y) {
			p.line(s, run...)
			run = nil
			continue
		}
		run = append(run, q)
	}
	p.line(s, run...)
}
