package procedure

import (
	"fmt"
	"slices"
	"strings"

	"go.yaml.in/yaml/v4"

	"muralheat/scenarios/keys"
	"muralheat/scenarios/plan"
)

// Limit returns the plan by which the limit is sought that the procedure asks for; nil if it asks for none.
func (p *Procedure) Limit() (*plan.Sweep, error) {
	l := p.file.Limit
	if l == nil {
		return nil, nil
	}
	asked := at(p.root, "limit")
	n := mapping()
	for _, key := range []string{"key", "from", "to", "find", "probability_percent", "tolerance_percent", "scan"} {
		if v := at(asked, key); v != nil {
			n.Content = append(n.Content, word(key), v)
		}
	}
	in := &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq"}
	for _, name := range p.taking(*l.Step, *l.Key) {
		in.Content = append(in.Content, word(name))
	}
	n.Content = append(n.Content, word("above"), number(orElse(l.MarginMM, 0)), word("in_cases"), in)
	more := map[string]*yaml.Node{"limit": n}
	if p.file.Uncertain != nil && p.file.Draws != nil {
		more["uncertain"], more["draws"], more["seed"] = at(p.root, "uncertain"), at(p.root, "draws"), at(p.root, "seed")
	}
	return planOf(p.Title, []*Procedure{p}, more)
}

// taking returns the names of the cases that a value of a step's key changes: of a key of the wall those of the later
// steps too, up to one that says it anew.
func (p *Procedure) taking(title, key string) (names []string) {
	from := slices.IndexFunc(p.Steps, func(s Step) bool { return s.Title == title })
	for i := max(from, 0); i < len(p.Steps); i++ {
		path, ofWall := strings.CutPrefix(key, "wall.")
		if i > from && (!ofWall || stated(p.file.Steps[i].Wall, path)) {
			break
		}
		if s := p.Steps[i]; s.Scenario != nil {
			names = append(names, s.Name)
		}
	}
	return names
}

// stated reports whether a mapping holds a path.
func stated(n *yaml.Node, path string) bool {
	first, rest, more := strings.Cut(path, ".")
	v := at(n, first)
	if more {
		return stated(v, rest)
	}
	return v != nil
}

// limit checks what muralheat limit is to look for.
func (r *reader) limit() {
	l := r.file.Limit
	if l == nil {
		return
	}
	i := slices.IndexFunc(r.p.Steps, func(s Step) bool { return s.Title == *l.Step })
	switch {
	case i < 0:
		var titles []string
		for _, s := range r.p.Steps {
			titles = append(titles, keys.Quote(s.Title))
		}
		r.At("limit.step", keys.Quote(*l.Step)+" is no step", "name "+keys.List(titles, "or"))
		return
	case r.p.SamePlace(i+1) && !strings.HasPrefix(*l.Key, "wall."):
		r.At("limit.step", fmt.Sprintf("step %s is done on the place of step %s, which would stay as it is there", keys.Quote(r.p.Steps[i+1].Title), keys.Quote(*l.Step)), "name the last step on the place, or a key of the wall")
		return
	case r.p.SamePlace(i) && strings.HasPrefix(*l.Key, "wall."):
		r.At("limit.step", fmt.Sprintf("step %s is done on the place of the step before it, whose wall would be another", keys.Quote(*l.Step)), "name the first step on the place")
		return
	case len(r.p.taking(*l.Step, *l.Key)) == 0:
		r.At("limit.key", keys.Quote(*l.Key)+" changes no step in which current flows", "give a key of the wall, or name a step with a scenario")
		return
	}
	if _, err := r.p.Limit(); err != nil {
		r.elsewhere(err, "limit")
	}
}
