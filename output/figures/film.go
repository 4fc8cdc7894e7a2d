package figures

import (
	"image"
	"image/color"
	"math"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/recorder"

	"muralheat/mesh"
	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/thermal"
)

const (
	filmS               = 10. // that a film takes, but for its ends, s
	fastest, slowest    = 4, 50
	firstShown, lastOne = 60, 300 // hundredths of a second that the ends are shown more

	filmBar   = 1.8 * chart.MM // of time, above the wall
	filmAxis  = 10.5 * chart.MM
	filmLine  = 4.2 * chart.MM
	filmTitle = 4.9 * chart.MM // a line of it
	mostTitle = 2              // lines
)

// Film draws the moments of a result as a film: the wall in cross-section as in its figure, coloured by the temperature
// of the moment, with a clock and what the source does. ok is false if the result has none.
func Film(res *thermal.Result) (f chart.Film, ok bool) {
	if len(res.Moments) == 0 {
		return f, false
	}
	l := newReel(res)
	f = chart.Film{Name: "film", Still: l.still, Area: l.panel(draw.Canvas{}, 0).Rectangle, Colours: []color.NRGBA{currentShade, pulseShade}}
	for n := range res.Moments {
		f.Frames = append(f.Frames, chart.Frame{Hundredths: l.hundredths(n), Ground: func() image.Image { return l.ground(n) }, Draw: func(c draw.Canvas) { l.draw(c, n) }})
	}
	return f, true
}

// reel is how the moments of a result are laid out: the same in each frame.
type reel struct {
	res                *thermal.Result
	cuts               []*Cut   // one a moment
	shown              int      // hundredths of a second that a moment is
	pace               []string // of each moment, against the clock
	title              []string // broken to the page
	titled             text.Style
	head, foot, height vg.Length // above and below the wall, and its own
}

const filmPanel = chart.FilmWidth - chart.MarginLeft - namesWidth - BarWidth

func newReel(res *thermal.Result) *reel {
	l := &reel{res: res, shown: int(math.Round(min(max(100*filmS/float64(len(res.Moments)), fastest), slowest)))}
	l.name()
	l.head = 8.8*chart.MM + vg.Length(len(l.title))*filmTitle + filmBar
	for n := range res.Moments {
		view := AtMoment(res, n)
		k := NewCut(view, drawnPlane(view), 0, 0)
		k.bare = true
		l.cuts = append(l.cuts, k)
	}
	l.foot = 5.2*chart.MM + filmLine*vg.Length(1+Legend(draw.NewCanvas(&recorder.Canvas{}, chart.FilmWidth, chart.FilmHeight), chart.MarginLeft, 0, res, l.cuts))
	l.frame()
	l.paces()
	return l
}

// name breaks the title to the page, in smaller letters if it is long.
func (l *reel) name() {
	room := chart.FilmWidth - 8*chart.MM - l.clockWidth()
	for _, size := range []vg.Length{chart.FigureSize, chart.NoteSize} {
		l.titled = chart.TextStyle(size, chart.Ink, text.XLeft, text.YTop)
		if l.title = chart.Wrapped(l.titled, room, l.res.Case.Title); len(l.title) <= mostTitle {
			break
		}
	}
	if len(l.title) > mostTitle {
		l.title = append(l.title[:mostTitle-1], strings.Join(l.title[mostTitle-1:], " "))
	}
	for i, line := range l.title {
		l.title[i] = chart.Fit(l.titled, room, line)
	}
}

// drawnPlane is the section that moments are kept of.
func drawnPlane(res *thermal.Result) *section {
	if res.Mesh.Geometry == mesh.Track {
		return along(res)
	}
	return Across(res, 0)
}

// frame lets every cut show the same: all that any of them must.
func (l *reel) frame() {
	whole := *l.cuts[len(l.cuts)-1]
	for _, k := range l.cuts {
		whole.X0, whole.X1 = math.Min(whole.X0, k.X0), math.Max(whole.X1, k.X1)
		whole.Z1, whole.Head, whole.half = math.Max(whole.Z1, k.Z1), math.Max(whole.Head, k.Head), math.Max(whole.half, k.half)
	}
	most := chart.FilmHeight - l.head - l.foot - filmAxis
	whole.frame(filmPanel, most)
	if whole.height > most { // no less than a figure has, but here is no more room
		whole.height, whole.Z1 = most, float64(most/filmPanel)*(whole.X1-whole.X0)-whole.Head
	}
	l.height = whole.height
	for _, k := range l.cuts {
		k.X0, k.X1, k.Z1, k.Head, k.Scale = whole.X0, whole.X1, whole.Z1, whole.Head, whole.Scale
		k.Scale.Name = strings.NewReplacer("peak ", "", "highest ", "").Replace(whole.Scale.Name)
	}
}

// AtMoment returns what a result was at its n-th moment, in the plane that is drawn. What is the hottest or the last
// in a result is that of the moment.
func AtMoment(res *thermal.Result, n int) *thermal.Result {
	now := res.Moments[n]
	m := mesh.New(res.Mesh.Geometry, res.Mesh.X, mesh.Axis{}, res.Mesh.Z)
	if res.Mesh.Geometry == mesh.Track {
		m = mesh.New(mesh.Track, res.Mesh.X, mesh.NewAxis(res.Mesh.Y.Faces[:2]), res.Mesh.Z)
	}
	cells := func(v []float32) []float64 {
		out := make([]float64, m.Len())
		for i, x := range v {
			out[m.Index(0, 0, 0)+i] = float64(x)
		}
		return out
	}
	v := *res
	v.Mesh, v.History, v.Moments = m, res.History[:now.Row+1], nil
	f := thermal.Fields{TemperatureC: cells(now.TemperatureC), Omega: cells(now.LnOmega), Water: cells(now.Water), Solid: cells(now.Solid)}
	f.PeakC = f.TemperatureC
	omegas := [][]float64{f.Omega}
	if now.LnOmegaAtOnce != nil {
		f.OmegaAtOnce = cells(now.LnOmegaAtOnce)
		omegas = append(omegas, f.OmegaAtOnce)
	}
	for _, omega := range omegas {
		for p := range omega {
			omega[p] = math.Exp(omega[p])
		}
	}
	f.Removed = make([]bool, m.Len())
	copy(f.Removed[m.Index(0, 0, 0):], now.Removed)
	if rest := res.Fields.RestC; rest != nil {
		f.RestC = make([]float64, m.Len())
		for k := range m.NZ {
			copy(f.RestC[m.Index(0, 0, k):m.Index(0, 0, k)+m.NX], rest[res.Mesh.Index(0, 0, k):])
		}
	}
	v.Fields = f
	v.Summary = phrase.SoFar(res, res.History[now.Row])
	return &v
}

// hundredths returns how long the n-th moment is shown.
func (l *reel) hundredths(n int) int {
	shown := l.shown
	if n == 0 {
		shown += firstShown
	}
	if n == len(l.cuts)-1 {
		shown += lastOne
	}
	return shown
}

// paces says of each moment how fast the film runs there, against the clock: evenly while current flows, and evenly
// after it.
func (l *reel) paces() {
	onS, from := l.res.Case.OffS(), 0
	for n := range l.cuts {
		last := n == len(l.cuts)-1
		if t := l.timeS(n); !last && t < onS || n == from && !last {
			continue
		}
		pace := 0.
		if n > from {
			pace = (l.timeS(n) - l.timeS(from)) / (float64((n-from)*l.shown) / 100)
		}
		for range n - from {
			l.pace = append(l.pace, phrase.Pace(pace))
		}
		from = n
	}
	l.pace = append(l.pace, "")
}

func (l *reel) timeS(n int) float64 { return l.res.History[l.res.Moments[n].Row].TimeS }

// still draws what stands still.
func (l *reel) still(c draw.Canvas) {
	for i, line := range l.title {
		c.FillText(l.titled, vg.Point{X: 4 * chart.MM, Y: c.Max.Y - 2.5*chart.MM - vg.Length(i)*filmTitle}, line)
	}
	s := chart.TextStyle(chart.NoteSize, chart.Soft, text.XRight, text.YCenter)
	c.FillText(s, vg.Point{X: chart.MarginLeft - 1.8*chart.MM, Y: l.top() + 1.2*chart.MM + filmBar/2}, "current")
	p := l.panel(c, 0)
	l.cuts[0].layers(p)
	l.cuts[0].axes(p)
	scale := l.cuts[0].Scale
	bar := chart.NewPanel(c, chart.FilmWidth-BarWidth+2*chart.MM, l.top()-l.height, 3.5*chart.MM, l.height-4*chart.MM, 0, 1, scale.Low, scale.High)
	ColourBar(bar, scale)
	Legend(c, chart.MarginLeft, l.foot-2.4*chart.MM, l.res, l.cuts)
	chart.Caption(c)
}

// top is the height on the page of the wall's upper edge.
func (l *reel) top() vg.Length { return chart.FilmHeight - l.head }

// panel is that of the wall at the n-th moment.
func (l *reel) panel(c draw.Canvas, n int) *chart.Panel {
	k := l.cuts[n]
	return chart.NewPanel(c, chart.MarginLeft, l.top()-l.height, filmPanel, l.height, k.X0, k.X1, k.Z1, -k.Head)
}

// ground is the temperature of the n-th moment.
func (l *reel) ground(n int) image.Image {
	p := l.panel(draw.Canvas{}, n)
	return painted(p.Rectangle, l.cuts[n:n+1], []*chart.Panel{p}, chart.FilmDotsPerInch)
}

// clockWidth is that of the longest time.
func (l *reel) clockWidth() vg.Length {
	return chart.TextStyle(chart.FigureSize, chart.Ink, text.XRight, text.YTop).Width(l.clock(len(l.res.Moments)-1)) + 4*chart.MM
}

// clock writes the time of a moment.
func (l *reel) clock(n int) string {
	return phrase.Clock(l.timeS(n), l.timeS(len(l.res.Moments)-1))
}

// draw draws the n-th moment.
func (l *reel) draw(c draw.Canvas, n int) {
	s := chart.TextStyle(chart.FigureSize, chart.Ink, text.XRight, text.YTop)
	c.FillText(s, vg.Point{X: c.Max.X - 4*chart.MM, Y: c.Max.Y - 2.5*chart.MM}, l.clock(n))
	s = chart.TextStyle(chart.WordSize, chart.Ink, text.XLeft, text.YTop)
	now, room := phrase.Now(l.res, l.res.History[l.res.Moments[n].Row]), chart.FilmWidth-8*chart.MM
	if s.Width(now) > room {
		s.Font.Size = chart.NoteSize
	}
	c.FillText(s, vg.Point{X: 4 * chart.MM, Y: l.top() + filmBar + 6.2*chart.MM}, chart.Fit(s, room, now))
	l.bar(c, n)
	p := l.panel(c, n)
	l.cuts[n].Borders(p)
	l.cuts[n].marks(p)
}

// bar draws how far the time is.
func (l *reel) bar(c draw.Canvas, n int) {
	end := l.timeS(len(l.cuts) - 1)
	p := chart.NewPanel(c, chart.MarginLeft, l.top()+1.2*chart.MM, filmPanel, filmBar, 0, math.Max(end, 1e-9), 0, 1)
	r := newRhythm(l.res, filmPanel/vg.Length(math.Max(end, 1e-9)))
	if len(r.bands) == 1 {
		r.bands[0].shade = pulseShade
	}
	shadeRhythm(p, r)
	now := l.timeS(n)
	p.Area(chart.Ink, chart.Point{X: 0, Y: 0.35}, chart.Point{X: now, Y: 0.35}, chart.Point{X: now, Y: 0.65}, chart.Point{X: 0, Y: 0.65})
	p.FillPolygon(chart.Ink, []vg.Point{{X: p.Px(now), Y: p.Min.Y}, {X: p.Px(now) - 1*chart.MM, Y: p.Max.Y + 0.6*chart.MM}, {X: p.Px(now) + 1*chart.MM, Y: p.Max.Y + 0.6*chart.MM}})
	p.Frame()
	s := chart.TextStyle(chart.NoteSize, chart.Soft, text.XLeft, text.YCenter)
	p.FillText(s, vg.Point{X: p.Max.X + 2.8*chart.MM, Y: p.Center().Y}, l.pace[n])
}
