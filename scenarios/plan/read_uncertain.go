package plan

import (
	"fmt"
	"math"
	"reflect"

	"muralheat/scenarios/keys"
)

// uncertain reads the distributions.
func (b *planner) uncertain() {
	p := b.p
	if p.Draws != nil && b.integer("draws", *p.Draws) {
		b.s.Draws = int(*p.Draws)
	}
	switch {
	case len(p.Uncertain) == 0 && p.Draws != nil:
		b.At("draws", "nothing is uncertain", "give uncertain, or leave it out")
	case len(p.Uncertain) > 0 && p.Draws == nil && p.Limit == nil:
		b.At("uncertain", "no draws", "give draws, their number at each point")
	}
	for i, u := range p.Uncertain {
		path := keys.Item("uncertain", i, "")
		k := b.input(*u.Key, path, u.Title, true)
		if k == nil {
			continue
		}
		if k.Kind.Kind() != reflect.Float64 {
			b.At(keys.Join(path, "key"), keys.Quote(*u.Key)+" is not a number", "only numbers can be drawn")
			continue
		}
		given, name := 0, ""
		for _, n := range []string{"normal", "lognormal", "uniform", "triangular"} {
			if b.Given(keys.Join(path, n)) {
				given, name = given+1, n
			}
		}
		if given != 1 {
			b.At(path, fmt.Sprintf("%d distributions", given), "give one of normal, lognormal, uniform or triangular")
			continue
		}
		if x := u.Uniform; x != nil && !(*x.Low < *x.High) {
			b.At(keys.Join(path, "uniform"), "low is not below high", "give low, then high")
			continue
		}
		if x := u.Triangular; x != nil && !(*x.Low <= *x.Mode && *x.Mode <= *x.High && *x.Low < *x.High) {
			b.At(keys.Join(path, "triangular"), "not in ascending order", "give low, mode and high in that order")
			continue
		}
		if w := u.Within; w != nil && !(*w.Low < *w.High) {
			b.At(keys.Join(path, "within"), "low is not below high", "give low, then high")
			continue
		}
		l := lawOf(u)
		if !(l.high > l.low) {
			b.At(keys.Join(path, "within"), "the whole distribution is cut off", "move the ends")
			continue
		}
		// A draw that the key does not take would be lost, and with it the thinnest walls first.
		if low, high := l.support[0], l.support[1]; !k.Spans(low, high) {
			b.At(keys.Join(path, name), fmt.Sprintf("draws from %s to %s leave the range of the key", end(low), end(high)), "move its ends, or give within: for each end "+k.Range())
			continue
		}
		b.s.laws = append(b.s.laws, l)
	}
}

// end writes an end of a distribution.
func end(x float64) string {
	if math.IsInf(x, 0) {
		return map[bool]string{true: "infinity", false: "-infinity"}[x > 0]
	}
	return keys.Text(x)
}

// tryDraws builds the cases with the least and the largest value drawn of each uncertain key.
func (b *planner) tryDraws() {
	for j := range b.s.laws {
		least, most := extremes(b.s.Seed, b.s.Draws, j)
		for _, d := range []int{least, most} {
			for p := range b.s.alone() {
				i := p*b.s.Draws + d
				if b.build(keys.Item("uncertain", j, ""), fmt.Sprintf("draw %d, ", d), b.s.BaseOf(i), b.s.Sets(i)); len(b.Problems) > 0 {
					return
				}
			}
		}
	}
}
