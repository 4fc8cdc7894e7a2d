package scenarios

import (
	"fmt"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"sync"
)

// key is what the tags of File say about one key of a mapping.
type key struct {
	name     string
	index    []int        // of the struct's field
	kind     reflect.Type // of what it holds
	required bool
	choices  []string
	library  bool // the choices are those of the tissue library
	pattern  *regexp.Regexp

	least, most         float64
	hasLeast, hasMost   bool
	openLeast, openMost bool // the end itself is out
	maxLength           int
	minItems, maxItems  int
}

var keyCache sync.Map // reflect.Type -> []key

// keysOf returns the keys of a struct in the order of its fields, those of an
// embedded struct in its place.
func keysOf(t reflect.Type) []key {
	if ks, ok := keyCache.Load(t); ok {
		return ks.([]key)
	}
	var ks []key
	for _, f := range reflect.VisibleFields(t) {
		if !f.Anonymous {
			ks = append(ks, keyOf(f))
		}
	}
	keyCache.Store(t, ks)
	return ks
}

func keyOf(f reflect.StructField) key {
	k := key{name: f.Tag.Get("yaml"), index: f.Index, kind: f.Type}
	if f.Type.Kind() == reflect.Pointer {
		k.kind = f.Type.Elem()
	}
	if library := f.Tag.Get("choices"); library != "" {
		k.choices, k.library = libraryNames(library), true
	}
	for part := range strings.SplitSeq(f.Tag.Get("jsonschema"), ",") {
		what, value, _ := strings.Cut(part, "=")
		switch what {
		case "", "minLength":
		case "required":
			k.required = true
		case "enum":
			k.choices = append(k.choices, value)
		case "pattern":
			k.pattern = regexp.MustCompile(value)
		case "minimum", "exclusiveMinimum":
			k.least, k.hasLeast, k.openLeast = number(value), true, what != "minimum"
		case "maximum", "exclusiveMaximum":
			k.most, k.hasMost, k.openMost = number(value), true, what != "maximum"
		case "maxLength":
			k.maxLength = int(number(value))
		case "minItems":
			k.minItems = int(number(value))
		case "maxItems":
			k.maxItems = int(number(value))
		default:
			panic("scenarios: unknown tag " + part)
		}
	}
	return k
}

func number(s string) float64 {
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic("scenarios: " + err.Error())
	}
	return x
}

// admits reports whether x is within the range of the key.
func (k *key) admits(x float64) bool {
	return !(k.hasLeast && (x < k.least || k.openLeast && x == k.least) ||
		k.hasMost && (x > k.most || k.openMost && x == k.most))
}

// wants says in words what the key takes: "a number from 0.05 to 10 mm".
func (k *key) wants() string {
	if len(k.choices) > 0 {
		return "choose " + list(k.choices, "or")
	}
	s := "a number"
	switch {
	case k.hasLeast && k.hasMost && !k.openLeast && !k.openMost:
		s += fmt.Sprintf(" from %s to %s", text(k.least), text(k.most))
	default:
		if k.hasLeast && k.openLeast {
			s += " above " + text(k.least)
		} else if k.hasLeast {
			s += " of at least " + text(k.least)
		}
		if k.hasMost && k.openMost {
			s += " and below " + text(k.most)
		} else if k.hasMost {
			s += " and at most " + text(k.most)
		}
	}
	if u := unitOf(k.name); u != "" {
		s += " " + u
	}
	return s
}

// text prints a number so that it reads back bit for bit.
func text(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

// parent returns the path above a path, "" above the top.
func parent(path string) string {
	return path[:max(0, strings.LastIndexAny(path, ".["))]
}

// join returns the path of a key below another.
func join(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

// item returns the path of the i-th item of a list (from 0): by its name if it
// has one that the list does not hold already, else by its number.
func item(path string, i int, name string) string {
	if name != "" {
		return path + "." + name
	}
	return fmt.Sprintf("%s[%d]", path, i+1)
}

// nameOf returns the name of a list item, or "".
func nameOf(v reflect.Value) string {
	if v.Kind() == reflect.Pointer && hasName(v.Type().Elem()) {
		return word(v.Elem().FieldByName("Name").Interface().(*string))
	}
	return ""
}

// hasName reports whether the items of a list of such structs have names.
func hasName(t reflect.Type) bool {
	_, ok := t.FieldByName("Name")
	return ok
}

// walk visits every number, text and switch of a file that is there, in the
// order of its keys.
func walk(v reflect.Value, path string, visit func(path string, v reflect.Value)) {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return
		}
		if v.Elem().Kind() != reflect.Struct {
			visit(path, v.Elem())
			return
		}
		for _, k := range keysOf(v.Elem().Type()) {
			walk(v.Elem().FieldByIndex(k.index), join(path, k.name), visit)
		}
	case reflect.Slice:
		for i := range v.Len() {
			e := v.Index(i)
			if e.Kind() == reflect.String {
				visit(item(path, i, ""), e)
				continue
			}
			walk(e, item(path, i, nameOf(e)), visit)
		}
	}
}

// slot returns the pointer that holds the value of a path, making the mappings
// on the way; false if there is no such key or list item.
func slot(f *File, path string) (reflect.Value, bool) {
	v, _, ok := find(f, path)
	return v, ok
}

// find does so and returns what is known of the key too.
func find(f *File, path string) (reflect.Value, *key, bool) {
	v := reflect.ValueOf(f)
	var of *key
	for rest := "." + path; rest != ""; {
		switch v.Kind() {
		case reflect.Pointer:
			if v.IsNil() {
				v.Set(reflect.New(v.Type().Elem()))
			}
			s := v.Elem()
			if s.Kind() != reflect.Struct || rest[0] != '.' {
				return v, nil, false
			}
			name := rest[1:]
			if end := strings.IndexAny(name, ".["); end >= 0 {
				name = name[:end]
			}
			rest = rest[1+len(name):]
			found := false
			keys := keysOf(s.Type())
			for i := range keys { // by index: a copy of each would cost more than all else here
				if keys[i].name == name {
					v, of, found = s.FieldByIndex(keys[i].index), &keys[i], true
				}
			}
			if !found {
				return v, nil, false
			}
		case reflect.Slice:
			e, below := reflect.Value{}, ""
			for i := range v.Len() {
				if v.Index(i).Kind() != reflect.Pointer {
					return v, nil, false
				}
				// Names may hold dots: the longest one that leads is meant.
				after, ok := strings.CutPrefix(rest, item("", i, nameOf(v.Index(i))))
				if ok && (after == "" || after[0] == '.' || after[0] == '[') && (!e.IsValid() || len(after) < len(below)) {
					e, below = v.Index(i), after
				}
			}
			if !e.IsValid() {
				return v, nil, false
			}
			v, rest = e, below
		default:
			return v, nil, false
		}
	}
	return v, of, v.Kind() == reflect.Pointer && v.Type().Elem().Kind() != reflect.Struct
}
