package scenarios

import (
	"cmp"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"

	"muralheat/scenarios/keys"
)

// Set puts a value at a key of a scenario, in place of what is there. Key is a path, as
// in "wall.layers.muscularis.thickness_mm".
type Set struct {
	Key   string
	Value Value
	By    string // what a problem names in place of the file, as "--set"; "": nothing

	Beside string // file relative to whose folder a file that it names is; "": that of the scenario
}

// String returns the set value as ParseSet reads it.
func (s Set) String() string { return s.Key + "=" + s.Value.String() }

// ParseSet reads key=value; by stands for the file in problems.
func ParseSet(text, by string) (Set, error) {
	key, value, ok := strings.Cut(text, "=")
	if key = strings.TrimSpace(key); !ok || key == "" {
		return Set{}, keys.Problems{{File: by, Wrong: keys.Quote(text) + " is not key=value", Right: "write it as in " + by + " current.power_W=2"}}
	}
	if Describes(key) {
		return Set{Key: key, Value: Word(value), By: by}, nil
	}
	var doc yaml.Node
	if err := yaml.Load([]byte(value), &doc); err != nil && strings.TrimSpace(value) != "" {
		return Set{}, keys.Problems{{File: by, Key: key, Wrong: keys.Quote(value) + " is not a value", Right: "write a number, a word, true or false"}}
	}
	node := &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!null"}
	if len(doc.Content) > 0 {
		node = doc.Content[0]
	}
	node.Line, node.Column = 0, 0
	return Set{Key: key, Value: Value{node}, By: by, Beside: by}, nil
}

// Value is a number, word or switch as it is written.
type Value struct{ Node *yaml.Node }

// Number returns a numeric value.
func Number(x float64) Value {
	return Value{&yaml.Node{Kind: yaml.ScalarNode, Tag: "!!float", Value: keys.Text(x)}}
}

// Word returns a value of text.
func Word(s string) Value {
	return Value{&yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: s}}
}

// String returns the value as it is written; numbers in their shortest form.
func (v Value) String() string {
	if x, ok := v.Number(); ok {
		return keys.Text(x)
	}
	return v.Node.Value
}

// Number returns the value if it is one.
func (v Value) Number() (float64, bool) {
	if v.Node.Tag != "!!float" && v.Node.Tag != "!!int" {
		return 0, false
	}
	x, err := strconv.ParseFloat(v.Node.Value, 64)
	return x, err == nil
}

// With returns the scenario with other values; of two at one key the later one counts. What does not fit returns
// Problems.
func (s *Scenario) With(sets ...Set) (*Scenario, error) {
	return parseWith(s.Name, s.text, slices.Concat(s.sets, sets), s.shelf)
}

// Sets returns the values that were put in place of those of the file.
func (s *Scenario) Sets() []Set { return slices.Clone(s.sets) }

// put brings one set value to where it belongs.
func put(r *keys.Report, f *keys.File, s Set) {
	r.By = s.By
	defer func() { r.By = "" }()
	v, k, ok := keys.Find(f, s.Key)
	if !ok {
		wrong, right := Unsettable(f, s.Key)
		r.Add(s.Key, r.Place(s.Value.Node), wrong, right)
		return
	}
	for above := s.Key; above != "" && (above == s.Key || !r.Given(above)); above = keys.Parent(above) {
		r.Places[above] = r.Place(s.Value.Node)
	}
	if s.Value.Node.Tag == "!!null" {
		r.Add(s.Key, r.Place(s.Value.Node), "no value", keys.Needs(k))
		return
	}
	if p := reflect.New(v.Type().Elem()); r.Scalar(s.Value.Node, p.Elem(), k, s.Key) {
		v.Set(p)
	}
}

// complete notes required keys that are missing in mappings a set value has made.
func complete(r *keys.Report, v reflect.Value, path string) {
	switch {
	case v.Kind() == reflect.Slice && v.Type().Elem().Kind() == reflect.Pointer:
		for i := range v.Len() {
			complete(r, v.Index(i), keys.Item(path, i, keys.NameOf(v.Index(i))))
		}
	case v.Kind() == reflect.Pointer && !v.IsNil() && v.Elem().Kind() == reflect.Struct:
		for _, k := range keys.KeysOf(v.Elem().Type()) {
			below, here := v.Elem().FieldByIndex(k.Index), keys.Join(path, k.Name)
			if k.Required && below.IsZero() && !r.Bad[here] {
				r.At(here, "missing", keys.Needs(&k))
			}
			complete(r, below, here)
		}
	}
}

// Settable returns the paths of all keys that hold one value, those of the layers and
// probes that are there included.
func Settable(f *keys.File) []string {
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
			for _, k := range keys.KeysOf(t.Elem()) {
				var below reflect.Value
				if v.IsValid() {
					below = v.FieldByIndex(k.Index)
				}
				search(t.Elem().FieldByIndex(k.Index).Type, below, keys.Join(path, k.Name))
			}
		case reflect.Slice:
			for i := 0; v.IsValid() && i < v.Len(); i++ {
				search(t.Elem(), v.Index(i), keys.Item(path, i, keys.NameOf(v.Index(i))))
			}
		}
	}
	search(reflect.TypeFor[*keys.File](), reflect.ValueOf(f), "")
	return slices.DeleteFunc(paths, Describes)
}

// Unsettable says what is wrong with a key that holds no value and which one was most likely meant: one of the same
// name elsewhere, one of the layer of muscle if that is how it is called, or one that is few letters off.
func Unsettable(f *keys.File, word string) (wrong, right string) {
	all := Settable(f)
	for _, l := range wallLayers(f) {
		if rest, ok := strings.CutPrefix(word+".", wallKeys+".muscle."); ok && keys.On(l.Muscle) {
			word = strings.TrimSuffix(keys.Item(wallKeys, 0, keys.Word(l.Name))+"."+cmp.Or(rest, "thickness_mm"), ".")
		}
	}
	if i := slices.IndexFunc(all, func(path string) bool { return strings.HasPrefix(path, word+".") }); i >= 0 {
		return "holds keys of its own", "name one of them, as in " + all[i]
	}
	if v, k, _ := keys.Find(f, word); k != nil && v.Kind() == reflect.Slice {
		return "holds a list", "write it in the scenario"
	}
	guess := ""
	if last := nearLast(word, all); !strings.Contains(word, ".") {
		for _, path := range all { // the one least deep
			if strings.HasSuffix(path, "."+last) && (guess == "" || strings.Count(path, ".") < strings.Count(guess, ".")) {
				guess = path
			}
		}
	}
	if guess = cmp.Or(guess, keys.Near(word, all)); guess != "" {
		return "no such key", "did you mean " + guess + "?"
	}
	return "no such key", "`muralheat check --all` lists the keys of a scenario"
}

// nearLast returns the last part of a path that a word most likely is, or the word.
func nearLast(word string, paths []string) string {
	var lasts []string
	for _, p := range paths {
		lasts = append(lasts, p[strings.LastIndexByte(p, '.')+1:])
	}
	return cmp.Or(keys.Near(word, lasts), word)
}

// Describes reports whether a key only tells people what a case is about.
func Describes(key string) bool {
	_, key, _ = keys.InBefore(key)
	top, _, _ := strings.Cut(key, ".")
	return slices.Contains([]string{"title", "question", "context_of_use", "decision", "invented", "figures_for"}, top)
}
