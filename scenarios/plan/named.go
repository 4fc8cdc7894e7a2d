package plan

import (
	"fmt"

	"go.yaml.in/yaml/v4"

	"muralheat/scenarios"
)

// Named is a case of a plan that is written by the program.
type Named struct {
	Name, Title string
	Sets        []scenarios.Set
}

// OfCases writes a plan of named cases of the scenario that s varies and reads it as any plan is read, so that
// its folder is that of any sweep. name stands for its file.
func (s *Sweep) OfCases(name, title string, cases []Named) (*Sweep, error) {
	word := func(text string) *yaml.Node { return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: text} }
	list := &yaml.Node{Kind: yaml.SequenceNode}
	for _, c := range cases {
		set := &yaml.Node{Kind: yaml.MappingNode, Style: yaml.FlowStyle}
		at := map[string]int{} // of two values at one key the later one counts
		for _, x := range c.Sets {
			value := word(x.Value.Node.Value)
			if _, number := x.Value.Number(); number || x.Value.Node.Tag == "!!bool" {
				value = &yaml.Node{Kind: yaml.ScalarNode, Value: x.Value.String()}
			}
			if i, there := at[x.Key]; there {
				set.Content[i] = value
				continue
			}
			at[x.Key] = len(set.Content) + 1
			set.Content = append(set.Content, word(x.Key), value)
		}
		list.Content = append(list.Content, &yaml.Node{Kind: yaml.MappingNode, Content: []*yaml.Node{word("name"), word(c.Name), word("title"), word(c.Title), word("set"), set}})
	}
	text, err := yaml.Marshal(&yaml.Node{Kind: yaml.MappingNode, Content: []*yaml.Node{word("title"), word(title), word("scenario"), word("scenario.yaml"), word("cases"), list}})
	if err != nil {
		return nil, fmt.Errorf("plan: %w", err)
	}
	return Parse(name, text, func(string) (*scenarios.Scenario, error) { return s.Base.With() })
}
