package output

import (
	"fmt"
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// sensitivity is how much one input matters: an effect, or one to either side.
type sensitivity struct {
	name    string
	effects []effect
}

type effect struct {
	size      float64
	name      string  // of the level that has it
	low, high float64 // if it is a mean: the least and the largest of what it is the mean of
}

func (s sensitivity) reach() float64 {
	most := 0.0
	for _, e := range s.effects {
		most = max(most, math.Abs(e.size), math.Abs(e.low), math.Abs(e.high))
	}
	return most
}

// sensitivities draws what the depth depends on: rank correlations where inputs are drawn
// or fill a space, changes from the base where one input is changed at a time.
func (s *sweepShape) sensitivities() []figure {
	var figs []figure
	if s.design == oneAtATime {
		if f, ok := s.changeFigure(); ok {
			figs = append(figs, f)
		}
	}
	if f, ok := s.correlationFigure(); ok {
		figs = append(figs, f)
	}
	return figs
}

// changeFigure draws the changes of the outcome.
func (s *sweepShape) changeFigure() (figure, bool) {
	out := s.outcome()
	all, base, ok := s.changes()
	if !ok {
		return figure{}, false
	}
	says := []string{fmt.Sprintf("Change of the %s when one setting leaves its base, where it is %.2f %s.", out.name, base, out.unit)}
	if s.Draws > 1 {
		says[0] = fmt.Sprintf("Change of the median %s when one setting leaves its base, where the median is %.2f %s.", out.name, base, out.unit)
	}
	t := tornado{label: fmt.Sprintf("change of %s (%s)", out.name, out.unit), rows: all, format: func(v float64) string { return signed(v, 2) + " " + out.unit }}
	return t.figure(s.sweepTable, "change", says, nil), true
}

// changes returns the change of the outcome from the base at the levels of each factor that
// change it most either way, and the outcome there.
func (s *sweepShape) changes() (all []sensitivity, atBase float64, ok bool) {
	out := s.outcome()
	depth := func(n, level int) stats { // of factor n, the others at their base
		var v []float64
		for _, r := range s.rows() {
			if s.othersAtBase(r, n) && s.factors[n].of[r] == level {
				v = append(v, s.column[out.column][r])
			}
		}
		return median(v)
	}
	base := depth(0, s.base[0])
	if base.n == 0 {
		return nil, 0, false
	}
	for n, f := range s.factors {
		least, most := effect{}, effect{}
		for l, name := range f.names {
			if d := depth(n, l); d.n > 0 {
				if e := (effect{size: d.mid - base.mid, name: name}); e.size < least.size {
					least = e
				} else if e.size > most.size {
					most = e
				}
			}
		}
		row := sensitivity{name: fmt.Sprintf("%s, base %s", f.title, f.names[s.base[n]])}
		for _, e := range []effect{least, most} {
			if e.name != "" {
				row.effects = append(row.effects, e)
			}
		}
		all = append(all, row)
	}
	return all, base.mid, true
}

// leastDraws is how many values a rank correlation is told from at least; fewer say
// nothing (their chance interval covers most of -1 to 1).
const leastDraws = 8

// correlationFigure draws the rank correlations of the outcome.
func (s *sweepShape) correlationFigure() (figure, bool) {
	out := s.outcome()
	all, says, fewest, chance := s.correlations()
	if len(all) == 0 {
		return figure{}, false
	}
	notes := []string{
		fmt.Sprintf("To the right: more of it, more %s; to the left: more of it, less.", out.name),
		fmt.Sprintf("Grey: what chance alone gives in 19 of 20 times with %d values.", fewest),
	}
	if slices.ContainsFunc(all, func(s sensitivity) bool { return s.effects[0].high > s.effects[0].low }) {
		notes = append(notes, "Thin line: from the least to the largest of the points, which a mean can hide.")
	}
	t := tornado{label: "rank correlation with " + out.name, rows: all, most: 1, chance: chance,
		format: func(v float64) string { return signed(v, 2) }}
	return t.figure(s.sweepTable, "sensitivity", []string{says}, notes), true
}

// correlations returns the rank correlation of the outcome with each input that is drawn,
// or in a space-filling design varied; what it is taken over, of how many values at least,
// and what chance alone gives in 19 of 20 times. Among draws it is taken within each point,
// where nothing else differs, and averaged over the points.
func (s *sweepShape) correlations() (all []sensitivity, says string, fewest int, chance float64) {
	out := s.outcome()
	judged := s.column[out.column]
	groups := [][]int{s.rows()}
	says = fmt.Sprintf("Rank correlation (Spearman) of the %s with each input over all cases.", out.name)
	if s.design != scattered {
		at := map[int]int{}
		groups = nil
		for _, r := range s.rows() {
			g, ok := at[s.point[r]]
			if !ok {
				g = len(groups)
				at[s.point[r]], groups = g, append(groups, nil)
			}
			groups[g] = append(groups[g], r)
		}
		says = fmt.Sprintf("Rank correlation (Spearman) of the %s with what is uncertain, over %d draws.", out.name, s.Draws)
		if len(groups) > 1 {
			says = fmt.Sprintf("Rank correlation (Spearman) of the %s with what is uncertain, over %d draws, mean of %d points.", out.name, s.Draws, len(groups))
		}
	}
	fewest = math.MaxInt
	for n, in := range s.Inputs {
		if !in.Uncertain && (s.design != scattered || !s.varies(n)) {
			continue
		}
		sum, count, low, high := 0.0, 0, math.Inf(1), math.Inf(-1)
		for _, rows := range groups {
			x, y := make([]float64, len(rows)), make([]float64, len(rows))
			for i, r := range rows {
				x[i], y[i] = s.inputs[n].number[r], judged[r]
			}
			if rho, pairs := spearman(x, y); pairs >= leastDraws && !math.IsNaN(rho) {
				sum, count, fewest = sum+rho, count+1, min(fewest, pairs)
				low, high = min(low, rho), max(high, rho)
			}
		}
		if count > 0 {
			all = append(all, sensitivity{in.heading(), []effect{{size: sum / float64(count), low: low, high: high}}})
		}
	}
	// The variance of the rank correlation of independent values is 1/(n-1) (from memory: Kendall and
	// Gibbons 1990, ch. 4).
	return all, says, fewest, min(z95/math.Sqrt(float64(fewest-1)), 1)
}

// varies reports whether an input is a number with more than one value.
func (t *sweepTable) varies(n int) bool {
	v := t.inputs[n].number
	return slices.ContainsFunc(v, func(x float64) bool { return x != v[0] }) && !slices.ContainsFunc(v, math.IsNaN)
}

// tornado is bars to both sides of nothing, longest on top.
type tornado struct {
	label  string
	rows   []sensitivity
	most   float64 // end of the axis; 0: as the bars ask
	chance float64 // half-width of a grey zone; 0: none
	format func(float64) string
}

const mostRows = 16

var lowerShade = color.NRGBA{0x9a, 0xbf, 0xd8, 0xff} // paler than barShade: told apart in grey

func (t tornado) figure(table *sweepTable, name string, says, notes []string) figure {
	slices.SortStableFunc(t.rows, func(a, b sensitivity) int {
		switch {
		case a.reach() > b.reach():
			return -1
		case a.reach() < b.reach():
			return 1
		}
		return 0
	})
	if n := len(t.rows); n > mostRows {
		t.rows = t.rows[:mostRows]
		notes = append(notes, fmt.Sprintf("The %d that matter most of %d are shown.", mostRows, n))
	}
	if t.most == 0 {
		for _, r := range t.rows {
			t.most = max(t.most, r.reach())
		}
		t.most = max(t.most, 0.01)
	}
	const (
		step  = 9 * mm
		left  = 62 * mm
		right = 8 * mm
	)
	h := step*vg.Length(len(t.rows)) + 3*mm
	return table.sheet(name, says, notes, h+axisHeight+3*mm, func(c draw.Canvas, top vg.Length) {
		const width = wallWidth - left - right
		end := t.most / (1 - 2*float64(t.beside()/width)) // room for what stands beside the bars
		p := newPanel(c, left, top-3*mm-h, width, h, -end, end, 0, 1)
		if t.chance > 0 {
			p.area(beyondShade, point{-t.chance, 0}, point{t.chance, 0}, point{t.chance, 1}, point{-t.chance, 1})
		}
		for _, v := range within(ticks(-end, end, 8), -t.most*1.2, t.most*1.2) {
			p.line(stroke(color.NRGBA{0xd8, 0xd8, 0xd8, 0xff}, 0.5), point{v, 0}, point{v, 1})
		}
		for n, r := range t.rows {
			y := p.Max.Y - 1.5*mm - step*(vg.Length(n)+0.5)
			s := words(wordSize, ink, text.XRight, text.YCenter)
			p.FillText(s, vg.Point{X: p.Min.X - 2*mm, Y: y}, fit(s, left-6*mm, r.name))
			for _, e := range r.effects {
				a, b := p.px(0), p.px(e.size)
				shade := barShade
				if e.size < 0 {
					shade = lowerShade
				}
				box := []vg.Point{{X: a, Y: y - 2.5*mm}, {X: b, Y: y - 2.5*mm}, {X: b, Y: y + 2.5*mm}, {X: a, Y: y + 2.5*mm}}
				p.FillPolygon(shade, box)
				p.StrokeLines(stroke(ink, 0.8), append(box, box[0]))
				if e.high > e.low {
					lo, hi := p.px(e.low), p.px(e.high)
					p.StrokeLine2(stroke(ink, 1), lo, y, hi, y)
					for _, x := range []vg.Length{lo, hi} {
						p.StrokeLine2(stroke(ink, 1), x, y-1*mm, x, y+1*mm)
					}
					b = max(b, hi)
					if e.size < 0 {
						b = min(p.px(e.size), lo)
					}
				}
				txt := t.text(e)
				s := words(noteSize, ink, text.XLeft, text.YCenter)
				dx := 1.5 * mm
				if e.size < 0 {
					s.XAlign, dx = text.XRight, -dx
				}
				p.FillText(s, vg.Point{X: b + dx, Y: y}, fit(s, mostBeside, txt))
			}
			if len(r.effects) == 0 {
				p.FillText(words(noteSize, soft, text.XLeft, text.YCenter), vg.Point{X: p.px(0) + 1.5*mm, Y: y}, "no change")
			}
		}
		p.line(stroke(ink, 1.2), point{0, 0}, point{0, 1})
		p.frame()
		at := within(ticks(-end, end, 8), -t.most*1.2, t.most*1.2)
		p.axisX(t.label, roomy(p, at, tickText), tickText)
	})
}

// text is what stands beside a bar.
func (t tornado) text(e effect) string {
	if e.name == "" {
		return t.format(e.size)
	}
	return e.name + ": " + t.format(e.size)
}

const mostBeside = 32 * mm

// beside returns the room that the longest text beside a bar takes.
func (t tornado) beside() vg.Length {
	s, room := words(noteSize, ink, text.XLeft, text.YCenter), vg.Length(0)
	for _, r := range t.rows {
		for _, e := range r.effects {
			room = max(room, s.Width(t.text(e)))
		}
	}
	return min(room, mostBeside) + 3*mm
}

// signed prints a number with its sign.
func signed(v float64, decimals int) string {
	scale := math.Pow(10, float64(decimals))
	v = math.Round(v*scale) / scale
	if v > 0 {
		return "+" + fmt.Sprintf("%.*f", decimals, v)
	}
	if v == 0 {
		return "0"
	}
	return "–" + fmt.Sprintf("%.*f", decimals, -v)
}
