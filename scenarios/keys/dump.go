package keys

import "go.yaml.in/yaml/v4"

// Dump writes a node that has been read, or is made of such, as YAML.
func Dump(n *yaml.Node) []byte {
	text, err := yaml.Dump(cloned(n), yaml.WithLineWidth(-1))
	if err != nil {
		panic("keys: " + err.Error())
	}
	return text
}

// cloned copies a node: writing it changes it.
func cloned(n *yaml.Node) *yaml.Node {
	out := *n
	out.Content = nil
	for _, c := range n.Content {
		out.Content = append(out.Content, cloned(c))
	}
	return &out
}
