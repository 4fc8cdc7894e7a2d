package plan

import (
	"errors"
	"slices"

	"muralheat/scenarios"
	"muralheat/scenarios/keys"
)

// tried caps how many cases are built to find what does not go together.
const tried = 1000

// try builds cases to find values that do not go together before anything runs: of a
// grid each value with the first ones of the other keys, else one point after the other.
func (b *planner) try() {
	s := b.s
	check := func(path string, i int, sets []scenarios.Set) { b.build(path, "with this ", s.BaseOf(i), sets) }
	switch d := s.design.(type) {
	case grid:
		first := s.Sets(0)
		if check("vary", 0, first); len(b.Problems) > 0 {
			return
		}
		for a, x := range d {
			for i, v := range x.list[:min(len(x.list), tried)] {
				sets := slices.Clone(first)
				sets[a].Value = v
				check(b.valueAt(a, i), 0, sets)
			}
		}
	default:
		for p := range min(s.Points(), tried) {
			path := b.first()
			switch d := d.(type) {
			case nil:
				if s.cases != nil {
					path = keys.Item("cases", p, s.cases[p].name)
				}
			case paired:
				path = b.valueAt(0, p)
			case oneAtATime:
				for a := range d {
					if _, ok := d.at(p, a); ok {
						path = keys.Item("vary", a, "")
					}
				}
			}
			if check(path, p*s.Draws, s.Sets(p*s.Draws)); len(b.Problems) > 0 {
				return
			}
		}
	}
}

// build finds what does not go together in one case.
func (b *planner) build(path, what string, of *scenarios.Scenario, sets []scenarios.Set) {
	_, err := of.With(sets...)
	var ps keys.Problems
	if errors.As(err, &ps) {
		b.At(path, what+ps[0].Key+": "+ps[0].Wrong, ps[0].Right)
	}
}

// sheets reads the source sheets of all cases, so that each is the same for the whole sweep.
func (b *planner) sheets() {
	for _, name := range b.s.sheetNames() {
		if err := b.s.Base.ReadSheet(b.s.Name, name); err != nil {
			b.At(b.first(), "source sheet "+keys.Quote(name)+": "+err.Error(), "")
			return
		}
	}
}

// sheetNames returns the source sheets that cases set.
func (s *Sweep) sheetNames() []string {
	var names []string
	for a := range s.axes {
		if s.Inputs[a].Key == scenarios.SheetKey {
			for _, v := range s.axes[a].list {
				names = append(names, v.String())
			}
		}
	}
	for _, c := range s.cases {
		for _, x := range c.sets {
			if x.Key == scenarios.SheetKey {
				names = append(names, x.Value.String())
			}
		}
	}
	return names
}

// valueAt is where the plan says value i of axis a.
func (b *planner) valueAt(a, i int) string {
	path := keys.Item("vary", a, "")
	if here := keys.Item(keys.Join(path, "values"), i, ""); b.Given(here) {
		return here
	}
	return path
}

// first is where a plan says what varies.
func (b *planner) first() string {
	if b.Given("vary") {
		return "vary"
	}
	if b.Given("uncertain") {
		return "uncertain"
	}
	return "scenario"
}
