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
	panels := 2*highPanel + 2*lowPanel + 3*gap + 2*chart.AxisHeight
	height := head.Height() + 10*chart.MM + panels + vg.Length(len(f.names))*keyLine + vg.Length(len(below))*notes + 10*chart.MM
	return []chart.Figure{{Name: "sources", W: chart.WallWidth, H: height, Draw: func(c draw.Canvas) {
		head.Draw(c)
		top := c.Max.Y - head.Height() - 10*chart.MM
		for n, s := range sheets {
			f.column(c, n, s, top)
		}
		y := top - panels - 1*chart.MM
		f.key(c, y)
		for n, line := range below {
			c.FillText(note, vg.Point{X: c.Min.X + 4*chart.MM, Y: y - vg.Length(len(f.names))*keyLine - vg.Length(n)*notes}, line)
		}
		chart.Caption(c)
	}}}
}

// layout is what the columns of a figure share.
type layout struct {
	sheets               []sheet
	names                []string // of the sources, each with a line of its own
	left                 []string // what is not drawn
	width                vg.Length
	powerW, currentA, mV float64 // tops of the axes
	pulseW, endS         float64
}

func newLayout(sheets []sheet) *layout {
	f := &layout{sheets: sheets}
	const between = 5 * chart.MM
	n := vg.Length(len(sheets))
	f.width = (chart.WallWidth - chart.MarginLeft - 5*chart.MM - (n-1)*between) / n
	more := 0
	for _, s := range sheets {
		for _, o := range s.sources {
			if !slices.Contains(f.names, o.name) {
				if len(f.names) == len(chart.LineStyles) {
					more++
					continue
				}
				f.names = append(f.names, o.name)
			}
			for _, ohm := range loads() {
				g := o.drive.Mode.Into(ohm)
				_, high, ok := drive.Band(g.PowerW, o.ratedW)
				if ok {
					f.powerW = math.Max(f.powerW, high)
				}
				f.powerW, f.currentA, f.mV = math.Max(f.powerW, g.PowerW), math.Max(f.currentA, g.CurrentA), math.Max(f.mV, g.PeakV)
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
	if more > 0 {
		f.left = append(f.left, fmt.Sprintf("Not drawn: %d more sources; the table has them.", more))
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

// style is the line of a source: that of its name, in every column.
func (f *layout) style(name string) (draw.LineStyle, bool) {
	i := slices.Index(f.names, name)
	if i < 0 {
		return draw.LineStyle{}, false
	}
	return chart.LineStyles[i], true
}

// column draws the panels of a sheet.
func (f *layout) column(c draw.Canvas, n int, s sheet, top vg.Length) {
	x := c.Min.X + chart.MarginLeft + vg.Length(n)*(f.width+5*chart.MM)
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
	for _, o := range s.sources {
		f.band(power, o)
	}
	f.curves(power, s, func(g drive.Given) float64 { return g.PowerW })
	finish(power, "power (W)", false)
	current := panel(lowPanel, f.currentA)
	f.curves(current, s, func(g drive.Given) float64 { return g.CurrentA })
	finish(current, "RMS current (A)", false)
	peak := panel(highPanel, f.mV)
	f.curves(peak, s, func(g drive.Given) float64 { return g.PeakV })
	finish(peak, "peak voltage (V)", true)
	f.inTime(chart.NewPanel(c, x, top-lowPanel, f.width, lowPanel, 0, f.endS, 0, 1.06*math.Max(f.pulseW, 1e-9)), n, s)
}

// band shades what the standard allows around the power of a source.
func (f *layout) band(p *chart.Panel, o output) {
	style, ok := f.style(o.name)
	if !ok {
		return
	}
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
	for _, o := range s.sources {
		style, ok := f.style(o.name)
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
	for _, o := range s.sources {
		style, ok := f.style(o.name)
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

// key names the line of each source, with its crest factor in each sheet.
func (f *layout) key(c draw.Canvas, y vg.Length) {
	s := chart.TextStyle(chart.WordSize, chart.Ink, text.XLeft, text.YCenter)
	for i, name := range f.names {
		at := y - vg.Length(i)*keyLine
		style, _ := f.style(name)
		c.StrokeLine2(style, c.Min.X+chart.MarginLeft, at, c.Min.X+chart.MarginLeft+8*chart.MM, at)
		txt := name + ": crest factor "
		for n, sh := range f.sheets {
			if n > 0 {
				txt += ", "
			}
			j := slices.IndexFunc(sh.sources, func(o output) bool { return o.name == name })
			if j < 0 {
				txt += "none"
				continue
			}
			txt += fmt.Sprintf("%.2f", sh.sources[j].drive.CrestFactor())
		}
		c.FillText(s, vg.Point{X: c.Min.X + chart.MarginLeft + 10*chart.MM, Y: at}, chart.Fit(s, chart.WallWidth-chart.MarginLeft-14*chart.MM, txt))
	}
}

// decades are the ticks 1, 2 and 5 of each decade between logarithms, and how they are written.
func decades(from, to float64) (at []float64, number func(float64) string) {
	for d := math.Floor(from); d <= to; d++ {
		for _, m := range []float64{1, 2, 5} {
			if v := d + math.Log10(m); from <= v+1e-9 && v <= to+1e-9 {
				at = append(at, v)
			}
		}
	}
	return at, func(v float64) string { return phrase.Short(math.Round(math.Pow(10, v))) }
}
