package plan

import (
	"fmt"
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
	case len(p.Uncertain) > 0 && p.Draws == nil:
		b.At("uncertain", "no draws", "give draws, their number at each point")
	}
	for i, u := range p.Uncertain {
		path := keys.Item("uncertain", i, "")
		if k := b.input(*u.Key, path, nil, true); k == nil {
			continue
		} else if k.Kind.Kind() != reflect.Float64 {
			b.At(keys.Join(path, "key"), keys.Quote(*u.Key)+" is not a number", "only numbers can be drawn")
			continue
		}
		given := 0
		for _, n := range []string{"normal", "lognormal", "uniform", "triangular"} {
			if b.Given(keys.Join(path, n)) {
				given++
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
		b.s.laws = append(b.s.laws, l)
	}
}
