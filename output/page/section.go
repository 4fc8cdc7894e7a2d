package page

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"muralheat/mesh"
	"muralheat/output/chart"
	"muralheat/output/figures"
	"muralheat/output/phrase"
	"muralheat/thermal"
)

// cutOf returns the cross-section through the deepest injury.
func cutOf(r *thermal.Result) *figures.Cut {
	i, j := phrase.Deepest(r)
	return figures.NewCut(chart.ForDocument, r, figures.Across(r, i), i, j)
}

// seen makes one view and one scale of all cuts.
func seen(cuts []*figures.Cut, kept []*thermal.Result) (v View, h Heat) {
	for n, k := range cuts {
		if k == nil {
			continue
		}
		v.Half, v.Head, v.Depth = math.Max(v.Half, math.Max(-k.X0, k.X1)), math.Max(v.Head, k.Head), math.Max(v.Depth, k.Z1)
		s, e := kept[n].Summary, kept[n].Case.Electrode
		v.Near = math.Max(v.Near, 1.25e3*math.Max(math.Max(phrase.Finite(s.InjuryHalfWidthM), phrase.StalkRadiusM(kept[n].Case)), math.Max(e.ContactRadiusM, e.TipRadiusM)))
		h.Name, h.Low, h.High = k.Scale.Name, k.Scale.Low, math.Max(h.High, k.Scale.High)
		h.Hotter = h.Hotter || k.Scale.Most > h.High
	}
	v = View{rounded(v.Half), rounded(math.Min(v.Near, v.Half)), rounded(v.Head), rounded(v.Depth)}
	return v, h
}

// show makes a cut show the view.
func (v View) show(k *figures.Cut) { k.X0, k.X1, k.Head, k.Z1 = -v.Half, v.Half, v.Head, v.Depth }

// axial is where a section of what is round lies.
const axial = "through the axis"

// sectionOf puts a cut into numbers, in a common view and on a common scale.
func sectionOf(k *figures.Cut, r *thermal.Result, v View, h Heat) *Section {
	v.show(k)
	s := &Section{Where: axial, Passed: k.Parts().Passed, Outlines: outlines(k, h)}
	if r.Mesh.Geometry == mesh.Track {
		s.Where = "across the track, where the injury is deepest"
	}
	shown := k.Shown
	right, _ := slices.BinarySearch(shown.X, 0)
	for _, x := range shown.X[right:] {
		s.X = append(s.X, rounded(x))
	}
	for _, z := range shown.Y {
		s.Z = append(s.Z, rounded(z))
	}
	edges := r.Case.Edges()
	for i, l := range r.Case.Layers {
		if l.Above {
			s.Above = append(s.Above, layer(l, edges[i], edges[i+1], i))
		}
	}
	return s
}

// outlines are the paths of a cut, with its temperatures right of the axis.
func outlines(k *figures.Cut, h Heat) Outlines {
	p := k.Parts()
	o := Outlines{
		Injury: path(p.Injury, false), Dried: path(p.Dried, true), Carbonised: path(p.Carbonised, true), Removed: path(p.Removed, true), Never: path(p.Never, true),
		Metal: path(p.Metal, true), Start: path(p.Start, true), Contact: path(p.Contact, true), Polyp: path(p.Polyp, false), Limit: path(p.Limit, false),
	}
	right, _ := slices.BinarySearch(k.Shown.X, 0)
	for j := range k.Shown.Y {
		for i := right; i < len(k.Shown.X); i++ {
			o.heat = append(o.heat, level(k.Shown.Value(i, j), h))
		}
	}
	return o
}

// level is where a temperature stands on the scale of heat, in 255 steps.
func level(v float64, h Heat) byte {
	if math.IsNaN(v) {
		return 0
	}
	return byte(math.Round(255 * min(max((v-h.Low)/(h.High-h.Low), 0), 1)))
}

// path is an SVG path of lines, of which closed ones end where they begin. Coordinates are told to 5 um.
func path(lines [][]chart.Point, closed bool) string {
	var b strings.Builder
	for _, l := range lines {
		if len(l) < 2 {
			continue
		}
		last := ""
		for n, q := range l {
			at := short(q.X) + " " + short(q.Y)
			switch {
			case n == 0:
				b.WriteString("M" + at)
			case at != last:
				b.WriteString("L" + at)
			}
			last = at
		}
		if closed {
			b.WriteString("Z")
		}
	}
	return b.String()
}

func short(v float64) string {
	return strconv.FormatFloat(math.Round(v*200)/200+0, 'f', -1, 64) // + 0: no minus nothing
}

// mostSamples is how many moments of a time course are kept: more than there are pixels across a small screen.
const mostSamples = 160

// courseOf is the time course of a result.
func courseOf(r *thermal.Result) *Course {
	c := &Course{OffS: phrase.OffS(r)}
	then, every := judgedBy(r.Case).then, max(1, len(r.History)/mostSamples)
	for n, s := range r.History {
		edge := n > 0 && s.TimeS == r.History[n-1].TimeS || n+1 < len(r.History) && s.TimeS == r.History[n+1].TimeS // a switch
		if n%every != 0 && !edge && n != len(r.History)-1 {
			continue
		}
		c.TimeS, c.Value, c.PowerW = append(c.TimeS, rounded(s.TimeS)), append(c.Value, rounded(phrase.Finite(then(s)))), append(c.PowerW, rounded(s.PowerW))
	}
	return c
}
