package output

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/thermal"
	"muralheat/thermal/drive"
)

// Caution goes under every figure, table and record.
const Caution = "For research and teaching only; does not set treatment. Local protocol and licensed practice decide."

// figure is a drawing of known size.
type figure struct {
	name string // of the file, without extension
	w, h vg.Length
	draw func(draw.Canvas)
}

// formats are the file formats each figure is written in.
var formats = []struct {
	ext    string
	render func(figure) ([]byte, error)
}{{"svg", svg}, {"png", png}, {"pdf", pdf}}

// figures lists what is drawn of one result.
func figures(res *thermal.Result) []figure {
	if res.Case.Electrode.Tip == thermal.Pad {
		return []figure{wallFigure(res), skinFigure(res), timeFigure(res)}
	}
	return []figure{wallFigure(res), timeFigure(res)}
}

// head is the title of a figure and the lines below it.
type head struct {
	title string
	lines []string
}

const headWidth = wallWidth - 8*mm

// raised writes the square centimetres of texts as figures do, which a terminal need not have.
func raised(s string) string { return strings.ReplaceAll(s, "cm2", "cm²") }

// newHead breaks lines, given in clauses, that are too long for the page.
func newHead(title string, lines ...[]string) head {
	h := head{title: raised(title)}
	s := words(wordSize, ink, text.XLeft, text.YTop)
	for _, l := range lines {
		l = slices.Clone(l)
		for n := range l {
			l[n] = raised(l[n])
		}
		h.lines = append(h.lines, broken(s, headWidth, l...)...)
	}
	return h
}

// height is what it takes of the page.
func (h head) height() vg.Length { return 11.9*mm + vg.Length(len(h.lines))*4.3*mm }

func (h head) draw(c draw.Canvas) {
	x, y := c.Min.X+4*mm, c.Max.Y-4*mm
	t := words(titleSize, ink, text.XLeft, text.YTop)
	c.FillText(t, vg.Point{X: x, Y: y}, fit(t, headWidth, h.title))
	s := words(wordSize, ink, text.XLeft, text.YTop)
	for i, l := range h.lines {
		c.FillText(s, vg.Point{X: x, Y: y - 6.2*mm - vg.Length(i)*4.3*mm}, l)
	}
}

func caption(c draw.Canvas) {
	c.FillText(words(noteSize, soft, text.XLeft, text.YBottom), vg.Point{X: c.Min.X + 4*mm, Y: c.Min.Y + 2*mm}, Caution)
}

// Remarks lists what a reader should know of a run: of its scenario, its course and
// its figures.
func Remarks(run *Run, r *thermal.Result) []string {
	all := slices.Concat(run.Notes, r.Notes)
	if t := r.Case.Title; strings.Count(windows1252(t), "?") > strings.Count(t, "?") {
		all = append(all, "The title has characters that PDF and PNG figures lack; the SVG figures have them.")
	}
	return all
}

// setting says in clauses what was done: what the hand did and what the source gave.
func setting(r *thermal.Result) []string {
	c := r.Case
	e := c.Electrode
	var tip string
	switch e.Tip {
	case thermal.Pad:
		return []string{padSetting(c), given(c.Drive) + delivered(r)}
	case thermal.Loop:
		source := given(c.Drive)
		if offS(r) < c.Drive.OnS {
			source += ", ended by the cut"
		}
		return []string{loopSetting(c), source + delivered(r)}
	case thermal.Disc:
		tip = fmt.Sprintf("Disc, radius %s mm", short(1e3*e.ContactRadiusM))
	case thermal.Ball:
		tip = fmt.Sprintf("Ball, radius %s mm, contact %s mm", short(1e3*e.TipRadiusM), short(1e3*e.ContactRadiusM))
	case thermal.Needle:
		tip = fmt.Sprintf("Needle, radius %s mm, %s mm deep", short(1e3*e.ContactRadiusM), short(1e3*e.InsertionM))
	}
	if p := e.Press; p.ForceN > 0 {
		tip += fmt.Sprintf(", pressed with %s N", short(p.ForceN))
	} else if p.PressurePa > 0 {
		tip += fmt.Sprintf(", pressed with %s kPa", short(p.PressurePa/1000))
	}
	if m := c.Motion; m.Moving() {
		at := "at"
		if m.Waits {
			at = "at up to"
		}
		tip += fmt.Sprintf(", %s mm %s %s mm/s", short(1e3*m.LengthM), at, short(1e3*m.SpeedMS))
	}
	return []string{tip, given(c.Drive) + delivered(r)}
}

// given says in words what a source gives and for how long.
func given(d drive.Drive) string {
	p := d.Pulses
	if p == nil {
		return fmt.Sprintf("%s for %s s", held(d.Mode), short(d.OnS))
	}
	between := "no current between"
	if runs(p.Between) {
		between = held(p.Between) + " between"
	}
	return fmt.Sprintf("pulses of %s every %s at %s, %s, for %s s", shortTime(p.LengthS), shortTime(p.PeriodS), held(d.Mode), between, short(d.OnS))
}

// held names the quantity a mode holds.
func held(m drive.Mode) string {
	s := short(m.PowerW) + " W"
	if m.PeakVoltageV > 0 {
		s = short(m.PeakVoltageV) + " V peak"
	}
	if m.CurrentA > 0 {
		s = short(m.CurrentA) + " A"
	}
	if m.DutyCycle < 1 {
		s += fmt.Sprintf(" (duty cycle %s %%)", short(100*m.DutyCycle))
	}
	return s
}

// runs reports whether current flows in a mode.
func runs(m drive.Mode) bool {
	return m.DutyCycle > 0 && (m.PowerW > 0 || m.PeakVoltageV > 0 || m.CurrentA > 0)
}

// delivered says how much power came, unless it is what was asked for.
func delivered(r *thermal.Result) string {
	d, p := r.Case.Drive, r.Summary.MeanPowerW
	switch {
	case d.Pulses != nil || d.PeakVoltageV > 0 || d.CurrentA > 0:
		return fmt.Sprintf(" (mean delivered %s W)", short(p))
	case math.Abs(p-d.PowerW) > 0.02*d.PowerW:
		return fmt.Sprintf(" (%s W delivered)", short(p))
	}
	return ""
}

// verdict says in a line how deep the injury is and how far from the muscle.
func verdict(res *thermal.Result) string {
	s := res.Summary
	switch res.Case.Electrode.Tip {
	case thermal.Pad:
		return padVerdict(res)
	case thermal.Loop:
		return loopVerdict(res)
	}
	if !(s.InjuryDepthM > 0) {
		return "No injury (the Arrhenius integral stays below 1 everywhere)."
	}
	out := fmt.Sprintf("Injury %.2f mm deep", 1e3*s.InjuryDepthM)
	if m := margin(s); m != "" {
		out += ": " + m
	}
	return out + "."
}

// cutVerdict says in a sentence whether a needle that moved cut.
func cutVerdict(r *thermal.Result) string {
	switch {
	case !cuts(r.Case):
		return ""
	case r.Summary.Cut.Sustained:
		return "Cut sustained."
	}
	return "The needle drags."
}

// margin says how far the injury stays from the muscle or how far it is in.
func margin(s thermal.Summary) string {
	switch {
	case s.Transmural:
		return "through the whole wall"
	case math.IsNaN(s.MarginToMuscleM):
		return ""
	case reaches(s):
		return "just reaching the muscle"
	case s.MarginToMuscleM > 0:
		return fmt.Sprintf("%.2f mm short of the muscle", 1e3*s.MarginToMuscleM)
	case s.MuscleInjuredShare >= 1:
		return "through the muscle"
	default:
		return fmt.Sprintf("%.2f mm into the muscle (%.0f %% of it)", -1e3*s.MarginToMuscleM, math.Min(99, 100*s.MuscleInjuredShare))
	}
}

// reaches reports whether an injury ends where the muscle begins, to the digits shown.
func reaches(s thermal.Summary) bool { return math.Abs(s.MarginToMuscleM) < 0.005e-3 }

// short prints a setting with three significant digits at most.
func short(v float64) string {
	p := 0
	if v != 0 && !math.IsNaN(v) && !math.IsInf(v, 0) {
		p = max(0, 2-int(math.Floor(math.Log10(math.Abs(v)))))
	}
	scale := math.Pow(10, float64(p))
	return tickText(math.Round(v*scale) / scale)
}

// shortTime prints a time below a second in milliseconds.
func shortTime(s float64) string {
	if s < 1 {
		return short(1e3*s) + " ms"
	}
	return short(s) + " s"
}
