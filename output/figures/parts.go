package figures

import (
	"math"

	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/thermal"
)

// Parts are what a cut shows besides its colours, in millimetres from the axis and of depth, for a drawing that is not
// made here. Areas are closed polygons, of which one within another is a hole.
type Parts struct {
	Injury                     [][]chart.Point // lines of Omega = 1
	Dried, Carbonised, Removed [][]chart.Point // areas where more than half of that is reached
	Never                      [][]chart.Point // areas without tissue from the start
	Metal                      [][]chart.Point // areas, at the end
	Passed                     bool            // the metal has left this place
	Start                      [][]chart.Point // where a loop that closed was at the start
	Contact                    [][]chart.Point // of a pad: what of it touches
	Polyp                      [][]chart.Point // its outline before the current
	Limit                      [][]chart.Point // under a pad: lines of the rise that the standard allows
}

// Parts returns what the cut shows, from x0 to x1 and z0 to z1 as it is set.
func (k *Cut) Parts() Parts {
	p := Parts{Dried: areas(k.dry), Carbonised: areas(k.char), Removed: areas(k.gone)}
	for _, l := range k.LnOmega.Isoline(0) {
		p.Injury = append(p.Injury, k.inTissue(l)...)
	}
	switch e := k.res.Case.Electrode; e.Tip {
	case thermal.Pad:
		p.Metal, p.Contact = k.padAreas((k.Head + k.Z1) / 50)
		p.Limit = k.Shown.Isoline(phrase.RiseLimitK)
	case thermal.Loop:
		never := k.plane(func(int) float64 { return 0 })
		for n := range never.V {
			if k.empty(n) {
				never.V[n] = 1
			}
		}
		p.Never, p.Polyp = areas(never), k.polypLines()
		start, end := 1e3*e.TipRadiusM, 1e3*k.res.Summary.Stalk.RingRadiusM
		for _, side := range []float64{-1, 1} {
			p.Metal = append(p.Metal, k.wire(side, end))
			if k.closed() {
				p.Start = append(p.Start, k.wire(side, start))
			}
		}
	default:
		p.Metal, p.Passed = [][]chart.Point{k.body(0)}, k.passed()
	}
	return p
}

// areas returns where a plane is above half, as closed polygons.
func areas(p *chart.Plane) [][]chart.Point {
	const edge = 1e-3 // mm: beyond the samples there is nothing
	nx, ny := len(p.X), len(p.Y)
	q := &chart.Plane{V: make([]float64, (nx+2)*(ny+2))}
	q.X = append(append([]float64{p.X[0] - edge}, p.X...), p.X[nx-1]+edge)
	q.Y = append(append([]float64{p.Y[0] - edge}, p.Y...), p.Y[ny-1]+edge)
	for n := range q.V {
		if i, j := n%(nx+2)-1, n/(nx+2)-1; 0 <= i && i < nx && 0 <= j && j < ny {
			q.V[n] = p.Value(i, j)
		}
	}
	return q.Isoline(half)
}

// body returns the active electrode at x, mm, as a polygon.
func (k *Cut) body(x float64) (body []chart.Point) {
	for _, q := range k.res.Case.Electrode.Outline(2 * k.Head / 1e3) {
		body = append(body, chart.Point{X: x + 1e3*q.XM, Y: 1e3 * q.ZM})
	}
	return body
}

// wire returns the wire of a loop of inner radius r, mm, on a side of the axis.
func (k *Cut) wire(side, r float64) (circle []chart.Point) {
	wire, z := 1e3*k.res.Case.Electrode.ContactRadiusM, -1e3*k.res.Case.Electrode.HeightM
	for n := range 49 {
		a := 2 * math.Pi * float64(n) / 48
		circle = append(circle, chart.Point{X: side*(r+wire) + wire*math.Cos(a), Y: z + wire*math.Sin(a)})
	}
	return circle
}

// closed reports whether a loop has moved so far that its wire is seen twice, at the start and at the end.
func (k *Cut) closed() bool {
	e := k.res.Case.Electrode
	return e.TipRadiusM-k.res.Summary.Stalk.RingRadiusM > e.ContactRadiusM
}

// padAreas returns a neutral electrode on the skin and what of it touches; unit is a length, mm, that suits the drawing.
func (k *Cut) padAreas(unit float64) (metal, contact [][]chart.Point) {
	e := k.res.Case.Electrode
	whole, outer, inner := 1e3*e.TipRadiusM, 1e3*e.ContactRadiusM, 1e3*e.InnerRadiusM
	back, face := padBack*unit, padFace*unit
	box := func(x0, x1, y0, y1 float64) []chart.Point {
		return []chart.Point{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}, {X: x0, Y: y0}}
	}
	contact = [][]chart.Point{box(-outer, outer, face, 0)}
	if inner > 0 {
		contact = [][]chart.Point{box(-outer, -inner, face, 0), box(inner, outer, face, 0)}
	}
	return [][]chart.Point{box(-whole, whole, back, face)}, contact
}

// Back and face of a pad above the skin, in the unit of padAreas.
const padBack, padFace = -5.6, -1.3
