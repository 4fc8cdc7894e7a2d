package scenarios

import (
	"bytes"
	"reflect"
	"slices"
	"strings"

	"go.yaml.in/yaml/v4"

	"muralheat/scenarios/keys"
)

// ResolvedYAML returns the scenario with every default written out and its source
// beside it. The text is itself a scenario, and gives the same Case bit for bit
// whatever becomes of the defaults and of the material library; only the damage
// laws are named rather than written out.
func (s *Scenario) ResolvedYAML() []byte {
	root := s.node(reflect.ValueOf(s.File), "")
	var b bytes.Buffer
	b.WriteString("# Resolved scenario: every default filled in, with where it comes from.\n")
	b.WriteString("# " + Caution + "\n")
	// The node is made of plain words and numbers: writing it cannot fail.
	d, err := yaml.NewDumper(&b, yaml.WithLineWidth(-1))
	if err == nil {
		err = d.Dump(root)
	}
	if err == nil {
		err = d.Close()
	}
	if err != nil {
		panic("scenarios: " + err.Error())
	}
	return b.Bytes()
}

// writtenOut are keys whose meaning is in the values of others.
var writtenOut = []string{"fibrosis", "as_run", "rest_s", "sheet", "set"}

// Caution is what every file and example says.
const Caution = "For research and teaching, not for setting treatment; local protocol and licensed practice decide."

// node returns the YAML of a value, nil if there is none to write.
func (s *Scenario) node(v reflect.Value, path string) *yaml.Node {
	switch {
	case v.Kind() == reflect.Pointer && v.IsNil():
		return nil
	case v.Kind() == reflect.Slice:
		n := &yaml.Node{Kind: yaml.SequenceNode}
		for i := range v.Len() {
			e := v.Index(i)
			n.Content = append(n.Content, s.node(e, keys.Item(path, i, keys.NameOf(e))))
		}
		if v.Len() == 0 {
			return nil
		}
		return n
	case v.Kind() == reflect.Pointer && v.Elem().Kind() == reflect.Struct:
		n := &yaml.Node{Kind: yaml.MappingNode}
		for _, k := range keys.KeysOf(v.Elem().Type()) {
			if k.WrittenOut() || slices.Contains(writtenOut, k.Name) {
				continue // its values are written out
			}
			if c := s.node(v.Elem().FieldByIndex(k.Index), keys.Join(path, k.Name)); c != nil {
				n.Content = append(n.Content, &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: k.Name}, c)
			}
		}
		if len(n.Content) == 0 { // a mapping of another scene
			return nil
		}
		return n
	case v.Kind() == reflect.Pointer:
		v = v.Elem()
	}
	n := &yaml.Node{Kind: yaml.ScalarNode, Tag: tagOf(v), Value: Printed(v)}
	if c := s.comment(path); c != "" {
		n.LineComment = "# " + strings.ReplaceAll(c, "\n", " ")
	}
	return n
}

func tagOf(v reflect.Value) string {
	switch v.Kind() {
	case reflect.Float64:
		return "!!float"
	case reflect.Bool:
		return "!!bool"
	}
	return "!!str"
}
