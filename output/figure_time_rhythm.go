package output

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/thermal"
)

// rhythm is how the pulses of a source are shown.
type rhythm struct {
	bands  []band  // time with current
	power  []point // s, W
	line   draw.LineStyle
	legend string // of the bands
	note   string // of the power, "" if it is just that
}

// band is a span of time with its shade.
type band struct {
	from, to float64
	shade    color.NRGBA
}

var (
	currentShade = color.NRGBA{0xf1, 0xee, 0xe8, 0xff}
	pulseShade   = color.NRGBA{0xd9, 0xd3, 0xc8, 0xff}
)

// Up to mostSwitches the time course has a row on either side of every switch; package
// thermal takes the same number. With more its rows catch pulses by chance.
const mostSwitches = 200

func newRhythm(res *thermal.Result) rhythm {
	d := res.Case.Drive
	power := trace(res.History, func(s thermal.Sample) float64 { return s.PowerW })
	r := rhythm{[]band{{0, d.OnS, currentShade}}, power, lineStyles[0], "shaded: current on", ""}
	p := d.Pulses
	switch {
	case p == nil:
		return r
	case d.Edges() > mostSwitches:
		r.power = meanPower(res)
		r.legend = "shaded: current on, in pulses too close to show; temperatures vary within a pulse"
		r.note = "mean over pulse and pause"
		return r
	case runs(p.Between):
		r.legend = "shaded: current on; darker: pulses"
	default:
		r.bands, r.legend = nil, "shaded: current on, in pulses"
	}
	for n := range int(math.Ceil(d.OnS/p.PeriodS - 1e-9)) {
		from := float64(n) * p.PeriodS
		r.bands = append(r.bands, band{from, math.Min(from+p.LengthS, d.OnS), pulseShade})
	}
	if d.Edges() > 20 {
		r.line.Width = 1
	}
	return r
}

// meanPower returns the power as the mean over pulse and pause, from the last row in
// either; if the rows met only one of them, the mean of the whole.
func meanPower(res *thermal.Result) []point {
	d, last := res.Case.Drive, [2]float64{math.NaN(), math.NaN()}
	share := d.PulseShare()
	var out []point
	for _, s := range res.History {
		if math.IsNaN(s.ResistanceOhm) && s.TimeS >= d.OnS {
			out = append(out, point{s.TimeS, 0})
			continue
		}
		// A row is taken at the end of a step: it tells of the time just before it.
		in, before := 1, s.TimeS-1e-6*d.Pulses.PeriodS
		if math.Mod(math.Max(before, 0), d.Pulses.PeriodS) < d.Pulses.LengthS {
			in = 0
		}
		last[in] = s.PowerW
		out = append(out, point{s.TimeS, share*last[0] + (1-share)*last[1]})
	}
	met := !math.IsNaN(last[0] + last[1])
	for n := range out {
		if q := &out[n]; !met && q.x <= d.OnS && (n+1 == len(out) || out[n+1].x > q.x || out[n+1].y != 0) {
			q.y = res.Summary.MeanPowerW
		}
	}
	return out
}

func (p *panel) shade(r rhythm) {
	for _, b := range r.bands {
		p.area(b.shade, point{b.from, p.bottom}, point{b.from, p.top}, point{b.to, p.top}, point{b.to, p.bottom})
	}
}

// sparks marks, along the top of the panel, when more than a hundredth of the current
// went in sparks.
func (p *panel) sparks(h []thermal.Sample) {
	const least, high = 0.01, 1.6 * mm
	y, any := p.Max.Y-high, false
	for n := 1; n < len(h); n++ {
		if h[n].SparkShare > least && h[n-1].SparkShare > least || h[n].SparkShare > least && h[n].TimeS > h[n-1].TimeS {
			a, b := p.px(h[n-1].TimeS), p.px(h[n].TimeS)
			p.FillPolygon(ink, []vg.Point{{X: a, Y: y}, {X: b, Y: y}, {X: b, Y: p.Max.Y}, {X: a, Y: p.Max.Y}})
			any = true
		}
	}
	if any {
		s := words(wordSize, ink, text.XLeft, text.YCenter)
		p.StrokeLine2(stroke(ink, 1.2), p.Max.X, y+high/2, p.Max.X+2.5*mm, y+high/2)
		p.FillText(s, vg.Point{X: p.Max.X + 3*mm, Y: y + high/2}, "sparks")
	}
}
