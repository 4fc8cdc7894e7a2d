package plan

import (
	"fmt"
	"reflect"
	"slices"

	"muralheat/scenarios/binomial"
	"muralheat/scenarios/keys"
)

// limit reads what muralheat limit looks for.
func (b *planner) limit() {
	l := b.p.Limit
	if l == nil {
		return
	}
	k := b.input(*l.Key, "limit", nil, false)
	if k == nil {
		return
	}
	b.s.Inputs = b.s.Inputs[:len(b.s.Inputs)-1] // it is no input of the sweep
	if k.Kind.Kind() != reflect.Float64 {
		b.At("limit.key", keys.Quote(*l.Key)+" is not a number", "only a number has a limit")
		return
	}
	x := &LimitSearch{Key: *l.Key, Unit: keys.UnitOf(*l.Key), From: *l.From, To: *l.To, Largest: true, Column: "margin_to_muscle_mm", Above: true, Probability: 0.05, Confidence: binomial.Confidence, Tolerance: 0.01, Scan: 5}
	if l.Find != nil {
		x.Largest = *l.Find == "largest"
	}
	if l.Column != nil {
		x.Column = *l.Column
	}
	switch {
	case l.Above != nil && l.Below != nil:
		b.At("limit.below", "is given together with above", "give one of them")
	case l.Above == nil && l.Below == nil:
		b.At("limit", "neither above nor below", "give the value of "+x.Column+" above or below which the result is safe")
	case l.Above != nil:
		x.Value = *l.Above
	default:
		x.Above, x.Value = false, *l.Below
	}
	b.ends("limit", k, x.From, x.To)
	if !(*l.From < *l.To) {
		b.At("limit.to", "is not above from", "give the lowest value, then the highest")
	}
	if l.Probability != nil {
		if len(b.p.Uncertain) == 0 {
			b.At("limit.probability_percent", "nothing is uncertain", "give uncertain, or leave it out")
		}
		x.Probability = *l.Probability / 100
	}
	if l.Confidence != nil {
		if len(b.p.Uncertain) == 0 {
			b.At("limit.confidence_percent", "nothing is uncertain", "give uncertain, or leave it out")
		}
		x.Confidence = *l.Confidence / 100
	}
	b.draws(x)
	if l.Tolerance != nil {
		x.Tolerance = *l.Tolerance / 100
	}
	if l.Scan != nil && b.integer("limit.scan", *l.Scan) {
		x.Scan = int(*l.Scan)
	}
	if l.InCases != nil {
		x.in = make([]bool, len(b.s.cases))
		for i, name := range l.InCases {
			p := slices.IndexFunc(b.s.cases, func(c namedSets) bool { return c.name == name })
			if p < 0 {
				b.At(keys.Item("limit.in_cases", i, ""), keys.Quote(name)+" is no case of the plan", "name cases of the plan")
				continue
			}
			x.in[p] = true
		}
	}
	b.s.Limit = x
}

// draws chooses the number of draws for what they are to show, or says that so few cannot show it.
func (b *planner) draws(x *LimitSearch) {
	if len(b.p.Uncertain) == 0 {
		return
	}
	least := binomial.Draws(x.Probability, x.Confidence)
	if x.Chosen = b.p.Draws == nil; x.Chosen {
		b.s.Draws = least
	}
	if b.s.Draws < least {
		b.At("draws", fmt.Sprintf("%d cannot show a probability of at most %g %% with %g %% confidence", b.s.Draws, 100*x.Probability, 100*x.Confidence),
			fmt.Sprintf("give %d or more, or leave it out", least))
		return
	}
	x.Allowed = binomial.Allowed(b.s.Draws, x.Probability, x.Confidence)
}
