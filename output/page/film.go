package page

import (
	"fmt"

	"muralheat/mesh"
	"muralheat/output/figures"
	"muralheat/output/phrase"
	"muralheat/thermal"
)

// reel is what a case kept of how it came about: a cut for each moment.
type reel struct {
	cuts []*figures.Cut
	film Film
}

// reelOf returns the moments that a result has, nil if it has none; of a track those across its middle.
func reelOf(r *thermal.Result) *reel {
	if len(r.Moments) == 0 {
		return nil
	}
	of, l, at := judgedBy(r.Case).then, &reel{}, figures.AtMoment
	l.film.Where = axial
	if r.Mesh.Geometry == mesh.Track {
		at, l.film.Where = figures.AcrossAtMoment, fmt.Sprintf("across the track, %s mm along it", phrase.Short(1e3*r.Mesh.X.Centres[r.Case.MiddleColumn(r.Mesh)]))
	}
	for n, m := range r.Moments {
		l.cuts = append(l.cuts, cutOf(at(r, n)))
		l.film.TimeS = append(l.film.TimeS, rounded(r.History[m.Row].TimeS))
		value := of(r.History[m.Row])
		if l.film.Where != axial && judgedBy(r.Case).isDepth() {
			value = deepest(l.cuts[n])
		}
		l.film.Value = append(l.film.Value, value)
		if l.film.Where != axial {
			l.along(figures.AlongTrack(figures.AtMoment(r, n)))
		}
	}
	return l
}

// along adds a moment of a track in section along it.
func (l *reel) along(k *figures.Cut) {
	if l.film.Along == nil {
		l.film.Along = &Along{From: k.X0, To: k.X1}
	}
	p, a := k.Parts(), l.film.Along
	a.From, a.To = rounded(min(a.From, k.X0)), rounded(max(a.To, k.X1))
	a.Moments = append(a.Moments, AlongTrack{Injury: path(p.Injury, false), Removed: path(p.Removed, true), Metal: path(p.Metal, true)})
}

// deepest is how deep the injury reaches in a cut, mm: that of the row of history is anywhere along the track.
func deepest(k *figures.Cut) (mm float64) {
	for _, l := range k.LnOmega.Isoline(0) {
		for _, q := range l {
			mm = max(mm, q.Y)
		}
	}
	return mm
}

// seen returns the film in a common view and on a common scale.
func (l *reel) seen(v View, h Heat) *Film {
	for _, k := range l.cuts {
		v.show(k)
		o := outlines(k, h)
		if k.Parts().Passed {
			o.Metal = "" // it is not here yet, or no more
		}
		l.film.Moments = append(l.film.Moments, o)
	}
	return &l.film
}
