package output

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
		res, err := Load(filepath.Join(dir, KeptFolder, e.Name()))
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
func (t *sweepTable) nameKept(folder string) string {
	number, ok := strings.CutPrefix(folder, keptPrefix)
	i, err := strconv.Atoi(number)
	if !ok || err != nil {
		return folder
	}
	for row, p := range t.point {
		if p != i/max(1, t.Draws) {
			continue
		}
		var parts []string
		for _, f := range t.factors() {
			if level := f.of[row]; level >= 0 {
				parts = append(parts, f.names[level])
			}
		}
		if len(parts) > 0 {
			return strings.Join(parts, ", ")
		}
	}
	return folder
}

// sectionsFigure draws the cross-sections of kept cases side by side, at one scale of
// length and one of temperature.
func sectionsFigure(title string, kept []keptCase) figure {
	const columns, gap, above, most = 3, 4 * mm, 6 * mm, 60 * mm
	cols := min(columns, len(kept))
	rows := (len(kept) + cols - 1) / cols
	width := (wallWidth-marginLeft-barWidth-4*mm+gap)/vg.Length(cols) - gap
	cuts := make([]*cut, len(kept))
	half, head, depth := 0.0, 0.0, 0.0
	var common scale // to all
	for n, c := range kept {
		i, j := deepest(c.res)
		k := newCut(c.res, across(c.res, i), i, j)
		half, head, depth = math.Max(half, math.Max(-k.x0, k.x1)), math.Max(head, k.head), math.Max(depth, k.z1)
		common.name, common.low = k.scale.name, k.scale.low
		common.high, common.most = math.Max(common.high, k.scale.high), math.Max(common.most, k.scale.most)
		cuts[n] = k
	}
	half = math.Max(half, (head+depth)*float64(width/most)/2)
	height := width * vg.Length((head+depth)/(2*half))
	for _, k := range cuts {
		k.x0, k.x1, k.head, k.z1, k.scale = -half, half, head, depth, common
	}
	h := newHead(title, []string{"Cross-sections of kept cases at one scale: " + common.name + ", injury line."})
	total := h.height() + vg.Length(rows)*(height+above+axisHeight) + footHeight
	var colours image.Image
	return figure{"sections", wallWidth, total, func(c draw.Canvas) {
		h.draw(c)
		top := c.Max.Y - h.height()
		panels := make([]*panel, len(cuts))
		for n, k := range cuts {
			x := marginLeft + vg.Length(n%cols)*(width+gap)
			y := top - vg.Length(n/cols+1)*(height+above+axisHeight) + axisHeight
			panels[n] = newPanel(c, x, y, width, height, k.x0, k.x1, k.z1, -k.head)
		}
		area := panels[0].Rectangle
		area.Max.X = panels[cols-1].Max.X
		area.Min.Y = panels[len(panels)-1].Min.Y
		if colours == nil {
			colours = paint(area, cuts, panels)
		}
		c.DrawImage(area, colours)
		for n, k := range cuts {
			p := panels[n]
			k.borders(p)
			k.hatch(p)
			for _, s := range []draw.LineStyle{stroke(paper, 3.2), stroke(ink, 1.6)} {
				for _, l := range k.lnOmega.isoline(0) {
					k.inTissue(p, s, l)
				}
			}
			k.border(p, stroke(ink, 1.2), 0)
			name := fmt.Sprintf("%s: %.2f mm", kept[n].name, 1e3*kept[n].res.Summary.InjuryDepthM)
			switch kept[n].res.Case.Electrode.Tip {
			case thermal.Loop:
				k.outline(p)
			case thermal.Pad:
				name = fmt.Sprintf("%s: %.1f K over 1 cm²", kept[n].name, kept[n].res.Summary.Pad.MeanRiseK)
			}
			p.frame()
			s := words(wordSize, ink, text.XLeft, text.YBottom)
			p.FillText(s, vg.Point{X: p.Min.X, Y: p.Max.Y + 1*mm}, fit(s, width, name))
			if n%cols == 0 {
				p.axisY("depth (mm)", within(ticks(0, k.z1, 5), 0, k.z1))
			}
			p.axisX("from the middle (mm)", ticks(k.x0, k.x1, 5), distanceText)
		}
		bar := newPanel(c, wallWidth-barWidth+2*mm, top-above-height, 3.5*mm, height-4*mm, 0, 1, common.low, common.high)
		colourBar(bar, common)
		caption(c)
	}}
}
