package mesh

import "math"

// Grading is a target cell size: FinestM between From and To, growing linearly
// with distance outside at Slope metres per metre.
type Grading struct {
	From, To float64 // fine zone, m
	FinestM  float64
	Slope    float64
}

// count returns the integral of 1/size from 0 to x (negative for x < 0): the
// number of cells in between, not yet rounded.
//
//	size = h                     inside,   n = x/h
//	size = h + s*d               outside,  n = ln(1 + s*d/h)/s
func (g Grading) count(x float64) float64 {
	n := (math.Min(math.Max(x, g.From), g.To) - g.From) / g.FinestM
	d := math.Max(math.Max(g.From-x, x-g.To), 0)
	out := d / g.FinestM
	if g.Slope > 0 {
		out = math.Log1p(g.Slope*d/g.FinestM) / g.Slope
	}
	if x < g.From {
		return n - out
	}
	return n + out
}

// position is the inverse of count.
func (g Grading) position(n float64) float64 {
	inside := (g.To - g.From) / g.FinestM
	outer := func(n float64) float64 {
		if g.Slope > 0 {
			return g.FinestM * math.Expm1(g.Slope*n) / g.Slope
		}
		return n * g.FinestM
	}
	switch {
	case n < 0:
		return g.From - outer(-n)
	case n > inside:
		return g.To + outer(n-inside)
	}
	return g.From + n*g.FinestM
}

// Axis cuts the line between the first and the last of breaks into cells no wider
// than the target size (to rounding), with a face on every break. Cells between
// two breaks vary smoothly; at least one cell lies between neighbouring breaks.
func (g Grading) Axis(breaks ...float64) Axis {
	faces := []float64{breaks[0]}
	for b := 1; b < len(breaks); b++ {
		lo, hi := breaks[b-1], breaks[b]
		n0, n1 := g.count(lo), g.count(hi)
		n := int(math.Max(1, math.Ceil(n1-n0-1e-9)))
		for i := 1; i < n; i++ {
			x := g.position(n0 + (n1-n0)*float64(i)/float64(n))
			if x > faces[len(faces)-1] && x < hi {
				faces = append(faces, x)
			}
		}
		faces = append(faces, hi)
	}
	return NewAxis(faces)
}

// Cells returns the number of cells Axis(breaks...) would have, without making it.
func (g Grading) Cells(breaks ...float64) int {
	total := 0.0
	for b := 1; b < len(breaks); b++ {
		total += math.Max(1, math.Ceil(g.count(breaks[b])-g.count(breaks[b-1])-1e-9))
	}
	if total > math.MaxInt32 {
		return math.MaxInt32
	}
	return int(total)
}
