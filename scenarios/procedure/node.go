package procedure

import (
	"go.yaml.in/yaml/v4"

	"muralheat/scenarios/keys"
)

// merged returns the mapping of both, of two values at one key that of the second. Nodes keep their places.
func merged(a, b *yaml.Node) *yaml.Node {
	switch {
	case a == nil || b != nil && (a.Kind != yaml.MappingNode || b.Kind != yaml.MappingNode):
		return b
	case b == nil:
		return a
	}
	out := *a
	out.Content = append([]*yaml.Node(nil), a.Content...)
	for i := 0; i+1 < len(b.Content); i += 2 {
		if at := index(&out, b.Content[i].Value); at >= 0 {
			out.Content[at], out.Content[at+1] = b.Content[i], merged(out.Content[at+1], b.Content[i+1])
		} else {
			out.Content = append(out.Content, b.Content[i], b.Content[i+1])
		}
	}
	return &out
}

// index returns where a key of a mapping stands, -1 if it is not there.
func index(n *yaml.Node, key string) int {
	for i := 0; n != nil && n.Kind == yaml.MappingNode && i+1 < len(n.Content); i += 2 {
		if n.Content[i].Value == key {
			return i
		}
	}
	return -1
}

// at returns the value of a key of a mapping, nil if it is not there.
func at(n *yaml.Node, key string) *yaml.Node {
	if i := index(n, key); i >= 0 {
		return n.Content[i+1]
	}
	return nil
}

// without returns a mapping less a key.
func without(n *yaml.Node, key string) *yaml.Node {
	i := index(n, key)
	if i < 0 {
		return n
	}
	out := *n
	out.Content = append(append([]*yaml.Node(nil), n.Content[:i]...), n.Content[i+2:]...)
	return &out
}

// with returns a mapping with a value at a key, first in it if it is new.
func with(n *yaml.Node, key string, value *yaml.Node) *yaml.Node {
	out := *n
	out.Content = append([]*yaml.Node{word(key), value}, without(n, key).Content...)
	return &out
}

// mapping makes a mapping of keys and values in turn.
func mapping(content ...*yaml.Node) *yaml.Node {
	return &yaml.Node{Kind: yaml.MappingNode, Tag: "!!map", Content: content}
}

func number(v float64) *yaml.Node {
	return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!float", Value: keys.Text(v)}
}

func word(s string) *yaml.Node { return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: s} }
