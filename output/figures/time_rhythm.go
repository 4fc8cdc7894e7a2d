package figures

import (
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/thermal"
	"muralheat/thermal/drive"
)

// rhythm is how the pulses of a source are shown.
type rhythm struct {
	bands []band // time with current
	line  draw.LineStyle
	power []chart.Point    // s, W
	rows  []thermal.Sample // for resistance and sparks

	crowded bool // pulses are too close to tell apart: means are shown

	powerNote, rowsNote string // what there is to say of them
}

// band is a span of time with its shade.
type band struct {
	from, to float64
	shade    color.NRGBA
}

var (
	currentShade = color.NRGBA{0xf1, 0xee, 0xe8, 0xff}
	pulseShade   = color.NRGBA{0xce, 0xc7, 0xba, 0xff}
)

const (
	// Pulses that follow each other closer on the page run into each other.
	leastPeriod = 1 * chart.MM
)

// newRhythm returns how the pulses of a case are shown on a time axis of perSecond.
func newRhythm(res *thermal.Result, perSecond vg.Length) rhythm {
	d := res.Case.Drive
	starts := res.Case.StartsS()
	_, d.OnS = res.Case.ActivationAt(phrase.OffS(res))
	r := rhythm{
		line:  chart.LineStyles[0],
		power: trace(res.History, func(s thermal.Sample) float64 { return s.PowerW }), rows: res.History,
	}
	for _, start := range starts {
		r.bands = append(r.bands, band{start, start + d.OnS, currentShade})
	}
	p := d.Pulses
	switch {
	case p == nil:
		return r
	case d.Edges() > thermal.MostSwitches || vg.Length(p.PeriodS)*perSecond < leastPeriod:
		r.line.Width = 1
		r.crowd(res)
		return r
	case phrase.Runs(p.Between):
		r.powerNote = "darker: pulses"
	default:
		r.bands = nil
	}
	for _, start := range starts {
		for n := range int(math.Ceil(d.OnS/p.PeriodS - 1e-9)) {
			from := float64(n) * p.PeriodS
			r.bands = append(r.bands, band{start + from, start + math.Min(from+p.LengthS, d.OnS), pulseShade})
		}
	}
	r.line.Width = 1
	return r
}

// phase is where in the rhythm of the source a row of history belongs.
type phase int

const (
	pulse phase = iota
	pause
	off
)

// phaseOf tells the phase of row n of a history: it is taken at the end of a step and
// tells of the time just before, but the second of two rows of the same time of the time
// after.
func phaseOf(c *thermal.Case, h []thermal.Sample, n int, d drive.Drive) phase {
	const slack = 1e-6
	at, into := h[n].TimeS, -slack
	if n == 0 || h[n-1].TimeS == at {
		into = slack
	}
	_, t := c.ActivationAt(at)
	if into < 0 && t == 0 { // the end of the pause before
		_, t = c.ActivationAt(h[n-1].TimeS)
		t += at - h[n-1].TimeS
	}
	switch into = t/d.Pulses.PeriodS + into; {
	case into > d.OnS/d.Pulses.PeriodS:
		return off
	case math.Mod(into, 1) < d.Pulses.LengthS/d.Pulses.PeriodS:
		return pulse
	}
	return pause
}

// crowd sets what is shown of pulses too close to tell apart: the power as the
// mean over pulse and pause, by the last row in either, and the rest by the rows within
// pulses. If too few are, the power is the mean of the whole.
func (r *rhythm) crowd(res *thermal.Result) {
	const enough = 10
	h, d := res.History, res.Case.Drive
	_, d.OnS = res.Case.ActivationAt(phrase.OffS(res))
	var met [3]int
	var last [3]float64
	r.rows, r.crowded = nil, true
	for n := range slices.Backward(h) { // in the end the first of each
		f := phaseOf(res.Case, h, n, d)
		met[f]++
		last[f] = h[n].PowerW
	}
	few := met[pulse] < enough || met[pause] < enough && phrase.Runs(d.Pulses.Between)
	share := d.Pulses.LengthS / d.Pulses.PeriodS
	for n, s := range h {
		f := phaseOf(res.Case, h, n, d)
		last[f] = s.PowerW
		y := share*last[pulse] + (1-share)*last[pause]
		switch {
		case f == off:
			y = 0
		case few:
			y = res.Summary.MeanPowerW
		}
		r.power[n].Y = y
		if f != pause {
			r.rows = append(r.rows, s)
		}
	}
	r.powerNote, r.rowsNote = "mean over pulse and pause: pulses are too close to show", "during pulses"
	if few {
		r.powerNote, r.rowsNote = "mean over the time with current: pulses are too close to show", "too few pulses recorded: see the table for resistance and sparks"
	}
}

func shadeRhythm(p *chart.Panel, r rhythm) {
	for _, b := range r.bands {
		p.Area(b.shade, chart.Point{X: b.from, Y: p.Bottom}, chart.Point{X: b.from, Y: p.Top}, chart.Point{X: b.to, Y: p.Top}, chart.Point{X: b.to, Y: p.Bottom})
	}
}

// markSparks marks, along the top of the panel, when more than a hundredth of the current
// went in sparks.
func markSparks(p *chart.Panel, h []thermal.Sample) {
	const least, high = 0.01, 1.6 * chart.MM
	y, any := p.Max.Y-high, false
	for n := 1; n < len(h); n++ {
		from := h[n-1].TimeS
		for n < len(h) && h[n].SparkShare > least { // a row tells of the time before it
			n++
		}
		if to := h[n-1].TimeS; to > from {
			a, b := p.Px(from), p.Px(to)
			p.FillPolygon(chart.Ink, []vg.Point{{X: a, Y: y}, {X: b, Y: y}, {X: b, Y: p.Max.Y}, {X: a, Y: p.Max.Y}})
			any = true
		}
	}
	if any {
		s := chart.TextStyle(chart.WordSize, chart.Ink, text.XLeft, text.YCenter)
		p.StrokeLine2(chart.Stroke(chart.Ink, 1.2), p.Max.X, y+high/2, p.Max.X+2.5*chart.MM, y+high/2)
		p.FillText(s, vg.Point{X: p.Max.X + 3*chart.MM, Y: y + high/2}, "sparks")
	}
}
