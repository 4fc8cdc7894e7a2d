package keys

import (
	"reflect"
	"slices"
	"strings"
)

// Before is what was done earlier on the place of a scenario. All that it does not say - wall, body, physics, mesh - is
// that of the scenario.
type Before struct {
	Title     *string    `yaml:"title" jsonschema:"required,minLength=1,maxLength=120" jsonschema_description:"What messages, tables and figures call it."`
	Electrode *Electrode `yaml:"electrode" jsonschema_description:"The electrode; left out, that of the scenario. It must fit the same mesh: the same tip, pressed as hard."`
	Motion    *Motion    `yaml:"motion" jsonschema_description:"A straight track from the same start; leave out for an electrode at rest."`
	Current   *Current   `yaml:"current" jsonschema:"required" jsonschema_description:"The output of the high-frequency source."`
	Repeat    *Repeat    `yaml:"repeat" jsonschema_description:"The same activation again on the same place."`
	PauseS    *float64   `yaml:"pause_s" jsonschema:"required,minimum=0,maximum=3600" jsonschema_description:"Time without current in s until what follows; the electrode stays where it is."`
}

// beforeKey holds the list of what was done earlier.
const beforeKey = "before"

// own are the keys of a scenario that each item of that list has for itself.
var own = []string{"title", "electrode", "motion", "current", "repeat", "pause_s", "afterwards_s", beforeKey}

// InBefore returns the key that a path below an item of before has within it, and the path of the item.
func InBefore(path string) (item, key string, ok bool) {
	if !strings.HasPrefix(path, beforeKey+"[") {
		return "", path, false
	}
	item, key, ok = strings.Cut(path, "].")
	return strings.TrimSuffix(item, "]") + "]", key, ok
}

// BeforeItem returns the path of the i-th item of before, from 0.
func BeforeItem(i int) string { return Item(beforeKey, i, "") }

// Of returns the scenario that an item of before is by itself. It shares nothing with f that is changed later.
func (b *Before) Of(f *File) *File {
	of := *f
	of.Before = nil
	of.Title, of.Motion, of.Current, of.Repeat, of.AfterwardsS = b.Title, b.Motion, b.Current, b.Repeat, b.PauseS
	if b.Electrode != nil {
		of.Electrode = b.Electrode
	}
	return clone(reflect.ValueOf(&of)).Interface().(*File)
}

// clone copies what a value points to, all the way down.
func clone(v reflect.Value) reflect.Value {
	switch out := reflect.New(v.Type()).Elem(); {
	case v.Kind() == reflect.Pointer && !v.IsNil():
		out.Set(reflect.New(v.Type().Elem()))
		out.Elem().Set(clone(v.Elem()))
		return out
	case v.Kind() == reflect.Slice && !v.IsNil():
		out.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
		for i := range v.Len() {
			out.Index(i).Set(clone(v.Index(i)))
		}
		return out
	case v.Kind() == reflect.Struct:
		for i := range v.NumField() {
			out.Field(i).Set(clone(v.Field(i)))
		}
		return out
	}
	return v
}

// Within returns a report of the scenario that an item of before is by itself: its own keys stand at the top.
func (r *Report) Within(item string) *Report {
	sub := NewReport(r.File, r.kind, r.root)
	inherits := !r.Given(Join(item, "electrode"))
	// key returns what a path is called there, false if it does not count.
	key := func(path string) (string, bool) {
		if rest, ok := strings.CutPrefix(path, item+"."); ok {
			if rest == "pause_s" {
				rest = "afterwards_s"
			}
			return rest, true
		}
		top := top(path)
		return path, path != "" && (top == "electrode" && inherits || !slices.Contains(own, top))
	}
	for path, m := range r.Places {
		if k, ok := key(path); ok {
			sub.Places[k] = m
		}
	}
	for path, bad := range r.Bad {
		if k, ok := key(path); ok {
			sub.Bad[k] = bad
		}
	}
	sub.Places[""] = r.Places[item]
	return sub
}

// Outside returns what a key of such a report is called in the whole file.
func (r *Report) Outside(item, key string) string {
	switch t := top(key); {
	case t == "afterwards_s":
		return Join(item, "pause_s")
	case slices.Contains(own, t) && (t != "electrode" || r.Given(Join(item, "electrode"))):
		return Join(item, key)
	}
	return key
}

// top returns the first name of a path.
func top(path string) string {
	if i := strings.IndexAny(path, ".["); i >= 0 {
		return path[:i]
	}
	return path
}
