package kernel

import "muralheat/thermal/internal/cores"

// leastSteps is the number of steps from which planes have two halves: with some 3,000, those of a track at standard, what
// goes from one core's cache to the other's takes as long as is gained (measured).
const leastSteps = 20000

// halves spread a kernel over two cores, each of which takes one half of every plane. Sums are those of the halves, plane by
// plane, whether there is another core or not. The kernel in progress stands here, so that it takes no memory.
type halves struct {
	cut   int         // steps of a plane in its first half; all of them where it has no other
	cores *cores.Pair // nil: one core

	kernel           kernel
	args             args
	present          int // that of the present substitution
	sums             [2]sums
	through          func(half int)
	upward, downward func(half, plane int)
}

// kernel does a span of steps and returns what is added up.
type kernel func(l *Layout, on span, a *args) sums

type sums [3]float64

func (s *sums) add(o sums) {
	for i, v := range o {
		s[i] += v
	}
}

// args are what a kernel works on.
type args struct {
	x, y float32
	f    fields
	q    quads
	v    []float64
}

type (
	fields = [5]Field
	quads  = [2]Quads
)

// span is a run of steps. South and north lead from its cells in the first lane to those of the row before, from the last to the
// row after.
type span struct{ first, end, south, north int }

func (s span) len() int { return s.end - s.first }

// of returns what f holds there.
func (s span) of(f Field) Field { return f[s.first:s.end] }

// Spread has the kernels run on two cores where there are cells enough. What comes out is the same.
func (l *Layout) Spread(c *cores.Pair) {
	if !l.whole() {
		l.cores = c
	}
}

// halve cuts planes in two.
func (l *Layout) halve() { l.cut = l.plane / 2 }

// whole reports whether planes have one half only. Then kernels go through all steps at once.
func (l *Layout) whole() bool { return l.cut == l.plane }

func (l *Layout) all() span { return span{l.first, l.first + l.n, l.south(), l.north()} }

// half returns a half of a plane that is cut after so many steps.
func (l *Layout) half(half, plane, cut int) span {
	at := l.first + plane*l.plane
	s := span{at, at + cut, l.south(), l.north()}
	if half == 1 {
		s.first, s.end = s.end, at+l.plane
	}
	return s
}

// each runs a kernel, whose spans do not depend on each other, and returns its sums.
func (l *Layout) each(a args, k kernel) sums {
	l.begin(a, k)
	if l.whole() {
		return k(l, l.all(), &l.args)
	}
	l.cores.Each(2, l.through)
	return l.total()
}

// upwards runs a kernel such that it comes to a cell after those west, south and above, on planes that are cut after so many
// steps; downwards the other way about.
func (l *Layout) upwards(cut int, a args, k kernel) sums {
	l.begin(a, k)
	if l.whole() {
		return k(l, l.all(), &l.args)
	}
	l.present = cut
	l.cores.Follow(l.NPlane, 0, l.upward)
	return l.total()
}

func (l *Layout) downwards(a args, k kernel) {
	l.begin(a, k)
	if l.whole() {
		k(l, l.all(), &l.args)
		return
	}
	l.cores.Follow(l.NPlane, 1, l.downward)
}

func (l *Layout) begin(a args, k kernel) {
	l.args, l.kernel, l.sums = a, k, [2]sums{}
	if l.through != nil {
		return
	}
	l.through = func(half int) {
		var s sums
		for k := range l.NPlane {
			s.add(l.kernel(l, l.half(half, k, l.cut), &l.args))
		}
		l.sums[half] = s
	}
	l.upward, l.downward = l.up, l.down
}

func (l *Layout) total() sums {
	s := l.sums[0]
	s.add(l.sums[1])
	return s
}

// up does a half of a plane. Nothing comes from before the first row: where that would be the other core may be at work, so the
// first block looks for it where all is zero.
func (l *Layout) up(half, plane int) {
	on := l.half(half, plane, l.present)
	if half == 0 {
		first := on
		first.end = on.first + l.block
		first.south = -first.first
		l.add(half, first)
		on.first = first.end
	}
	l.add(half, on)
}

// down is its counterpart, from the last plane on.
func (l *Layout) down(half, plane int) {
	on := l.half(half, l.NPlane-1-plane, l.cut)
	if half == 1 {
		last := on
		last.first = on.end - l.block
		last.north = l.first + l.n - last.first
		l.add(half, last)
		on.end = last.first
	}
	l.add(half, on)
}

func (l *Layout) add(half int, on span) {
	if on.len() > 0 {
		l.sums[half].add(l.kernel(l, on, &l.args))
	}
}

// before returns what a substitution upwards left in the step before s; after what one downwards left in s, the step after it.
// Nothing goes on from plane to plane.
func (l *Layout) before(f Field, s int) *Lanes {
	if (s-l.first)%l.plane == 0 {
		return &still
	}
	return &f[s-1]
}

func (l *Layout) after(f Field, s int) *Lanes {
	if (s-l.first)%l.plane == 0 {
		return &still
	}
	return &f[s]
}

var still Lanes

// eachRow calls do for every row that begins in a span: its first cell, row by row, and that cell's step and lane.
func (l *Layout) eachRow(on span, do func(first, step, lane int)) {
	for k := (on.first - l.first) / l.plane; k*l.plane+l.first < on.end; k++ {
		for j := range l.NRow {
			if step, lane := l.Row(j, k); on.first <= step && step < on.end {
				do((k*l.NRow+j)*l.NX, step, lane)
			}
		}
	}
}
