package output

import "math"

// point is a place on a drawing in data units: millimetres in a section, with y
// the depth.
type point struct{ x, y float64 }

// plane is a field sampled on a grid, linear between the samples.
type plane struct {
	x, y []float64 // ascending
	v    []float64 // len(x)*len(y), x fastest
}

func (p *plane) value(i, j int) float64 { return p.v[j*len(p.x)+i] }

// at returns the value at (x,y), clamped to the edge.
func (p *plane) at(x, y float64) float64 {
	i, fx := locate(p.x, x)
	j, fy := locate(p.y, y)
	return (1-fy)*((1-fx)*p.value(i, j)+fx*p.value(i+1, j)) +
		fy*((1-fx)*p.value(i, j+1)+fx*p.value(i+1, j+1))
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

// isoline returns the lines along which the field equals level, by marching
// squares. Lines that leave the grid stay open. Cells with a value that is not a
// number carry no line.
func (p *plane) isoline(level float64) [][]point {
	// Each grid edge is crossed at most once and shared by two cells, so its
	// number names the end of a segment without comparing coordinates.
	nx := len(p.x)
	next := map[int][]int{} // crossed edge -> edges linked to it
	where := map[int]point{}
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
		a, b := p.value(i, j), p.value(i+di, j+dj)
		f := (level - a) / (b - a)
		e := 2*(j*nx+i) + dj
		where[e] = point{p.x[i] + f*(p.x[i+di]-p.x[i]), p.y[j] + f*(p.y[j+dj]-p.y[j])}
		return e
	}
	for j := 0; j+1 < len(p.y); j++ {
		for i := 0; i+1 < nx; i++ {
			a, b, c, d := p.value(i, j), p.value(i+1, j), p.value(i+1, j+1), p.value(i, j+1)
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
	var lines [][]point
	used := map[int]bool{}
	walk := func(e int) {
		var line []point
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
