package figures

import (
	"muralheat/output/chart"
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
	sceneOf(k.res).parts(k, &p)
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
