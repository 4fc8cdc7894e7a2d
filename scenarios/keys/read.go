package keys

import (
	"cmp"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"
)

// Read parses the text and puts every value where it belongs, noting what is
// wrong with each alone. It returns nil if the text is not YAML at all.
func Read(r *Report, data []byte) *File {
	root := Parse(r, data)
	if root == nil {
		return nil
	}
	return ReadNode(r, root)
}

// ReadNode does so with what has been parsed; it returns nil if that is no mapping.
func ReadNode(r *Report, root *yaml.Node) *File {
	f := &File{}
	r.Mapping(root, reflect.ValueOf(f).Elem(), "")
	if root.Kind != yaml.MappingNode {
		return nil
	}
	return f
}

// nodeType is the type of a key whose value is taken as written: what it may be depends
// on the key of a scenario that it is for.
var nodeType = reflect.TypeFor[*yaml.Node]()

// plain refuses what a scenario has no use for: a value that stands elsewhere in
// the file (and may stand for a million values), and type tags.
func (r *Report) plain(n *yaml.Node, path string) bool {
	switch {
	case n.Kind == yaml.AliasNode || n.Anchor != "":
		r.Add(path, r.Place(n), "an anchor or alias (& or *)", "write the value out")
	case n.Style&yaml.TaggedStyle != 0:
		r.Add(path, r.Place(n), "a type tag (!)", "write the value without it")
	default:
		return true
	}
	return false
}

// Mapping reads the keys of a struct.
func (r *Report) Mapping(n *yaml.Node, v reflect.Value, path string) {
	if !r.plain(n, path) {
		return
	}
	keys := KeysOf(v.Type())
	names := make([]string, len(keys))
	for i, k := range keys {
		names[i] = k.Name
	}
	if n.Kind != yaml.MappingNode {
		r.Add(path, r.Place(n), What(n)+" where keys are needed", cmp.Or(varied(n, names), keysHere(names)))
		return
	}
	seen := map[string]mark{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		name, value := n.Content[i], n.Content[i+1]
		if name.Kind != yaml.ScalarNode || !r.plain(name, path) {
			r.Add(path, r.Place(name), "a key that is not a word", keysHere(names))
			continue
		}
		j := slices.Index(names, name.Value)
		if j < 0 && i > 1 && commaBefore(n.Content[i-2:i+2]) {
			last := Join(path, n.Content[i-2].Value)
			r.Add(last, r.Place(n.Content[i-1]), Quote(n.Content[i-1].Value+","+name.Value)+" where a number is needed", "use a decimal point: a comma ends the value")
			continue
		}
		if j < 0 {
			r.unknown(name, path, names)
			continue
		}
		here := Join(path, name.Value)
		if first, ok := seen[name.Value]; ok {
			r.Add(here, r.Place(name), "given twice", "it is already in line "+strconv.Itoa(first.Line))
			continue
		}
		seen[name.Value] = r.Place(name)
		r.value(name, value, v.FieldByIndex(keys[j].Index), &keys[j], here)
	}
	for _, k := range keys {
		if _, ok := seen[k.Name]; k.Required && !ok && !r.Bad[Join(path, k.Name)] {
			r.At(Join(path, k.Name), "missing", Needs(&k))
		}
	}
}

// commaBefore reports whether a key and the one before it, with their values, are one number with a decimal comma
// inside braces: {power_W: 1,5} reads as power_W: 1 and a key 5 without a value.
func commaBefore(pairs []*yaml.Node) bool {
	whole, part, none := pairs[1], pairs[2], pairs[3]
	return (whole.Tag == "!!int") && part.Tag == "!!int" && none.Tag == "!!null" && none.Value == ""
}

// keysHere lists the keys that there are.
func keysHere(names []string) string {
	if len(names) == 1 {
		return "the only key here is " + names[0]
	}
	return "keys here are " + List(names, "and")
}

// varied shows how a key of a scenario that stands alone in a plan is varied, "" if it is no such place or key.
func varied(n *yaml.Node, names []string) string {
	if n.Kind != yaml.ScalarNode || !slices.Contains(names, "key") {
		return ""
	}
	path := n.Value
	if homes := NewReport("", "", reflect.TypeFor[File]()).homes(path); len(homes) > 0 {
		path = Join(homes[0], path)
	}
	return "write [{key: " + Short(path) + ", values: [...]}]"
}

// Needs says what a missing key would hold.
func Needs(k *Key) string {
	switch {
	case k.HasLeast || k.HasMost || len(k.Choices) > 0:
		return strings.Replace(k.wants(), "choose ", "give ", 1)
	default:
		return "this key is needed"
	}
}

// unknown notes a key that does not exist, with the one most likely meant.
func (r *Report) unknown(name *yaml.Node, path string, names []string) {
	right := keysHere(names)
	if elsewhere := r.homes(name.Value); len(elsewhere) > 0 {
		right = "it belongs under " + List(elsewhere, "or")
	} else if guess := Near(name.Value, names); guess != "" {
		right = "did you mean " + guess + "?"
		r.Bad[Join(path, guess)] = true // so that it is not called missing as well
	}
	r.Add(Join(path, Short(name.Value)), r.Place(name), "unknown key", right)
}

// homes returns the mappings that do hold a key of this name, none within another.
func (r *Report) homes(name string) []string {
	var found []string
	var search func(t reflect.Type, path string)
	search = func(t reflect.Type, path string) {
		for t.Kind() != reflect.Struct {
			if t.Kind() != reflect.Pointer && t.Kind() != reflect.Slice || t == nodeType {
				return
			}
			t = t.Elem()
		}
		for _, k := range KeysOf(t) {
			within := func(home string) bool { return strings.HasPrefix(path+".", home+".") }
			if k.Name == name && path != "" && !slices.ContainsFunc(found, within) {
				found = append(found, path)
			}
		}
		for _, k := range KeysOf(t) {
			if path == "" && k.Name == beforeKey { // it repeats keys of the scenario
				continue
			}
			search(t.FieldByIndex(k.Index).Type, Join(path, k.Name))
		}
	}
	search(r.root, "")
	return found
}

// value reads whatever stands behind a key.
func (r *Report) value(name, n *yaml.Node, v reflect.Value, k *Key, path string) {
	r.Places[path] = r.Place(n)
	if n.Kind == yaml.MappingNode || n.Kind == yaml.SequenceNode {
		r.Places[path] = r.Place(name)
	}
	if n.Kind == yaml.ScalarNode && n.Tag == "!!null" && n.Style&yaml.TaggedStyle == 0 {
		r.Add(path, r.Place(n), "no value", "give one, or leave the key out")
		return
	}
	if v.Kind() == reflect.Slice {
		r.list(n, v, k, path)
		return
	}
	if v.Type() == nodeType {
		if r.plain(n, path) {
			v.Set(reflect.ValueOf(n))
		}
		return
	}
	if v.Type().Elem().Kind() == reflect.Struct {
		v.Set(reflect.New(v.Type().Elem()))
		r.Mapping(n, v.Elem(), path)
		return
	}
	if p := reflect.New(v.Type().Elem()); r.Scalar(n, p.Elem(), k, path) {
		v.Set(p)
	}
}

// list reads a list of mappings or of words.
func (r *Report) list(n *yaml.Node, v reflect.Value, k *Key, path string) {
	if !r.plain(n, path) {
		return
	}
	if n.Kind != yaml.SequenceNode {
		right := "write [ ... ], or one item per line after a dash"
		if k.Name == "vary" {
			right = cmp.Or(varied(n, []string{"key"}), right)
		}
		r.Add(path, r.Place(n), What(n)+" where a list is needed", right)
		return
	}
	if len(n.Content) < k.minItems {
		r.At(path, "an empty list", "give at least one item")
	}
	if k.maxItems > 0 && len(n.Content) > k.maxItems {
		r.At(path, strconv.Itoa(len(n.Content))+" items", "at most "+strconv.Itoa(k.maxItems))
		return
	}
	seen := map[string]bool{}
	for i, c := range n.Content {
		if v.Type().Elem() == nodeType {
			here := Item(path, i, "")
			r.Places[here] = r.Place(c)
			if r.plain(c, here) {
				v.Set(reflect.Append(v, reflect.ValueOf(c)))
			}
			continue
		}
		if v.Type().Elem().Kind() == reflect.String {
			e, here := reflect.New(v.Type().Elem()).Elem(), Item(path, i, "")
			r.Places[here] = r.Place(c)
			if r.Scalar(c, e, k, here) {
				if seen[e.String()] {
					r.At(here, Quote(e.String())+" is already in the list", "give each once")
				}
				seen[e.String()] = true
				v.Set(reflect.Append(v, e))
			}
			continue
		}
		e := reflect.New(v.Type().Elem().Elem())
		nameNode, name := named(c, e.Type().Elem())
		here := Item(path, i, "")
		if k.Name == "cases" { // numbered as in results.csv, from 0
			here = Item(path, i-1, "")
		}
		if nameNode != nil && !seen[name] {
			here = Item(path, i, name)
		}
		r.Places[here] = r.Place(c)
		r.Mapping(c, e.Elem(), here)
		if nameNode != nil && seen[name] {
			r.Add(Join(here, "name"), r.Place(nameNode), Quote(name)+" is the name of an item above", "give each item its own name")
		}
		seen[name] = true
		v.Set(reflect.Append(v, e))
	}
}

// named returns the name of a list item if it is one that can be used in paths.
func named(n *yaml.Node, t reflect.Type) (*yaml.Node, string) {
	if n.Kind != yaml.MappingNode || !hasName(t) {
		return nil, ""
	}
	pattern := KeysOf(reflect.TypeFor[Layer]())[0].pattern
	for i := 0; i+1 < len(n.Content); i += 2 {
		if c := n.Content[i+1]; n.Content[i].Value == "name" && c.Tag == "!!str" && pattern.MatchString(c.Value) && len(c.Value) <= 40 {
			return c, c.Value
		}
	}
	return nil, ""
}
