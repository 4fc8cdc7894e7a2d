package plan

import (
	"bytes"
	"fmt"
	"reflect"
	"slices"

	"go.yaml.in/yaml/v4"

	"muralheat/scenarios"
	"muralheat/scenarios/keys"
)

// A comparison of risk is a plan of two named cases with the same draws. Here it is made of another plan, so that
// its folder is that of a sweep, with all that goes with it.

// Pair returns the plan of two named cases of s with its uncertain keys; draws above 0 replace their number.
func (s *Sweep) Pair(a, b string, draws int) (*Sweep, error) {
	text := s.mapping()
	cases := &yaml.Node{Kind: yaml.SequenceNode}
	for _, name := range []string{a, b} {
		i := slices.IndexFunc(s.cases, func(c namedSets) bool { return c.name == name })
		cases.Content = append(cases.Content, valueAt(text, "cases").Content[i])
	}
	return s.drawn(valueAt(text, "title"), valueAt(text, "scenario"), cases, draws, s.Base)
}

// Beside returns the plan of two scenarios with the uncertain keys of s: a as it is, and a with the values of b. It is an
// error if that is not b, or not b in each draw.
func (s *Sweep) Beside(a, b *scenarios.Scenario, draws int) (*Sweep, error) {
	titles := []string{a.Title(), b.Title()}
	if titles[0] == titles[1] {
		titles = []string{a.Name, b.Name}
	}
	cases := &yaml.Node{Kind: yaml.SequenceNode}
	sets, err := turning(a, b)
	if err != nil {
		return nil, err
	}
	for n, of := range [][]scenarios.Set{nil, sets} {
		set := &yaml.Node{Kind: yaml.MappingNode}
		for _, x := range of {
			set.Content = append(set.Content, scenarios.Word(x.Key).Node, x.Value.Node)
		}
		cases.Content = append(cases.Content, mappingOf("name", scenarios.Word(string(rune('a'+n))).Node, "title", scenarios.Word(titles[n]).Node, "set", set))
	}
	pair, err := s.drawn(scenarios.Word("Risk of two settings, the same draws").Node, scenarios.Word("scenario.yaml").Node, cases, draws, a)
	if err != nil {
		return nil, err
	}
	for d := range min(pair.Draws, tried) {
		ours, err := pair.Scenario(pair.Draws + d)
		if err != nil {
			continue // it will be a failed row
		}
		if theirs, err := b.With(pair.Sets(d)...); err != nil || theirs.Identity() != ours.Identity() {
			return nil, alike(a, b, fmt.Sprintf("in draw %d the two do not follow the drawn keys alike", d))
		}
	}
	return pair, nil
}

// drawn returns a plan of cases with the uncertain keys of s.
func (s *Sweep) drawn(title, scenario, cases *yaml.Node, draws int, base *scenarios.Scenario) (*Sweep, error) {
	text := s.mapping()
	number := valueAt(text, "draws")
	if draws > 0 {
		number = &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!int", Value: fmt.Sprint(draws)}
	}
	plan := mappingOf("title", title, "question", valueAt(text, "question"), "context_of_use", valueAt(text, "context_of_use"),
		"scenario", scenario, "cases", cases, "uncertain", valueAt(text, "uncertain"), "draws", number, "seed", valueAt(text, "seed"))
	var b bytes.Buffer
	e := yaml.NewEncoder(&b)
	e.SetIndent(2)
	if err := e.Encode(plan); err != nil {
		return nil, err
	}
	if err := e.Close(); err != nil {
		return nil, err
	}
	return Parse(s.Name, b.Bytes(), func(string) (*scenarios.Scenario, error) { return base, nil })
}

// mapping returns the plan as it was written.
func (s *Sweep) mapping() *yaml.Node {
	return keys.Parse(keys.NewReport(s.Name, "plan", reflect.TypeFor[keys.PlanFile]()), s.text) // it has been read before
}

// valueAt returns what stands at a key of a mapping, nil if nothing does.
func valueAt(mapping *yaml.Node, key string) *yaml.Node {
	for i := 0; i+1 < len(mapping.Content); i += 2 {
		if mapping.Content[i].Value == key {
			return mapping.Content[i+1]
		}
	}
	return nil
}

// mappingOf makes a mapping of keys with those values that there are.
func mappingOf(keyValue ...any) *yaml.Node {
	m := &yaml.Node{Kind: yaml.MappingNode}
	for i := 0; i < len(keyValue); i += 2 {
		if v := keyValue[i+1].(*yaml.Node); v != nil {
			m.Content = append(m.Content, scenarios.Word(keyValue[i].(string)).Node, v)
		}
	}
	return m
}

// turning returns the values that make b of a: those that either gives and in which they differ.
func turning(a, b *scenarios.Scenario) (sets []scenarios.Set, err error) {
	of, given, missing := map[string]string{}, map[string]bool{}, []string{}
	for _, x := range a.Settings() {
		of[x.Key], given[x.Key] = x.Value, x.Given
		if x.Given {
			missing = append(missing, x.Key)
		}
	}
	for _, x := range b.Settings() {
		missing = slices.DeleteFunc(missing, func(key string) bool { return key == x.Key })
		value, there := of[x.Key]
		if scenarios.Describes(x.Key) || !x.Given && !given[x.Key] || there && value == x.Value || slices.ContainsFunc(b.Sets(), func(s scenarios.Set) bool { return s.Key == x.Key }) {
			continue
		}
		sets = append(sets, scenarios.Set{Key: x.Key, Value: written(b, x)})
	}
	switch turned, err := a.With(sets...); {
	case len(sets) == 0 && a.Identity() == b.Identity():
		return nil, fmt.Errorf("%s and %s are the same case; there is nothing to compare", a.Name, b.Name)
	case len(missing) > 0:
		return nil, alike(a, b, "it does not give "+missing[0])
	case err != nil || turned.Identity() != b.Identity():
		return nil, alike(a, b, "the keys that one gives and the other does not lead to other defaults")
	}
	return sets, nil
}

// written returns a setting as a plan sets it.
func written(s *scenarios.Scenario, x scenarios.Setting) scenarios.Value {
	v := scenarios.Word(x.Value)
	if _, k, ok := keys.Find(s.File, x.Key); ok {
		switch k.Kind.Kind() {
		case reflect.Float64:
			v.Node.Tag = "!!float"
		case reflect.Bool:
			v.Node.Tag = "!!bool"
		}
	}
	return v
}

func alike(a, b *scenarios.Scenario, why string) error {
	return fmt.Errorf("%s is not %s with other values: %s; give the same keys in both, or write both as cases of a plan", b.Name, a.Name, why)
}
