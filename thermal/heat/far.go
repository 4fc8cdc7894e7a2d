package heat

import (
	"math"

	"muralheat/thermal/heat/kernel"
)

// far is what lets cells far from the electrode of a track step less often. A row of cells along the track is near, or
// far: near are the first rows of the first planes. Far rows hold nothing but wet tissue that warms slowly. They make one
// explicit step for several of the others,
//
//	T' = T + 1/C (sum over faces of H k (T_neighbour - T) + heat of the source - H b (T - T_b)),   H = sum of h
//
// with the heat of the source added up over the steps h of the near cells. In between they stand still, and what passes
// between them and near cells is added up too: what one side loses is what the other gets.
type far struct {
	mostK        float64 // that a far cell may change in one of its steps; 0: all cells are near
	rows, planes int     // near: the first rows of the first planes
	waitsS       float64 // time since far cells stepped last
	partS        float64 // length of the last step of near cells
	worst        float64 // largest rate at which a far cell answers, 1/s
	sourceJ      []float64
	borderJ      []float64 // what came in from near cells
	near, far    []Span
	whole        []Span // all cells
	allMoved     bool   // whether far cells stepped in the last Step or after it
}

// Span is cells First to End-1.
type Span struct{ First, End int }

const (
	// mostFarS is the longest step of far cells, s.
	mostFarS = 0.02

	// ofLimit is the part of the longest stable step that far cells wait for at most.
	ofLimit = 0.9

	// coolerK is how far below boiling far cells are, K.
	coolerK = 20

	// margin is how many rows beside far ones must be as still as they.
	margin = 2
)

// SetFar lets rows of cells step less often that then change by at most mostK in a step, K; 0: none.
func (s *Solver) SetFar(mostK float64) {
	s.CatchUp()
	f := &s.far
	f.mostK, f.rows, f.planes, f.worst = mostK, s.m.NY, s.m.NZ, 0
	if f.sourceJ == nil && mostK > 0 {
		f.sourceJ, f.borderJ = make([]float64, s.m.Len()), make([]float64, s.m.Len())
	}
	s.split()
}

// split lists the cells that are near and those that are far.
func (s *Solver) split() {
	f, m := &s.far, s.m
	f.near, f.far = f.near[:0], f.far[:0]
	f.whole = append(f.whole[:0], Span{m.Plane(), m.Plane() + m.Cells()})
	if f.rows == m.NY {
		f.near = append(f.near, Span{m.Plane(), m.Index(0, 0, f.planes)})
	} else {
		for k := range f.planes {
			f.near = append(f.near, Span{m.Index(0, 0, k), m.Index(0, f.rows, k)})
			f.far = append(f.far, Span{m.Index(0, f.rows, k), m.Index(0, 0, k+1)})
		}
	}
	if f.planes < m.NZ {
		f.far = append(f.far, Span{m.Index(0, 0, f.planes), m.Plane() + m.Cells()})
	}
}

// isFar reports whether cell p is far.
func (s *Solver) isFar(p int) bool {
	if len(s.far.far) == 0 {
		return false
	}
	j, k := s.row(p)
	return j >= s.far.rows || k >= s.far.planes
}

// row returns the place of cell p across the track and in depth.
func (s *Solver) row(p int) (j, k int) {
	_, j, k = s.m.Cell(p)
	return j, k
}

// Moved returns the cells whose temperature the last Step, and what came after it, may have changed.
func (s *Solver) Moved() []Span {
	if s.far.allMoved {
		return s.far.whole
	}
	return s.far.near
}

// eachBorder calls do with each row of far cells beside near ones: its first cell, how far before it the near one lies, and the
// conductances of the faces between, W/K.
func (s *Solver) eachBorder(do func(first, back int, g []float64)) {
	f, m := &s.far, s.m
	if f.rows < m.NY {
		for k := range f.planes {
			p := m.Index(0, f.rows, k)
			do(p, m.NX, s.k.Y[p-m.NX:p])
		}
	}
	if f.planes < m.NZ {
		for j := range f.rows {
			p := m.Index(0, j, f.planes)
			do(p, m.Plane(), s.k.Z[p-m.Plane():][:m.NX])
		}
	}
}

// wait adds up what far cells get in a step of h seconds of near ones.
func (s *Solver) wait(h float64, src []float64) {
	f := &s.far
	if f.mostK == 0 {
		return
	}
	f.waitsS += h
	f.partS = h
	for _, c := range f.far {
		kernel.Gather(f.sourceJ[c.First:c.End], src[c.First:c.End], h*s.SourceScale)
	}
	s.eachBorder(func(first, back int, g []float64) {
		in, here, near := f.borderJ[first:][:len(g)], s.T[first:][:len(g)], s.T[first-back:][:len(g)]
		for i, g := range g {
			in[i] += h * g * (near[i] - here[i])
		}
	})
}

// longestS is the longest step that far cells make, s.
func (f *far) longestS() float64 { return math.Min(mostFarS, ofLimit/f.worst) }

// CatchUp brings far cells to the time of the near ones, and chooses which are far from then on.
func (s *Solver) CatchUp() {
	if f := &s.far; f.mostK > 0 && f.waitsS > 0 {
		h := f.waitsS
		rows, planes := s.advance()
		s.choose(h, rows, planes)
	}
}

// advance brings far cells to the time of the near ones. It returns how many rows and planes change too fast, or came to be too hot, to be far.
func (s *Solver) advance() (rows, planes int) {
	f := &s.far
	h := f.waitsS
	f.waitsS, f.allMoved = 0, true
	if len(f.far) == 0 || h == 0 {
		return 0, 0
	}
	s.body.T, s.body.Source, s.body.Scale = s.T, f.sourceJ, 1/h
	s.boiling = s.boiling[:0]
	for _, c := range f.far {
		s.march(c, h, s.phases.BoilC-coolerK)
	}
	// That reckoned with near cells as they are now.
	s.eachBorder(func(first, back int, g []float64) {
		for i, g := range g {
			p := first + i
			s.next[p] += s.invC[p] * (f.borderJ[p] - h*g*(s.T[p-back]-s.T[p]))
			f.borderJ[p] = 0
		}
		s.boil(first, first+len(g))
	})
	near := func(p int) {
		j, k := s.row(p)
		rows, planes = max(rows, j+1), max(planes, k+1)
	}
	for _, c := range s.boiling {
		s.boil(c.First, c.End)
		for p := c.First; p < c.End; p++ {
			if s.next[p] > s.phases.BoilC-coolerK {
				near(p)
			}
		}
	}
	most := f.mostK * h / f.longestS()
	for _, c := range f.far {
		clear(f.sourceJ[c.First:c.End])
		for p := c.First; p < c.End; p += s.m.NX {
			if kernel.Keep(s.T[p:p+s.m.NX], s.next[p:p+s.m.NX]) > most {
				near(p)
			}
		}
	}
	return rows, planes
}

// choose makes rows that must be near by now near, or else the outermost near rows and planes far, if they and those beside them
// have been still for the last h seconds.
func (s *Solver) choose(h float64, rows, planes int) {
	f := &s.far
	if rows > f.rows || planes > f.planes {
		s.grow(rows, planes)
		return
	}
	for _, walls := range [...][]wall{s.metal, s.exposed, s.contact} {
		for _, w := range walls {
			j, k := s.row(w.p)
			rows, planes = max(rows, j+1), max(planes, k+1)
		}
	}
	still := func(j0, k0, k1 int) (worst float64, is bool) {
		for k := k0; k < k1; k++ {
			for j := j0; j < f.rows; j++ {
				w, is := s.still(j, k)
				if !is {
					return 0, false
				}
				worst = max(worst, w)
			}
		}
		return worst, true
	}
	jn, kn := f.rows, f.planes
	if f.rows > rows+margin {
		if worst, is := still(f.rows-margin, 0, f.planes); is {
			jn, f.worst = jn-1, max(f.worst, worst)
		}
	}
	if f.planes > planes+margin {
		if worst, is := still(0, f.planes-margin, f.planes); is {
			kn, f.worst = kn-1, max(f.worst, worst)
		}
	}
	if jn == f.rows && kn == f.planes {
		return
	}
	f.rows, f.planes = jn, kn
	s.split()
	for _, c := range f.far {
		copy(s.next[c.First:c.End], s.T[c.First:c.End])
	}
}

// still reports whether row j, k of near cells could be far, and the largest rate at which a cell of it answers, 1/s.
func (s *Solver) still(j, k int) (worst float64, is bool) {
	f := &s.far
	most := 0.5 * f.mostK * f.partS / f.longestS()
	for p := s.m.Index(0, j, k); p < s.m.Index(0, j, k)+s.m.NX; p++ {
		if s.gone[p] || s.Water[p] != 1 || !(s.T[p] < s.phases.BoilC-coolerK) || !(math.Abs(s.T[p]-s.next[p]) < most) {
			return 0, false
		}
		worst = max(worst, s.rate(p))
	}
	return worst, true
}

// grow makes at least so many rows and planes near; far cells must have been brought up to time.
func (s *Solver) grow(rows, planes int) {
	f := &s.far
	f.rows, f.planes = max(f.rows, rows), max(f.planes, planes)
	s.split()
}

// embrace makes cell p, to which something happens other than warming, near.
func (s *Solver) embrace(p int) {
	if s.isFar(p) {
		s.advance()
		j, k := s.row(p)
		s.grow(min(j+margin, s.m.NY), min(k+margin, s.m.NZ))
	}
}
