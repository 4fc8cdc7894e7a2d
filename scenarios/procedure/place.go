package procedure

import (
	"fmt"
	"slices"
	"strings"

	"go.yaml.in/yaml/v4"

	"muralheat/scenarios"
	"muralheat/scenarios/keys"
)

// place is where a step was done, and all that was done there.
type place struct {
	step   Step
	node   *yaml.Node   // its scenario
	before []*yaml.Node // items of before: what was done there until its end
}

// onPlace puts what was done on the place of the step before into the scenario of a step; nil if the step cannot be there.
func (r *reader) onPlace(n *yaml.Node, s *keys.Step, path string, i int) *yaml.Node {
	here := keys.Join(path, "place")
	if i == 0 {
		r.At(here, "no step is before the first", "leave it out: a step is done on a fresh place")
		return nil
	}
	last, title := r.last, keys.Quote(*r.file.Steps[i-1].Title)
	switch {
	case r.file.Steps[i-1].Scenario == nil:
		r.At(here, "step "+title+" before it is without current and has no place", "leave it out, or do that step earlier or later")
	case last == nil: // something is wrong with it, and said so
	case s.Wall != nil:
		r.At(keys.Join(path, "wall"), "changes the wall on the place of step "+title, "leave it out, or place: a fresh place may have another wall")
	case last.step.Times > 1:
		r.At(here, fmt.Sprintf("step %s before it is done %d times, each on a fresh place", title, last.step.Times), "leave it out, or times there")
	case s.Times != nil && *s.Times > 1:
		r.At(keys.Join(path, "times"), "would each be on a fresh place", "leave it out, or write repeat")
	case index(n, "before") >= 0:
		r.At(here, "before is given in the scenario too", "leave one of them out")
	default:
		if key := r.unreached(); key != "" {
			r.At(here, fmt.Sprintf("%s, which is set, does not reach step %s", key, title), "write it in the file")
			return nil
		}
		if key := unlike(last.node, n); key != "" {
			r.At(here, fmt.Sprintf("%s is not as in step %s, with which it shares tissue and mesh", key, title), "give it in common, or leave place out for a fresh place")
			return nil
		}
		return with(n, "before", &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq", Content: last.before})
	}
	return nil
}

// each are the keys of a scenario that steps on the same place have for themselves.
var each = []string{"electrode", "motion", "current", "repeat"}

// unlike returns the first key that steps on the same place must share and do not, "" if there is none.
func unlike(a, b *yaml.Node) string {
	for _, n := range []*yaml.Node{a, b} {
		for i := 0; i+1 < len(n.Content); i += 2 {
			key := n.Content[i].Value
			if slices.Contains(each, key) || key == "before" || key == "afterwards_s" || scenarios.Describes(key) {
				continue
			}
			if !equal(at(a, key), at(b, key)) {
				return key
			}
		}
	}
	return ""
}

// equal reports whether two nodes say the same in the same order.
func equal(a, b *yaml.Node) bool {
	return a == b || a != nil && b != nil && a.Kind == b.Kind && a.Tag == b.Tag && a.Value == b.Value && slices.EqualFunc(a.Content, b.Content, equal)
}

// leave notes where a step was done, for one on the same place.
func (r *reader) leave(of Step, n *yaml.Node, path string) {
	item := mapping(word("title"), word(of.Title))
	for _, key := range each {
		if v := at(n, key); v != nil {
			item.Content = append(item.Content, word(key), v)
		}
	}
	item.Content = append(item.Content, word("pause_s"), number(of.RestS))
	for _, s := range r.sets { // they are put into each step, and so into what it was
		if top, _, _ := strings.Cut(s.Key, "."); slices.Contains(each, top) {
			item = put(item, strings.Split(s.Key, "."), s.Value.Node)
		}
	}
	r.last = &place{of, n, append(slices.Clone(itemsOf(n)), item)}
}

// itemsOf returns what is done before a scenario.
func itemsOf(n *yaml.Node) []*yaml.Node {
	if b := at(n, "before"); b != nil {
		return b.Content
	}
	return nil
}

// notThere notes the first problem of what was done before on the place of a step, if there is any, at its key place.
func (r *reader) notThere(ps keys.Problems, here string) bool {
	place := keys.Join(keys.Parent(here), "place")
	for _, p := range ps {
		item, key, within := keys.InBefore(p.Key)
		if !r.Given(place) || item == "" {
			continue
		}
		if within { // of a key that is right in the step itself
			for i, b := range r.last.before {
				if item == keys.BeforeItem(i) {
					p.Wrong = fmt.Sprintf("%s of step %s: %s", key, keys.Quote(at(b, "title").Value), p.Wrong)
				}
			}
		}
		r.At(place, p.Wrong, p.Right)
		return true
	}
	return false
}

// put returns a mapping with a value at a path.
func put(n *yaml.Node, path []string, value *yaml.Node) *yaml.Node {
	if len(path) > 1 {
		below := at(n, path[0])
		if below == nil {
			below = mapping()
		}
		value = put(below, path[1:], value)
	}
	return with(n, path[0], value)
}

// unreached returns a value set from outside that cannot be put into what a step was, "" if there is none.
func (r *reader) unreached() string {
	for _, s := range r.sets {
		if top, _, _ := strings.Cut(s.Key, "."); slices.Contains(each, top) && (strings.Contains(s.Key, "[") || s.Key == scenarios.SheetKey) {
			return s.Key
		}
	}
	return ""
}

// SamePlace reports whether step i is done on the place of the step before it.
func (p *Procedure) SamePlace(i int) bool { return i < len(p.Steps) && p.file.Steps[i].Place != nil }

// fixedBefore reports whether a key has a value of its own in what was done before some step on its place: values tried or
// drawn for the step do not reach it.
func (p *Procedure) fixedBefore(key string) bool {
	top, rest, _ := strings.Cut(key, ".")
	if !slices.Contains(each, top) {
		return false
	}
	for i := range p.Steps {
		if p.SamePlace(i+1) && (top == "current" || top == "repeat" || stated(at(nodeOf(p.Steps[i].Scenario), top), rest)) {
			return true
		}
	}
	return false
}
