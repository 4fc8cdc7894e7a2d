package study

import (
	"fmt"
	"image"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"muralheat/output/chart"
	"muralheat/output/figures"
	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/thermal"
)

// KeptFolder is where a sweep keeps the complete results of chosen cases.
const KeptFolder = "cases"

// keptCase is one of them.
type keptCase struct {
	name string
	res  *thermal.Result
}

// mostSections is how many cross-sections fit side by side.
const mostSections = 12

// keptCases reads what a sweep has kept, in the order of the folders' names.
func keptCases(dir string) ([]keptCase, error) {
	entries, err := os.ReadDir(filepath.Join(dir, KeptFolder))
	if os.IsNotExist(err) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var kept []keptCase
	for _, e := range entries {
		if !e.IsDir() || e.Name()[0] == '.' || len(kept) == mostSections {
			continue
		}
		res, err := record.Load(filepath.Join(dir, KeptFolder, e.Name()))
		if err != nil {
			return nil, err
		}
		kept = append(kept, keptCase{e.Name(), res})
	}
	return kept, nil
}

// KeptName is the folder of a kept case that has no name: its number in as many digits as
// the last of n cases has.
func KeptName(i, n int) string { return fmt.Sprintf("%s%0*d", keptPrefix, len(strconv.Itoa(n-1)), i) }

const keptPrefix = "case-"

// nameKept names a kept case by what differs between cases.
func (t *SweepTable) nameKept(folder string) string {
	number, ok := strings.CutPrefix(folder, keptPrefix)
	i, err := strconv.Atoi(number)
	if !ok || err != nil {
		return folder
	}
	for row, p := range t.Point {
		if p != i/max(1, t.Draws) {
			continue
		}
		if name := differing(row, t.Factors()); name != "" {
			return name
		}
	}
	return folder
}

// telling is the kept case whose lines need the most words: one with an injury, or the
// pad with the highest rise.
func telling(kept []keptCase) *thermal.Result {
	most := kept[0].res
	for _, k := range kept {
		if k.res.Summary.InjuryDepthM > 0 || figures.StalkInjured(k.res) {
			return k.res
		}
		if k.res.Summary.Pad.HighestRiseK > most.Summary.Pad.HighestRiseK {
			most = k.res
		}
	}
	return most
}

// sectionsFigure draws the cross-sections of kept cases side by side, at one scale of
// length and one of temperature.
func sectionsFigure(title string, kept []keptCase) chart.Figure {
	const columns, gap, above, least, most = 3, 4 * chart.MM, 6 * chart.MM, 32 * chart.MM, 60 * chart.MM
	cols := min(columns, len(kept))
	rows := (len(kept) + cols - 1) / cols
	width := (chart.WallWidth-chart.MarginLeft-figures.BarWidth-4*chart.MM+gap)/vg.Length(cols) - gap
	cuts := make([]*figures.Cut, len(kept))
	half, head, depth := 0.0, 0.0, 0.0
	var common figures.Scale // to all
	for n, c := range kept {
		i, j := phrase.Deepest(c.res)
		k := figures.NewCut(c.res, figures.Across(c.res, i), i, j)
		half, head, depth = math.Max(half, math.Max(-k.X0, k.X1)), math.Max(head, k.Head), math.Max(depth, k.Z1)
		common.Name, common.Low = k.Scale.Name, k.Scale.Low
		common.High, common.Most = math.Max(common.High, k.Scale.High), math.Max(common.Most, k.Scale.Most)
		cuts[n] = k
	}
	half = math.Max(half, (head+depth)*float64(width/most)/2)
	height := max(width*vg.Length((head+depth)/(2*half)), least)
	depth = 2*half*float64(height/width) - head // under a wide pad one looks deeper
	for _, k := range cuts {
		k.X0, k.X1, k.Head, k.Z1, k.Scale = -half, half, head, depth, common
	}
	h := chart.NewHead(title, []string{"Cross-sections of kept cases at one scale: " + common.Name + ", injury line."})
	total := h.Height() + vg.Length(rows)*(height+above+chart.AxisHeight) + figures.FootHeight
	var colours image.Image
	return chart.Figure{Name: "sections", W: chart.WallWidth, H: total, Draw: func(c draw.Canvas) {
		h.Draw(c)
		top := c.Max.Y - h.Height()
		panels := make([]*chart.Panel, len(cuts))
		for n, k := range cuts {
			x := chart.MarginLeft + vg.Length(n%cols)*(width+gap)
			y := top - vg.Length(n/cols+1)*(height+above+chart.AxisHeight) + chart.AxisHeight
			panels[n] = chart.NewPanel(c, x, y, width, height, k.X0, k.X1, k.Z1, -k.Head)
		}
		area := panels[0].Rectangle
		area.Max.X = panels[cols-1].Max.X
		area.Min.Y = panels[len(panels)-1].Min.Y
		if colours == nil {
			colours = figures.Paint(area, cuts, panels)
		}
		c.DrawImage(area, colours)
		for n, k := range cuts {
			p := panels[n]
			k.Borders(p)
			k.Hatch(p)
			for _, s := range []draw.LineStyle{chart.Stroke(chart.Paper, 3.2), chart.Stroke(chart.Ink, 1.6)} {
				for _, l := range k.LnOmega.Isoline(0) {
					k.InTissue(p, s, l)
				}
			}
			k.Border(p, chart.Stroke(chart.Ink, 1.2), 0)
			name := fmt.Sprintf("%s: %.2f mm deep", kept[n].name, 1e3*kept[n].res.Summary.InjuryDepthM)
			switch kept[n].res.Case.Electrode.Tip {
			case thermal.Loop:
				k.Outline(p)
			case thermal.Pad:
				for _, l := range k.Shown.Isoline(phrase.RiseLimitK) {
					p.Line(chart.Stroke(chart.Paper, 3), l...)
					p.Line(chart.LimitLine, l...)
				}
				name = fmt.Sprintf("%s: %.1f K over 1 cm²", kept[n].name, kept[n].res.Summary.Pad.MeanRiseK)
			default:
				k.Tip(p)
			}
			p.Frame()
			s := chart.TextStyle(chart.WordSize, chart.Ink, text.XLeft, text.YBottom)
			if s.Width(name) > width {
				s.Font.Size = chart.NoteSize
			}
			p.FillText(s, vg.Point{X: p.Min.X, Y: p.Max.Y + 1*chart.MM}, chart.Fit(s, width, name))
			if n%cols == 0 {
				p.AxisY("depth (mm)", chart.Within(chart.Ticks(0, k.Z1, 5), 0, k.Z1))
			}
			p.AxisX("from the middle (mm)", chart.Ticks(k.X0, k.X1, 5), phrase.DistanceText)
		}
		bar := chart.NewPanel(c, chart.WallWidth-figures.BarWidth+2*chart.MM, top-above-height, 3.5*chart.MM, height-4*chart.MM, 0, 1, common.Low, common.High)
		figures.ColourBar(bar, common)
		figures.Legend(c, chart.MarginLeft, figures.FootHeight-4.6*chart.MM, telling(kept), cuts)
		chart.Caption(c)
	}}
}
