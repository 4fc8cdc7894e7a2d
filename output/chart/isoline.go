package chart

import "math"

// Isoline returns the lines along which the field equals level, by marching
// squares. Lines that leave the grid stay open. Cells with a value that is not a
// number carry no line.
func (p *Plane) Isoline(level float64) [][]Point {
	s := &segments{plane: p, level: level, next: map[int][]int{}, where: map[int]Point{}}
	for j := 0; j+1 < len(p.Y); j++ {
		for i := 0; i+1 < len(p.X); i++ {
			s.cell(i, j)
		}
	}
	return s.lines()
}

// segments are the pieces of an isoline within the cells of a grid. Each grid edge is
// crossed at most once and shared by two cells, so its number names the end of a segment
// without comparing coordinates.
type segments struct {
	plane *Plane
	level float64
	next  map[int][]int // crossed edge -> edges linked to it
	where map[int]Point // crossed edge -> where
	order []int         // the edges as they were first linked
}

// cell links the edges round cell (i,j) that the line crosses.
func (s *segments) cell(i, j int) {
	p, level := s.plane, s.level
	a, b, c, d := p.Value(i, j), p.Value(i+1, j), p.Value(i+1, j+1), p.Value(i, j+1)
	mean := (a + b + c + d) / 4
	if math.IsNaN(mean) || math.IsInf(mean, 0) {
		return
	}
	var edges []int // in turn round the cell
	if (a >= level) != (b >= level) {
		edges = append(edges, s.cross(i, j, 1, 0))
	}
	if (b >= level) != (c >= level) {
		edges = append(edges, s.cross(i+1, j, 0, 1))
	}
	if (c >= level) != (d >= level) {
		edges = append(edges, s.cross(i, j+1, 1, 0))
	}
	if (d >= level) != (a >= level) {
		edges = append(edges, s.cross(i, j, 0, 1))
	}
	switch {
	case len(edges) == 2:
		s.link(edges[0], edges[1])
	case len(edges) == 4 && (mean >= level) == (a >= level): // a saddle: the mean decides
		s.link(edges[0], edges[1])
		s.link(edges[2], edges[3])
	case len(edges) == 4:
		s.link(edges[3], edges[0])
		s.link(edges[1], edges[2])
	}
}

// cross notes where the line crosses the edge from (i,j) to (i+di,j+dj) and returns its number.
func (s *segments) cross(i, j, di, dj int) int {
	p := s.plane
	a, b := p.Value(i, j), p.Value(i+di, j+dj)
	f := (s.level - a) / (b - a)
	e := 2*(j*len(p.X)+i) + dj
	s.where[e] = Point{p.X[i] + f*(p.X[i+di]-p.X[i]), p.Y[j] + f*(p.Y[j+dj]-p.Y[j])}
	return e
}

func (s *segments) link(a, b int) {
	for _, e := range [2]int{a, b} {
		if _, seen := s.next[e]; !seen {
			s.order = append(s.order, e)
		}
	}
	s.next[a] = append(s.next[a], b)
	s.next[b] = append(s.next[b], a)
}

// lines joins the segments, open lines first.
func (s *segments) lines() (lines [][]Point) {
	used := map[int]bool{}
	for _, e := range s.order {
		if len(s.next[e]) == 1 && !used[e] {
			lines = append(lines, s.walk(e, used))
		}
	}
	for _, e := range s.order {
		if !used[e] {
			lines = append(lines, s.walk(e, used))
		}
	}
	return lines
}

// walk follows the segments from an edge to the end of the line, or all round it.
func (s *segments) walk(e int, used map[int]bool) []Point {
	var line []Point
	for !used[e] {
		used[e] = true
		line = append(line, s.where[e])
		for _, n := range s.next[e] {
			if !used[n] {
				e = n
				break
			}
		}
	}
	if ends := s.next[e]; len(line) > 2 && len(ends) == 2 { // closed
		line = append(line, line[0])
	}
	return line
}
