package study

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// facets divides a sweep into panels and says in notes what is not shown as it is.
// byWall asks for a panel for each wall, because the muscle begins elsewhere.
func (s *SweepShape) facets(byWall bool) (out []*facet, notes []string) {
	if s.Design != grid {
		rows := s.rows()
		if every := 1 + (s.points()-1)/mostPoints; s.Design == scattered && every > 1 {
			rows = slices.DeleteFunc(rows, func(r int) bool { return s.Point[r]%every != 0 })
			notes = append(notes, fmt.Sprintf("One of %d points is shown.", every))
		}
		for _, x := range s.Factors {
			f := &facet{x: x, joined: s.Design == OneAtATime && !x.words}
			for _, r := range rows {
				if s.Design == scattered || x.of[r] >= 0 {
					f.rows = append(f.rows, r)
				}
			}
			out = append(out, f)
		}
		if len(out) > mostFacets {
			notes = append(notes, fmt.Sprintf("%d of %d settings are shown.", mostFacets, len(out)))
			out = out[:mostFacets]
		}
		return out, notes
	}

	x := s.Factors[0]
	for _, f := range s.Factors[1:] {
		if x.words && !f.words || x.words == f.words && len(f.names) > len(x.names) {
			x = f
		}
	}
	rest := slices.DeleteFunc(slices.Clone(s.Factors), func(f *factor) bool { return f == x })
	take := func(fits func(*factor) bool) *factor {
		i := slices.IndexFunc(rest, fits)
		if i < 0 {
			return nil
		}
		f := rest[i]
		rest = slices.Delete(rest, i, i+1)
		return f
	}
	var across *factor
	if byWall {
		across = take(s.movesMuscle)
	}
	series := take(func(f *factor) bool { return len(f.names) <= mostCurves })
	if series == nil {
		series = take(func(f *factor) bool { return !f.words })
	}
	if across == nil {
		across = take(func(*factor) bool { return true })
	}
	for _, f := range rest {
		notes = append(notes, f.title+" differs within each place: the interval holds all its values.")
	}
	var shown []int
	if series != nil {
		shown = spacedOut(len(series.names), mostCurves)
		if len(shown) < len(series.names) {
			notes = append(notes, fmt.Sprintf("%d of the %d values of %s are shown.", len(shown), len(series.names), series.title))
		}
	}
	one := facet{x: x, series: series, shown: shown, joined: !x.words}
	if across == nil {
		one.rows = s.rows()
		return []*facet{&one}, notes
	}
	levels := spacedOut(len(across.names), mostFacets)
	if len(levels) < len(across.names) {
		notes = append(notes, fmt.Sprintf("%d of the %d values of %s are shown.", len(levels), len(across.names), across.title))
	}
	for _, l := range levels {
		f := one
		f.across = across.title
		f.title = strings.TrimSpace(across.title + " " + across.names[l])
		if across.words {
			f.title = across.names[l]
		}
		f.rows = across.split(s.rows())[l]
		out = append(out, &f)
	}
	return out, notes
}

// spacedOut returns at most m indices of n, both ends among them.
func spacedOut(n, m int) []int {
	var out []int
	for i := range min(n, m) {
		at := i
		if n > m {
			at = int(math.Round(float64(i) * float64(n-1) / float64(m-1)))
		}
		out = append(out, at)
	}
	return out
}

// movesMuscle reports whether the muscle begins elsewhere at another level of f.
func (s *SweepShape) movesMuscle(f *factor) bool {
	least, most := math.Inf(1), math.Inf(-1)
	for _, rows := range f.split(s.rows()) {
		if m := s.medianTop(rows); m.n > 0 {
			least, most = min(least, m.mid), max(most, m.mid)
		}
	}
	return most-least > sameTopMM
}
