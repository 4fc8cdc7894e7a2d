package figures

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/mesh"
	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/thermal"
)

const (
	namesWidth = 36 * chart.MM // layer names at the right
	BarWidth   = 21 * chart.MM // colour bar with its numbers
	barBelow   = 13 * chart.MM // the same where it lies below
	leastCut   = 42 * chart.MM // height of a cut: as its content asks, within these
	onlyCut    = 76 * chart.MM
	pairedCut  = 50 * chart.MM
)

// walls draws the wall in cross-section: the hottest temperature each point
// reached, the injury line, dried, carbonised and removed tissue, the layers and
// the electrode, to scale. A moving electrode is shown along and across its track, on a page of given height on a page
// each. Notes stand at the foot.
func walls(page chart.Page, res *thermal.Result, notes []string) (figs []chart.Figure) {
	i, j := phrase.Deepest(res)
	cuts := []*Cut{NewCut(page, res, Across(res, i), i, j)}
	most := sceneOf(res).tallest
	if res.Mesh.Geometry == mesh.Track {
		most = pairedCut
		cuts = append([]*Cut{NewCut(page, res, along(res), i, j)}, cuts...)
		cuts[0].label, cuts[1].label = "along the track", "across the track"
		if !res.Case.Motion.Moving() {
			cuts[0].label, cuts[1].label = "in the plane y = 0", "at right angles to it"
		}
	}
	if !page.Compact() {
		return []chart.Figure{wallFigure(page, "wall", res, notes, cuts, most)}
	}
	for n, k := range cuts {
		k.alone = true
		figs = append(figs, wallFigure(page, pageName("wall", n), res, notes, []*Cut{k}, page.H))
	}
	return figs
}

// pageName is what the n-th page of a figure is called.
func pageName(name string, n int) string {
	if n == 0 {
		return name
	}
	return fmt.Sprintf("%s-%d", name, n+1)
}

// wallFigure draws cuts one below the other, no higher than most each.
func wallFigure(page chart.Page, name string, res *thermal.Result, notes []string, cuts []*Cut, most vg.Length) chart.Figure {
	verdict := []string{strings.TrimSpace(fmt.Sprintf("%s Hottest %.0f °C. %s", phrase.Verdict(res), res.Summary.PeakC, phrase.CutVerdict(res)))}
	head := page.Head(res.Case.Title, verdict, phrase.Setting(res))
	foot := page.Foot(record.Marks(res), notes...)
	width, right := page.W-page.Left()-namesWidth-BarWidth, BarWidth
	if page.Narrow() {
		width, right = page.W-page.Left()-4*chart.MM, 0
	}
	legend := LegendHeight(page, res, cuts) + foot.Height()
	if right == 0 {
		legend += barBelow
	}
	if page.Compact() {
		if most = page.H - head.Height() - legend - chart.AxisHeight; most < leastCut { // the setting is what can be left out
			head = page.Head(res.Case.Title, verdict)
			most = page.H - head.Height() - legend - chart.AxisHeight
		}
	}
	total := head.Height() + legend
	for _, k := range cuts {
		k.frame(width, most)
		if page.Compact() {
			k.fill(width, most)
		}
		total += k.height + chart.AxisHeight
	}
	colours := NewGround(cuts)
	return chart.Figure{Name: page.File(name), W: page.W, H: max(total, page.H), Shown: page.Shown, Draw: func(c draw.Canvas) {
		head.Draw(c)
		y := c.Max.Y - head.Height()
		panels := make([]*chart.Panel, len(cuts))
		for n, k := range cuts {
			y -= k.height
			panels[n] = chart.NewPanel(page, c, page.Left(), y, width, k.height, k.X0, k.X1, k.Z1, -k.Head)
			y -= chart.AxisHeight
		}
		area := panels[0].Rectangle
		area.Min.Y = panels[len(panels)-1].Min.Y
		c.DrawImage(area, colours.Image(area, panels))
		for n, k := range cuts {
			k.draw(panels[n])
		}
		scale := cuts[0].Scale
		if right == 0 {
			colourBarBelow(chart.NewPanel(page, c, page.Left(), y-4*chart.MM, width-12*chart.MM, 3*chart.MM, scale.Low, scale.High, 0, 1), scale)
		} else {
			bar := chart.NewPanel(page, c, page.W-BarWidth+2*chart.MM, y+chart.AxisHeight, 3.5*chart.MM, c.Max.Y-head.Height()-y-chart.AxisHeight, 0, 1, scale.Low, scale.High)
			bar.Max.Y -= 4 * chart.MM // room for the arrow
			ColourBar(bar, scale)
		}
		Legend(page, c, page.Left(), foot.Height()+LegendHeight(page, res, cuts), res, cuts)
		foot.Draw(c)
	}}
}

// Cut is one vertical cut as drawn.
type Cut struct {
	*section
	page      chart.Page
	alone     bool // on its page, so that no other cut is shown below
	label     string
	symmetric bool
	bare      bool                      // without dimensions
	there     bool                      // across a track: the electrode stands here at the end
	deepX     float64                   // of the deepest injury, mm
	half      float64                   // half of the injury's width about deepX, mm
	X0, X1    float64                   // what must be seen across, mm
	Z1        float64                   // and in depth
	Head      float64                   // and above the surface
	near      struct{ half, z float64 } // the same without what is only warm
	height    vg.Length

	Shown                    *chart.Plane // by colour
	Scale                    Scale
	LnOmega, dry, char, gone *chart.Plane
	seen                     *chart.Plane // ln Omega of what is coagulated at once; nil: not computed
}

// Scale says what the colours of a cut mean.
type Scale struct {
	Name            string
	Low, High, Most float64 // its ends, and the most that occurs
}

// NewCut returns the section s of a result, through the column i, j where the injury is deepest.
func NewCut(page chart.Page, res *thermal.Result, s *section, i, j int) *Cut {
	k := &Cut{section: s, page: page, LnOmega: s.injury(), seen: s.atOnce(), dry: s.dried(), char: s.carbon(), gone: s.removed()}
	var warm float64
	k.Shown, k.Scale, warm = sceneOf(res).colours(k)
	k.symmetric = s.x[0] < 0 && s.x[0] == -s.x[len(s.x)-1]
	if !k.symmetric {
		k.deepX = 1e3 * res.Mesh.X.Centres[i]
	} else if res.Mesh.Geometry == mesh.Axisymmetric {
		k.deepX = 1e3 * res.Mesh.X.Centres[i]
	} else {
		k.deepX = 1e3 * res.Mesh.Y.Centres[j]
	}
	k.there = math.Abs(1e3*res.Mesh.X.Centres[i]-endMM(res)) < 1e3*res.Case.Electrode.ContactRadiusM
	// What is seen: electrode, injury, everything that is warm, and the whole wall.
	e := res.Case.Electrode
	metalHalf := k.metalHalfMM()
	k.X0, k.X1 = -metalHalf, metalHalf
	if !k.symmetric {
		k.X1 += 1e3 * res.Case.Motion.LengthM
	}
	k.Z1 = 1e3 * math.Max(res.Case.WallM()*1.12, math.Max(phrase.Finite(res.Summary.InjuryDepthM), e.InsertionM)*1.15)
	k.near.half, k.near.z = math.Max(-k.X0, k.X1), k.Z1
	in0, in1 := math.Inf(1), math.Inf(-1)
	for n := range s.cell {
		x, z := s.x[n%len(s.x)], s.z[n/len(s.x)]
		if k.LnOmega.V[n] >= 0 && z >= 0 {
			in0, in1 = math.Min(in0, x), math.Max(in1, x)
		}
		if s.empty(n) {
			continue
		}
		if k.Shown.V[n] > warm && !math.IsInf(k.Shown.V[n], 1) {
			k.X0, k.X1, k.Z1 = math.Min(k.X0, x), math.Max(k.X1, x), math.Max(k.Z1, z*1.05)
		}
	}
	if in1 >= in0 {
		k.half = (in1 - in0) / 2
		k.near.half = math.Max(k.near.half, 1.2*math.Max(-in0, in1))
	}
	pad := 0.06 * (k.X1 - k.X0)
	k.X0, k.X1 = k.X0-pad, k.X1+pad
	if head := sceneOf(res).headMM; head != nil {
		k.Head = head(k)
	}
	k.Head = math.Min(math.Max(k.Head, 0.16*k.Z1), k.Z1) // of a large electrode the end is enough
	if look := sceneOf(res).look; look != nil {
		look(k)
		k.near.half, k.near.z = math.Max(-k.X0, k.X1), k.Z1
	}
	return k
}

// InjuryOnly leaves out the line of what is coagulated at once.
func (k *Cut) InjuryOnly() { k.seen = nil }

// Near leaves out what is only warm: seen are the electrode, the injury and the whole wall.
func (k *Cut) Near() {
	k.X0, k.X1, k.Z1 = -k.near.half, k.near.half, k.near.z
}

// frame chooses what is seen: all that must be, room for the dimensions beside the
// injury and for words above the surface, and one millimetre of tissue equally
// long in both directions.
func (k *Cut) frame(width, most vg.Length) {
	beside := 26 * chart.MM // an arrow and its words
	if k.page.Narrow() {
		beside = 21 * chart.MM
	}
	if k.bare {
		beside = 0
	}
	above := sceneOf(k.res).above
	if room := width/2 - beside; k.symmetric {
		k.X1 = math.Max(k.X1, k.half*float64(width/2/room))
		k.X0 = -k.X1
	}
	mid := (k.X0 + k.X1) / 2
	for range 3 { // the room above depends on the scale and the scale on the room
		k.Head = math.Max(k.Head, float64(above/width)*(k.X1-k.X0))
		k.height = width * vg.Length((k.Head+k.Z1)/(k.X1-k.X0))
		if k.height > most { // too tall: look at more to the sides
			wide := (k.Head + k.Z1) * float64(width/most)
			k.X0, k.X1, k.height = mid-wide/2, mid+wide/2, most
		}
	}
	k.height = max(k.height, min(leastCut, most))
	k.Z1 = float64(k.height/width)*(k.X1-k.X0) - k.Head
}

// fill looks deeper, or more to the sides, where a page of given height has room left.
func (k *Cut) fill(width, height vg.Length) {
	k.Z1 += float64((height-k.height)/width) * (k.X1 - k.X0)
	k.height = height
}

// atOnceLine is the line of what is coagulated at once.
var atOnceLine = chart.Stroke(chart.Ink, 1.3, 5, 3)

// draw draws the cut on its colours.
func (k *Cut) draw(p *chart.Panel) {
	k.layers(p)
	k.marks(p)
	k.axes(p)
}

// marks draws what lies on the colours but for the layers.
func (k *Cut) marks(p *chart.Panel) {
	k.Hatch(p)
	for _, s := range []draw.LineStyle{chart.Stroke(chart.Paper, 4.2), chart.Stroke(chart.Ink, 2.2)} {
		for _, l := range k.LnOmega.Isoline(0) {
			k.InTissue(p, s, l)
		}
	}
	if k.seen != nil {
		for _, s := range []draw.LineStyle{chart.Stroke(chart.Paper, 3), atOnceLine} {
			for _, l := range k.seen.Isoline(0) {
				k.InTissue(p, s, l)
			}
		}
	}
	k.Border(p, chart.Stroke(chart.Ink, 1.2), 0)
	sceneOf(k.res).electrode(k, p)
	k.dimensions(p)
	if k.label != "" {
		s := chart.TextStyle(p.Page.Word, chart.Ink, text.XLeft, text.YTop)
		p.FillText(s, vg.Point{X: p.Min.X + 1.5*chart.MM, Y: p.Max.Y - 1.2*chart.MM}, k.label)
	}
	p.Frame()
}

func (k *Cut) axes(p *chart.Panel) {
	sceneOf(k.res).depths(k, p)
	number := phrase.TickText
	if k.symmetric {
		number = phrase.DistanceText
	}
	p.AxisX(k.axis(), chart.Roomy(p, chart.Ticks(k.X0, k.X1, 9), number), number)
}

// axis names the horizontal axis.
func (k *Cut) axis() string {
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

// Sketch draws the electrode without words.
func (k *Cut) Sketch(p *chart.Panel) { sceneOf(k.res).sketch(k, p) }

// void reports whether there never was tissue at (x,z), mm.
func (k *Cut) void(x, z float64) bool {
	return k.res.Case.Empty(math.Abs(x)/1e3, z/1e3)
}

// InTissue draws a line where there is tissue, and no liquid.
func (k *Cut) InTissue(p *chart.Panel, s draw.LineStyle, line []chart.Point) {
	for _, run := range k.inTissue(line) {
		p.Line(s, run...)
	}
}

// inTissue returns the parts of a line where there is tissue, and no liquid.
func (k *Cut) inTissue(line []chart.Point) (runs [][]chart.Point) {
	liquid := k.res.Case.Layers[0].Liquid
	var run []chart.Point
	for _, q := range line {
		if k.void(q.X, q.Y) || liquid && q.Y < 0 {
			runs = append(runs, run)
			run = nil
			continue
		}
		run = append(run, q)
	}
	return append(runs, run)
}
