package kernel

import "muralheat/thermal/internal/cores"

// halves have passes run over the two sides of a Layout, side by side if there are two cores. A pass gives the same on one:
// no side needs the other, and what they return is added up in their order.
type halves struct {
	cores *cores.Pair // nil: one core
	half  func(i int) // half of the present pass: over a side
	pass  pass
	sums  [3]sums // of the sides
}

// pass is a loop over a side, and its arguments: here, not in a closure, so that a pass allocates nothing.
type pass struct {
	over        func(l *Layout, a *pass, s *side) sums
	when        order
	alpha, beta float32
	f           [5]Field
	q           [2]Quads
	v           []float64
}

// sums are what a pass adds up.
type sums [3]float64

// order is when a pass comes to the middle.
type order int

const (
	whenever order = iota
	middleFirst
	middleLast
)

// Spread has passes run on up to two cores; l stays where it is from then on.
func (l *Layout) Spread(c *cores.Pair) {
	l.cores = c
	l.half = func(i int) {
		l.over(i)
		if i == lower && l.pass.when == whenever {
			l.over(middle)
		}
	}
}

// run does a pass and returns what it adds up.
func (l *Layout) run(p pass) (all sums) {
	if l.pass = p; p.when == middleFirst {
		l.over(middle)
	}
	if l.cores != nil {
		l.cores.Each(2, l.half)
	} else {
		l.over(upper)
		l.over(lower)
	}
	if p.when == middleLast || p.when == whenever && l.cores == nil {
		l.over(middle)
	}
	for i := range all {
		all[i] = l.sums[upper][i] + l.sums[lower][i] + l.sums[middle][i]
	}
	return all
}

func (l *Layout) over(i int) {
	l.sums[i] = sums{}
	if s := &l.sides[i]; s.n > 0 {
		l.sums[i] = l.pass.over(l, &l.pass, s)
	}
}
