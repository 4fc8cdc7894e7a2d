package page

import (
	"muralheat/mesh"
	"muralheat/output/figures"
	"muralheat/thermal"
)

// reel is what a case kept of how it came about: a cut for each moment.
type reel struct {
	cuts []*figures.Cut
	film Film
}

// reelOf returns the moments that a result has; nil if it has none, or of a track: they lie in its plane, not across it.
func reelOf(r *thermal.Result) *reel {
	if len(r.Moments) == 0 || r.Mesh.Geometry != mesh.Axisymmetric {
		return nil
	}
	of, l := judgedBy(r.Case).then, &reel{}
	for n, m := range r.Moments {
		l.cuts = append(l.cuts, cutOf(figures.AtMoment(r, n)))
		l.film.TimeS = append(l.film.TimeS, rounded(r.History[m.Row].TimeS))
		l.film.Value = append(l.film.Value, of(r.History[m.Row]))
	}
	return l
}

// seen returns the film in a common view and on a common scale.
func (l *reel) seen(v View, h Heat) *Film {
	for _, k := range l.cuts {
		v.show(k)
		l.film.Moments = append(l.film.Moments, outlines(k, h))
	}
	return &l.film
}
