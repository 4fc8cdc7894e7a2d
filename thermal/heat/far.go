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
	mostK        float64   // that a far cell may change in one of its steps; 0: all cells are near
	rows, planes int       // near: the first rows of the first planes
	waitsS       float64   // time since far cells stepped last
	partS        float64   // length of the last step of near cells
	worst        float64   // largest rate at which a far cell answers, 1/s
	heatJ        []float64 // what far cells got since they stepped last
	borderJ      float64   // what of it came from near cells
	source       []float64 // what they get still, W over the scale that was
	gatherS      float64   // for so long, times that scale
	near, far    []Span
	whole        []Span // all cells
	isFar        []bool // each cell, once any may be
	allMoved     bool   // whether far cells stepped in the last Step or after it
}

// Span is cells First to End-1.
type Span struct{ First, End int }

const (
	// mostFarS is the longest step of far cells, s.
	mostFarS = 0.02

	// ofLimit is the part of the longest stable step that far cells wait for at most.
	ofLimit = 0.95

	// coolerK is how far below boiling far cells are, K.
	coolerK = 20

	// margin is how many rows beside far ones must be as still as they.
	margin = 2
)

// SetFar lets rows of cells step less often that then change by at most mostK in a step, K; 0: none.
func (s *Solver) SetFar(mostK float64) {
	s.CatchUp()
	f := &s.far
	f.mostK, f.worst = mostK, 0
	if f.heatJ == nil && mostK > 0 {
		f.heatJ, f.isFar = make([]float64, s.m.Len()), make([]bool, s.m.Len())
	}
	s.split(s.m.NY, s.m.NZ)
}

// split makes the first rows of the first planes near.
func (s *Solver) split(rows, planes int) {
	f, m := &s.far, s.m
	f.rows, f.planes = rows, planes
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
	clear(f.isFar)
	for _, c := range f.far {
		for p := c.First; p < c.End; p++ {
			f.isFar[p] = true
		}
	}
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

// parted returns which walls on the surface and below lose heat at each step of near cells, and which of far ones.
func (s *Solver) parted() (lumen, farLumen, outer, farOuter []wall) {
	n := min(s.far.rows*s.m.NX, len(s.lumen))
	lumen, farLumen = s.lumen[:n], s.lumen[n:]
	if s.far.planes < s.m.NZ {
		return lumen, farLumen, nil, s.outer
	}
	return lumen, farLumen, s.outer, nil
}

// wait has far cells wait for h more seconds.
func (s *Solver) wait(h float64, src []float64) {
	f := &s.far
	if f.mostK == 0 {
		return
	}
	if f.source != nil && &f.source[0] != &src[0] {
		s.SourceChanges()
	}
	f.source = src
	f.waitsS += h
	f.partS = h
	f.gatherS += float64(h * s.SourceScale)
	s.exchange(h)
}

// exchange adds what comes from near cells in h seconds, as they are now.
func (s *Solver) exchange(h float64) {
	f := &s.far
	s.eachBorder(func(first, back int, g []float64) {
		in, here, near, sum := f.heatJ[first:][:len(g)], s.T[first:][:len(g)], s.T[first-back:][:len(g)], 0.0
		for i, g := range g {
			j := h * g * (near[i] - here[i])
			in[i] += j
			sum += j
		}
		f.borderJ += sum
	})
}

// SourceChanges must be called before the source that Step was given last is written to.
func (s *Solver) SourceChanges() {
	f := &s.far
	if f.gatherS == 0 {
		return
	}
	s.cores.Each(len(f.far), func(i int) {
		c := f.far[i]
		kernel.Gather(f.heatJ[c.First:c.End], f.source[c.First:c.End], f.gatherS)
	})
	f.gatherS = 0
}

// longestS is the longest step that far cells make, s.
func (f *far) longestS() float64 { return math.Min(mostFarS, ofLimit/f.worst) }

// CatchUp brings far cells to the time of the near ones, and looks for more that can be far.
func (s *Solver) CatchUp() {
	if s.far.waitsS > 0 && !s.advance() {
		s.shrink()
	}
}

// advance brings far cells to the time of the near ones. Those that change too fast, or come to be too hot, are near from then on;
// it reports whether there are any.
func (s *Solver) advance() (grown bool) {
	f := &s.far
	h := f.waitsS
	f.waitsS, f.allMoved = 0, true
	if len(f.far) == 0 || h == 0 {
		f.gatherS = 0
		return false
	}
	s.SourceChanges()
	_, lumen, _, outer := s.parted()
	s.LumenJ += s.passW(lumen) * h
	s.OuterJ += s.passW(outer) * h
	s.exchange(-h) // the step reckons with near cells as they are now
	s.body.T, s.body.Source, s.body.Scale = s.T, f.heatJ, 1/h
	hot, most := s.phases.BoilC-coolerK, f.mostK*h/f.longestS()
	s.march(f.far, h, hot)
	s.JouleJ -= f.borderJ
	f.borderJ = 0
	rows, planes := f.rows, f.planes
	near := func(p int) {
		j, k := s.row(p)
		rows, planes = max(rows, j+1), max(planes, k+1)
	}
	for _, c := range s.boiling {
		s.boil(c.First, c.End)
		for p := c.First; p < c.End; p++ {
			if s.next[p] > hot {
				near(p)
			}
		}
	}
	for _, c := range f.far {
		clear(f.heatJ[c.First:c.End])
		for p := c.First; p < c.End; p += s.m.NX {
			if kernel.Keep(s.T[p:p+s.m.NX], s.next[p:p+s.m.NX]) > most {
				near(p)
			}
		}
	}
	if rows == f.rows && planes == f.planes {
		return false
	}
	s.split(rows, planes)
	return true
}

// shrink makes the outermost near row, and the deepest plane, far if they and those beside them are still.
func (s *Solver) shrink() {
	f := &s.far
	held, heldK := 0, 0 // rows and planes with walls
	for _, walls := range [...][]wall{s.metal, s.exposed, s.contact} {
		for _, w := range walls {
			j, k := s.row(w.p)
			held, heldK = max(held, j+1), max(heldK, k+1)
		}
	}
	still := func(j0, k0 int) (worst float64, is bool) {
		for k := k0; k < f.planes; k++ {
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
	rows, planes := f.rows, f.planes
	if f.rows > held+margin {
		if worst, is := still(f.rows-margin, 0); is {
			rows, f.worst = rows-1, max(f.worst, worst)
		}
	}
	if f.planes > heldK+margin {
		if worst, is := still(0, f.planes-margin); is {
			planes, f.worst = planes-1, max(f.worst, worst)
		}
	}
	if rows != f.rows || planes != f.planes {
		s.split(rows, planes)
		for _, c := range f.far {
			copy(s.next[c.First:c.End], s.T[c.First:c.End])
		}
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

// embrace makes cell p, to which something happens other than warming, near.
func (s *Solver) embrace(p int) {
	if s.far.mostK > 0 && s.far.isFar[p] {
		s.advance()
		j, k := s.row(p)
		s.split(min(max(s.far.rows, j+margin), s.m.NY), min(max(s.far.planes, k+margin), s.m.NZ))
	}
}
