package scenarios

import (
	"reflect"
	"slices"
	"strconv"

	"go.yaml.in/yaml/v4"
)

// Set puts a value at a key of a scenario, in place of what is there. Key is a path, as
// in "wall.layers.muscularis.thickness_mm".
type Set struct {
	Key   string
	Value Value
}

// Value is a number, word or switch as it is written.
type Value struct{ node *yaml.Node }

// Number returns a numeric value.
func Number(x float64) Value {
	return Value{&yaml.Node{Kind: yaml.ScalarNode, Tag: "!!float", Value: text(x)}}
}

// Word returns a value of text.
func Word(s string) Value {
	return Value{&yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: s}}
}

// String returns the value as it is written; numbers in their shortest form.
func (v Value) String() string {
	if x, ok := v.Number(); ok {
		return text(x)
	}
	return v.node.Value
}

// Number returns the value if it is one.
func (v Value) Number() (float64, bool) {
	if v.node.Tag != "!!float" && v.node.Tag != "!!int" {
		return 0, false
	}
	x, err := strconv.ParseFloat(v.node.Value, 64)
	return x, err == nil
}

// With returns the scenario with other values. What does not fit returns Problems.
func (s *Scenario) With(sets ...Set) (*Scenario, error) { return parseWith(s.Name, s.text, sets) }

// put brings one set value to where it belongs.
func (r *report) put(f *File, s Set) {
	v, k, ok := find(f, s.Key)
	if !ok {
		right := "`muralheat check` lists the keys of a scenario"
		if near := Near(s.Key, settable(f)); near != "" {
			right = "did you mean " + near + "?"
		}
		r.add(s.Key, place(s.Value.node), "no such key", right)
		return
	}
	for above := s.Key; above != "" && (above == s.Key || !r.given(above)); above = parent(above) {
		r.places[above] = place(s.Value.node)
	}
	if p := reflect.New(v.Type().Elem()); r.scalar(s.Value.node, p.Elem(), k, s.Key) {
		v.Set(p)
	}
}

// complete notes required keys that are missing in mappings a set value has made.
func (r *report) complete(v reflect.Value, path string) {
	switch {
	case v.Kind() == reflect.Slice && v.Type().Elem().Kind() == reflect.Pointer:
		for i := range v.Len() {
			r.complete(v.Index(i), item(path, i, nameOf(v.Index(i))))
		}
	case v.Kind() == reflect.Pointer && !v.IsNil() && v.Elem().Kind() == reflect.Struct:
		for _, k := range keysOf(v.Elem().Type()) {
			below, here := v.Elem().FieldByIndex(k.index), join(path, k.name)
			if k.required && below.IsZero() && !r.bad[here] {
				r.at(here, "missing", needs(&k))
			}
			r.complete(below, here)
		}
	}
}

// settable returns the paths of all keys that hold one value, those of the layers and
// probes that are there included.
func settable(f *File) []string {
	var paths []string
	var search func(t reflect.Type, v reflect.Value, path string)
	search = func(t reflect.Type, v reflect.Value, path string) {
		switch t.Kind() {
		case reflect.Pointer:
			if t.Elem().Kind() != reflect.Struct {
				paths = append(paths, path)
				return
			}
			if v.IsValid() {
				v = v.Elem() // zero for nil
			}
			for _, k := range keysOf(t.Elem()) {
				var below reflect.Value
				if v.IsValid() {
					below = v.FieldByIndex(k.index)
				}
				search(t.Elem().FieldByIndex(k.index).Type, below, join(path, k.name))
			}
		case reflect.Slice:
			for i := 0; v.IsValid() && i < v.Len(); i++ {
				search(t.Elem(), v.Index(i), item(path, i, nameOf(v.Index(i))))
			}
		}
	}
	search(reflect.TypeFor[*File](), reflect.ValueOf(f), "")
	return slices.DeleteFunc(paths, describes)
}

// describes reports whether a key only tells people what a case is about.
func describes(key string) bool {
	return key == "title" || key == "question" || key == "context_of_use"
}
