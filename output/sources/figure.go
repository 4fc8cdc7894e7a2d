package sources

import (
	"fmt"
	"image/color"
	"math"
	"path/filepath"
	"slices"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/scenarios/source"
	"muralheat/thermal/drive"
)

const (
	// MostSheets fit side by side on a page.
	MostSheets = 3

	highPanel = 40 * chart.MM
	lowPanel  = 28 * chart.MM
	gap       = 5 * chart.MM
	notes     = 3.6 * chart.MM
	keyLine   = 4.6 * chart.MM
	timeLoad  = 500.0 // ohm, of the pulses in time
	fewS      = 1.0   // shown of sources without pulses, s
)

// Figures draws what the sources of up to MostSheets sheets give: a column a sheet, panels for power with the band that
// the standard allows, RMS current, peak voltage, and the pulses in time.
func Figures(list []*source.Sheet) []chart.Figure {
	sheets := shown(list)
	f := newLayout(sheets)
	head := chart.NewHead("What the sources give", []string{f.titles()}, []string{"Into a resistance at the electrode; bands: the accuracy that the standard asks for"})
	note := chart.TextStyle(chart.NoteSize, chart.Soft, text.XLeft, text.YTop)
	below := chart.Wrapped(note, chart.HeadWidth, bandNote())
	below = append(below, f.left...)
	keys := 0
	for _, x := range sheets {
		keys = max(keys, len(x.sources))
	}
	keys = min(keys, len(chart.LineStyles))
	panels := 2*highPanel + 2*lowPanel + 3*gap + 2*chart.AxisHeight
	height := head.Height() + 10*chart.MM + panels + vg.Length(keys)*keyLine + vg.Length(len(below))*notes + 10*chart.MM
	return []chart.Figure{{Name: "sources", W: chart.WallWidth, H: height, Draw: func(c draw.Canvas) {
		head.Draw(c)
		top := c.Max.Y - head.Height() - 10*chart.MM
		for n, s := range sheets {
			f.column(c, n, s, top)
		}
		y := top - panels - 1*chart.MM
		for n, s := range sheets {
			f.key(c, n, s, y)
		}
		for n, line := range below {
			c.FillText(note, vg.Point{X: c.Min.X + 4*chart.MM, Y: y - vg.Length(keys)*keyLine - vg.Length(n)*notes}, line)
		}
		chart.Caption(c)
	}}}
}

// layout is what the columns of a figure share.
type layout struct {
	sheets                  []sheet
	names                   []string // of the sources; each has a line of its own if there are enough
	left                    []string // what is not drawn
	width                   vg.Length
	powerW, currentA, peakV float64 // tops of the axes
	pulseW, endS            float64
}

func newLayout(sheets []sheet) *layout {
	f := &layout{sheets: sheets}
	const between = 5 * chart.MM
	n := vg.Length(len(sheets))
	f.width = (chart.WallWidth - chart.MarginLeft - 5*chart.MM - (n-1)*between) / n
	for _, s := range sheets {
		if more := len(s.sources) - len(chart.LineStyles); more > 0 {
			f.left = append(f.left, fmt.Sprintf("Not drawn of %s: its last %d sources; the table has them.", filepath.Base(s.name), more))
		}
		for _, o := range s.sources {
			if !slices.Contains(f.names, o.name) {
				f.names = append(f.names, o.name)
			}
			for _, ohm := range loads() {
				g := o.drive.Mode.Into(ohm)
				_, high, ok := drive.Band(g.PowerW, o.ratedW)
				if ok {
					f.powerW = math.Max(f.powerW, high)
				}
				f.powerW, f.currentA, f.peakV = math.Max(f.powerW, g.PowerW), math.Max(f.currentA, g.CurrentA), math.Max(f.peakV, g.PeakV)
			}
			f.pulseW = math.Max(f.pulseW, o.drive.Mode.Into(timeLoad).PowerW)
			if p := o.drive.Pulses; p != nil {
				f.endS = math.Max(f.endS, 2.5*p.PeriodS)
			}
		}
	}
	if f.endS == 0 {
		f.endS = fewS
	}
	return f
}

// titles names the sheets.
func (f *layout) titles() string {
	title := ""
	for n, s := range f.sheets {
		if n > 0 {
			title += "; "
		}
		title += s.title
	}
	return title
}

// style is the line of the i-th source of a sheet, that of its name in every column if there are lines enough; false if
// it is not drawn.
func (f *layout) style(s sheet, i int) (draw.LineStyle, bool) {
	if len(f.names) <= len(chart.LineStyles) {
		i = slices.Index(f.names, s.sources[i].name)
	}
	if i >= len(chart.LineStyles) {
		return draw.LineStyle{}, false
	}
	return chart.LineStyles[i], true
}

// leftOf is where the panels of the n-th column begin.
func (f *layout) leftOf(c draw.Canvas, n int) vg.Length {
	return c.Min.X + chart.MarginLeft + vg.Length(n)*(f.width+5*chart.MM)
}

// column draws the panels of a sheet.
func (f *layout) column(c draw.Canvas, n int, s sheet, top vg.Length) {
	x := f.leftOf(c, n)
	c.FillText(chart.TextStyle(chart.WordSize, chart.Ink, text.XLeft, text.YBottom), vg.Point{X: x, Y: top + 1.5*chart.MM},
		chart.Fit(chart.TextStyle(chart.WordSize, chart.Ink, text.XLeft, text.YBottom), f.width, filepath.Base(s.name)))
	from, to := math.Log10(leastOhm), math.Log10(mostOhm)
	ticks, ohms := decades(from, to)
	panel := func(height vg.Length, most float64) *chart.Panel {
		top -= height
		p := chart.NewPanel(c, x, top, f.width, height, from, to, 0, 1.06*math.Max(most, 1e-9))
		top -= gap
		return p
	}
	finish := func(p *chart.Panel, label string, last bool) {
		p.Frame()
		if n == 0 {
			p.AxisUp(label, chart.Within(chart.Ticks(0, p.Top, 5), 0, p.Top), phrase.TickText)
		} else {
			p.AxisUp("", chart.Within(chart.Ticks(0, p.Top, 5), 0, p.Top), func(float64) string { return "" })
		}
		if last {
			p.AxisX("load (ohm)", chart.Roomy(p, ticks, ohms), ohms)
			top -= chart.AxisHeight - gap + 2*chart.MM
		} else {
			p.AxisX("", ticks, ohms)
		}
	}
	power := panel(highPanel, f.powerW)
	for i, o := range s.sources {
		if style, ok := f.style(s, i); ok {
			band(power, o, style)
		}
	}
	f.curves(power, s, func(g drive.Given) float64 { return g.PowerW })
	finish(power, "power (W)", false)
	current := panel(lowPanel, f.currentA)
	f.curves(current, s, func(g drive.Given) float64 { return g.CurrentA })
	finish(current, "RMS current (A)", false)
	unit, volts := "V", 1.0
	if f.peakV >= 1000 { // as many digits as there is room for
		unit, volts = "kV", 1e-3
	}
	peak := panel(highPanel, f.peakV*volts)
	f.curves(peak, s, func(g drive.Given) float64 { return g.PeakV * volts })
	finish(peak, "peak voltage ("+unit+")", true)
	f.inTime(chart.NewPanel(c, x, top-lowPanel, f.width, lowPanel, 0, f.endS, 0, 1.06*math.Max(f.pulseW, 1e-9)), n, s)
}

// band shades what the standard allows around the power of a source.
func band(p *chart.Panel, o output, style draw.LineStyle) {
	var upper, lower []chart.Point
	flush := func() {
		slices.Reverse(lower)
		if len(upper) > 1 {
			p.Area(pale(style.Color), append(upper, lower...)...)
		}
		upper, lower = nil, nil
	}
	for _, ohm := range fine() {
		low, high, ok := drive.Band(o.drive.Mode.Into(ohm).PowerW, o.ratedW)
		if !ok {
			flush()
			continue
		}
		x := math.Log10(ohm)
		upper, lower = append(upper, chart.Point{X: x, Y: high}), append(lower, chart.Point{X: x, Y: low})
	}
	flush()
}

// pale is a colour mixed with seven parts of paper.
func pale(c color.Color) color.NRGBA {
	r, g, b, _ := c.RGBA()
	mix := func(v uint32) uint8 { return uint8((v>>8 + 7*0xff) / 8) }
	return color.NRGBA{mix(r), mix(g), mix(b), 0xff}
}

// fine are the loads at which curves are drawn, ohm.
func fine() []float64 {
	var ohm []float64
	const n = 240
	for i := range n + 1 {
		ohm = append(ohm, leastOhm*math.Pow(mostOhm/leastOhm, float64(i)/n))
	}
	return ohm
}

// curves draws a quantity of each source over the load.
func (f *layout) curves(p *chart.Panel, s sheet, value func(drive.Given) float64) {
	for i, o := range s.sources {
		style, ok := f.style(s, i)
		if !ok {
			continue
		}
		var pts []chart.Point
		for _, ohm := range fine() {
			pts = append(pts, chart.Point{X: math.Log10(ohm), Y: value(o.drive.Mode.Into(ohm))})
		}
		p.Line(style, pts...)
	}
}

// inTime draws the power of each source over time.
func (f *layout) inTime(p *chart.Panel, n int, s sheet) {
	for i, o := range s.sources {
		style, ok := f.style(s, i)
		if !ok {
			continue
		}
		var pts []chart.Point
		d := o.drive
		d.OnS = math.Nextafter(f.endS, math.Inf(1))
		for t := 0.0; t < f.endS; {
			m, until := d.At(t)
			w := m.Into(timeLoad).PowerW
			until = math.Min(until, f.endS)
			pts = append(pts, chart.Point{X: t, Y: w}, chart.Point{X: until, Y: w})
			t = until
		}
		style.Width *= 0.7
		p.Line(style, pts...)
	}
	p.Frame()
	p.Remark(fmt.Sprintf("power in time, into %g ohm", timeLoad))
	label, number := "power (W)", phrase.TickText
	if n > 0 {
		label, number = "", func(float64) string { return "" }
	}
	p.AxisUp(label, chart.Within(chart.Ticks(0, p.Top, 4), 0, p.Top), number)
	ticks := chart.Ticks(0, f.endS, 6)
	p.AxisX("time (s)", chart.Roomy(p, ticks, phrase.TickText), phrase.TickText)
}

// key names the lines of a column, with their crest factors.
func (f *layout) key(c draw.Canvas, n int, s sheet, y vg.Length) {
	word := chart.TextStyle(chart.WordSize, chart.Ink, text.XLeft, text.YCenter)
	x := f.leftOf(c, n)
	for i, o := range s.sources {
		style, ok := f.style(s, i)
		if !ok {
			return
		}
		c.StrokeLine2(style, x, y, x+8*chart.MM, y)
		txt := fmt.Sprintf("%s: crest factor %.2f", o.name, o.drive.CrestFactor())
		if word.Width(txt) > f.width-10*chart.MM {
			txt = fmt.Sprintf("%s: CF %.2f", o.name, o.drive.CrestFactor())
		}
		c.FillText(word, vg.Point{X: x + 10*chart.MM, Y: y}, chart.Fit(word, f.width-10*chart.MM, txt))
		y -= keyLine
	}
}

// decades are the ticks 1 and 3 of each decade between logarithms, and how they are written.
func decades(from, to float64) (at []float64, number func(float64) string) {
	for d := math.Floor(from); d <= to; d++ {
		for _, m := range []float64{1, 3} {
			if v := d + math.Log10(m); from <= v+1e-9 && v <= to+1e-9 {
				at = append(at, v)
			}
		}
	}
	return at, func(v float64) string {
		ohm := math.Round(math.Pow(10, v))
		if ohm >= 1000 {
			return phrase.Short(ohm/1000) + "k"
		}
		return phrase.Short(ohm)
	}
}
