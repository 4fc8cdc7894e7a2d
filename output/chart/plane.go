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

// Isoline returns the lines along which the field equals level, by marching
// squares. Lines that leave the grid stay open. Cells with a value that is not a
// number carry no line.
func (p *Plane) Isoline(level float64) [][]Point {
	// Each grid edge is crossed at most once and shared by two cells, so its
	// number names the end of a segment without comparing coordinates.
	nx := len(p.X)
	next := map[int][]int{} // crossed edge -> edges linked to it
	where := map[int]Point{}
	var order []int
	link := func(a, b int) {
		for _, e := range [2]int{a, b} {
			if _, seen := next[e]; !seen {
				order = append(order, e)
			}
		}
		next[a] = append(next[a], b)
		next[b] = append(next[b], a)
	}
	cross := func(i, j, di, dj int) int {
		a, b := p.Value(i, j), p.Value(i+di, j+dj)
		f := (level - a) / (b - a)
		e := 2*(j*nx+i) + dj
		where[e] = Point{p.X[i] + f*(p.X[i+di]-p.X[i]), p.Y[j] + f*(p.Y[j+dj]-p.Y[j])}
		return e
	}
	for j := 0; j+1 < len(p.Y); j++ {
		for i := 0; i+1 < nx; i++ {
			a, b, c, d := p.Value(i, j), p.Value(i+1, j), p.Value(i+1, j+1), p.Value(i, j+1)
			mean := (a + b + c + d) / 4
			if math.IsNaN(mean) || math.IsInf(mean, 0) {
				continue
			}
			var edges []int // in turn round the cell
			if (a >= level) != (b >= level) {
				edges = append(edges, cross(i, j, 1, 0))
			}
			if (b >= level) != (c >= level) {
				edges = append(edges, cross(i+1, j, 0, 1))
			}
			if (c >= level) != (d >= level) {
				edges = append(edges, cross(i, j+1, 1, 0))
			}
			if (d >= level) != (a >= level) {
				edges = append(edges, cross(i, j, 0, 1))
			}
			switch {
			case len(edges) == 2:
				link(edges[0], edges[1])
			case len(edges) == 4 && (mean >= level) == (a >= level): // a saddle: the mean decides
				link(edges[0], edges[1])
				link(edges[2], edges[3])
			case len(edges) == 4:
				link(edges[3], edges[0])
				link(edges[1], edges[2])
			}
		}
	}
	var lines [][]Point
	used := map[int]bool{}
	walk := func(e int) {
		var line []Point
		for !used[e] {
			used[e] = true
			line = append(line, where[e])
			for _, n := range next[e] {
				if !used[n] {
					e = n
					break
				}
			}
		}
		if ends := next[e]; len(line) > 2 && len(ends) == 2 { // closed
			line = append(line, line[0])
		}
		lines = append(lines, line)
	}
	for _, e := range order {
		if len(next[e]) == 1 && !used[e] {
			walk(e)
		}
	}
	for _, e := range order {
		if !used[e] {
			walk(e)
		}
	}
	return lines
}
