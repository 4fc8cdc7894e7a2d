package chart

import "math"

// Point is a place on a drawing in data units: millimetres in a section, with y
// the depth.
type Point struct{ X, Y float64 }

// Plane is a field sampled on a grid, linear between the samples.
type Plane struct {
	X, Y []float64 // ascending
	V    []float64 // len(x)*len(y), x fastest
}

// Value returns the value at column i of row j.
func (p *Plane) Value(i, j int) float64 { return p.V[j*len(p.X)+i] }

// At returns the value at (x,y), clamped to the edge.
func (p *Plane) At(x, y float64) float64 {
	i, fx := locate(p.X, x)
	j, fy := locate(p.Y, y)
	return (1-fy)*((1-fx)*p.Value(i, j)+fx*p.Value(i+1, j)) +
		fy*((1-fx)*p.Value(i, j+1)+fx*p.Value(i+1, j+1))
}

// Sampled returns the values at the points of a grid, x fastest, as At does.
func (p *Plane) Sampled(x, y []float64) []float64 {
	column, across := make([]int, len(x)), make([]float64, len(x))
	for n, v := range x {
		column[n], across[n] = locate(p.X, v)
	}
	out := make([]float64, 0, len(x)*len(y))
	for _, v := range y {
		j, fy := locate(p.Y, v)
		above, below := p.V[j*len(p.X):(j+1)*len(p.X)], p.V[(j+1)*len(p.X):(j+2)*len(p.X)]
		for n, i := range column {
			fx := across[n]
			out = append(out, (1-fy)*((1-fx)*above[i]+fx*above[i+1])+fy*((1-fx)*below[i]+fx*below[i+1]))
		}
	}
	return out
}

// locate returns the interval of a that holds x and the share of it passed.
func locate(a []float64, x float64) (int, float64) {
	lo, hi := 0, len(a)-2
	for lo < hi {
		mid := (lo + hi + 1) / 2
		if a[mid] <= x {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	f := (x - a[lo]) / (a[lo+1] - a[lo])
	return lo, math.Min(math.Max(f, 0), 1)
}
