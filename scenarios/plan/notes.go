package plan

import (
	"fmt"
	"slices"

	"muralheat/scenarios"
	"muralheat/scenarios/keys"
)

// Notes returns what a person should know of the plan before its figures mislead, one sentence each: what is said of
// its first and of its last case alike, and a value of 0 that is not the least of a key, as where it stands for no limit.
func (s *Sweep) Notes() []string {
	notes := s.notesOf(0)
	last := s.notesOf(s.Len() - 1)
	notes = slices.DeleteFunc(notes, func(n string) bool { return !slices.Contains(last, n) })
	seen := map[string]bool{}
	look := func(key string, v scenarios.Value) {
		x, number := v.Number()
		_, k, ok := keys.Find(&keys.File{}, key)
		if ok && number && x == 0 && k.Zero != "" && !seen[key] {
			seen[key] = true
			notes = append(notes, fmt.Sprintf("%s: 0 means %s; tables and figures have it below the least value.", key, k.Zero))
		}
	}
	for a, x := range s.axes {
		for _, v := range x.list {
			look(s.Inputs[a].Key, v)
		}
	}
	for _, c := range s.cases {
		for _, x := range c.sets {
			look(x.Key, x.Value)
		}
	}
	return notes
}

// notesOf returns the remarks on a case, none on one that fails.
func (s *Sweep) notesOf(i int) []string {
	of, err := s.Scenario(i)
	if err != nil {
		return nil
	}
	return of.Notes()
}
