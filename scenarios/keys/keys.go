package keys

import (
	"fmt"
	"reflect"
	"regexp"
	"strconv"
	"strings"
	"sync"
)

// Key is what the tags of File say about one key of a mapping.
type Key struct {
	Name     string
	Index    []int        // of the struct's field
	Kind     reflect.Type // of what it holds
	Required bool
	Choices  []string
	Zero     string // what 0 means if not the least of its values; or what to do in place of 0, which is out of range
	From     string // what offers the choices if not the tags: tissues, kinetics, tips, ...
	pattern  *regexp.Regexp

	Least, Most         float64
	HasLeast, HasMost   bool
	OpenLeast, OpenMost bool // the end itself is out
	maxLength           int
	minItems, maxItems  int
}

var keyCache sync.Map // reflect.Type -> []key

// KeysOf returns the keys of a struct in the order of its fields, those of an
// embedded struct in its place.
func KeysOf(t reflect.Type) []Key {
	if ks, ok := keyCache.Load(t); ok {
		return ks.([]Key)
	}
	var ks []Key
	for _, f := range reflect.VisibleFields(t) {
		if !f.Anonymous {
			ks = append(ks, keyOf(f))
		}
	}
	keyCache.Store(t, ks)
	return ks
}

func keyOf(f reflect.StructField) Key {
	k := Key{Name: f.Tag.Get("yaml"), Index: f.Index, Kind: f.Type, Zero: f.Tag.Get("zero")}
	if f.Type.Kind() == reflect.Pointer {
		k.Kind = f.Type.Elem()
	}
	if library := f.Tag.Get("choices"); library != "" {
		k.Choices, k.From = offered(library), library
	}
	for part := range strings.SplitSeq(f.Tag.Get("jsonschema"), ",") {
		what, value, _ := strings.Cut(part, "=")
		switch what {
		case "", "minLength":
		case "required":
			k.Required = true
		case "enum":
			k.Choices = append(k.Choices, value)
		case "pattern":
			k.pattern = regexp.MustCompile(value)
		case "minimum", "exclusiveMinimum":
			k.Least, k.HasLeast, k.OpenLeast = number(value), true, what != "minimum"
		case "maximum", "exclusiveMaximum":
			k.Most, k.HasMost, k.OpenMost = number(value), true, what != "maximum"
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
func (k *Key) admits(x float64) bool {
	return !(k.HasLeast && (x < k.Least || k.OpenLeast && x == k.Least) ||
		k.HasMost && (x > k.Most || k.OpenMost && x == k.Most))
}

// Matches reports whether a text has the form and the length that the key takes.
func (k *Key) Matches(s string) bool {
	return (k.pattern == nil || k.pattern.MatchString(s)) && (k.maxLength == 0 || len([]rune(s)) <= k.maxLength)
}

// Spans reports whether all numbers between low and high are within the range of the key. An
// end that the key does not take itself is no harm: no draw falls on it.
func (k *Key) Spans(low, high float64) bool {
	return !(k.HasLeast && low < k.Least || k.HasMost && high > k.Most)
}

// Range says in words what numbers the key takes: "a number from 0.05 to 10 mm".
func (k *Key) Range() string { return strings.TrimPrefix(k.wants(), "give ") }

// wants says in words what the key takes: "give a number from 0.05 to 10 mm".
func (k *Key) wants() string {
	if len(k.Choices) > 0 {
		return "choose " + List(k.Choices, "or")
	}
	s := "give a number"
	switch {
	case k.HasLeast && k.HasMost && !k.OpenLeast && !k.OpenMost:
		s += fmt.Sprintf(" from %s to %s", Text(k.Least), Text(k.Most))
	default:
		if k.HasLeast && k.OpenLeast {
			s += " above " + Text(k.Least)
		} else if k.HasLeast {
			s += " of at least " + Text(k.Least)
		}
		if k.HasMost && k.OpenMost {
			s += " and below " + Text(k.Most)
		} else if k.HasMost {
			s += " and at most " + Text(k.Most)
		}
	}
	if u := UnitOf(k.Name); u != "" {
		s += " " + u
	}
	return s
}

// Text prints a number so that it reads back bit for bit.
func Text(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }

// Parent returns the path above a path, "" above the top.
func Parent(path string) string {
	return path[:max(0, strings.LastIndexAny(path, ".["))]
}

// Join returns the path of a key below another.
func Join(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

// Item returns the path of the i-th item of a list (from 0): by its name if it
// has one that the list does not hold already, else by its number.
func Item(path string, i int, name string) string {
	if name != "" {
		return path + "." + name
	}
	return fmt.Sprintf("%s[%d]", path, i+1)
}

// NameOf returns the name of a list item, or "".
func NameOf(v reflect.Value) string {
	if v.Kind() == reflect.Pointer && hasName(v.Type().Elem()) {
		return Word(v.Elem().FieldByName("Name").Interface().(*string))
	}
	return ""
}

// hasName reports whether the items of a list of such structs have names.
func hasName(t reflect.Type) bool {
	_, ok := t.FieldByName("Name")
	return ok
}

// Walk visits every number, text and switch of a file that is there, in the
// order of its keys.
func Walk(v reflect.Value, path string, visit func(path string, v reflect.Value)) {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return
		}
		if v.Elem().Kind() != reflect.Struct {
			visit(path, v.Elem())
			return
		}
		for _, k := range KeysOf(v.Elem().Type()) {
			Walk(v.Elem().FieldByIndex(k.Index), Join(path, k.Name), visit)
		}
	case reflect.Slice:
		for i := range v.Len() {
			e := v.Index(i)
			if e.Kind() == reflect.String {
				visit(Item(path, i, ""), e)
				continue
			}
			Walk(e, Item(path, i, NameOf(e)), visit)
		}
	}
}

// Slot returns the pointer that holds the value of a path, making the mappings
// on the way; false if there is no such key or list item.
func Slot(f *File, path string) (reflect.Value, bool) {
	v, _, ok := Find(f, path)
	return v, ok
}

// Find does so and returns what is known of the key too.
func Find(f *File, path string) (reflect.Value, *Key, bool) {
	v := reflect.ValueOf(f)
	var of *Key
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
			keys := KeysOf(s.Type())
			for i := range keys { // by index: a copy of each would cost more than all else here
				if keys[i].Name == name {
					v, of, found = s.FieldByIndex(keys[i].Index), &keys[i], true
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
				after, ok := strings.CutPrefix(rest, Item("", i, NameOf(v.Index(i))))
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
