package plan

import (
	"math"
	"reflect"
	"slices"

	"go.yaml.in/yaml/v4"

	"muralheat/scenarios"
	"muralheat/scenarios/keys"
)

// input adds a key to the inputs of the sweep and returns what is known of it; nil if
// there is no such key, or it varies already.
func (b *planner) input(key, path string, title *string, uncertain bool) *keys.Key {
	_, k, ok := keys.Find(b.base, key)
	if !ok || scenarios.Describes(key) {
		wrong, right := scenarios.Unsettable(b.base, key)
		if wrong == "no such key" {
			wrong = "is not a key of " + b.s.Base.Name
		}
		b.At(keys.Join(path, "key"), keys.Quote(key)+" "+wrong, right)
		return nil
	}
	if slices.ContainsFunc(b.s.Inputs, func(in Input) bool { return in.Key == key }) {
		b.At(keys.Join(path, "key"), keys.Quote(key)+" is already in the plan", "name each key once")
		return nil
	}
	if i := slices.IndexFunc(b.s.Base.Sets(), func(s scenarios.Set) bool { return s.Key == key }); i >= 0 {
		b.At(keys.Join(path, "key"), keys.Quote(key)+" is set by "+b.s.Base.Sets()[i].By+" too", "leave one of them out")
		return nil
	}
	in := Input{Key: key, Title: key, Unit: keys.UnitOf(key), Number: k.Kind.Kind() == reflect.Float64, Uncertain: uncertain}
	if title != nil {
		in.Title = *title
	}
	b.s.Inputs = append(b.s.Inputs, in)
	return k
}

// axis reads the values of one varied key.
func (b *planner) axis(v *keys.Vary, path string, filling bool) axis {
	var x axis
	k := b.input(*v.Key, path, v.Title, false)
	if k == nil {
		return x
	}
	ranged := v.From != nil || v.To != nil || v.Steps != nil || v.Spacing != nil
	switch {
	case v.Values != nil && ranged:
		b.At(path, "values together with a range", "give values, or from and to")
		return x
	case v.Values == nil && (v.From == nil || v.To == nil):
		b.At(path, "neither values nor a complete range", "give values, or from and to")
		return x
	case v.Values != nil:
		seen := map[string]bool{}
		for i, n := range v.Values {
			here := keys.Item(keys.Join(path, "values"), i, "")
			if b.fits(n, k, here) {
				value := scenarios.Value{Node: n}
				if seen[value.String()] {
					b.At(here, value.String()+" is already in the list", "give each value once")
				}
				seen[value.String()] = true
				x.list = append(x.list, value)
			}
		}
		return x
	}
	x.from, x.to, x.log = *v.From, *v.To, v.Spacing != nil && *v.Spacing == "log"
	switch {
	case filling && v.Steps != nil:
		b.At(keys.Join(path, "steps"), "has no meaning in a design that fills the range", "leave it out: points gives the number")
	case !filling && v.Steps == nil:
		b.At(path, "a range without steps", "give steps, the number of values")
	case v.Steps != nil && !b.integer(keys.Join(path, "steps"), *v.Steps):
	case x.from == x.to:
		b.At(keys.Join(path, "to"), "is the same as from", "give two different ends, or one value as a list")
	case x.log && (x.from <= 0 || x.to <= 0):
		b.At(keys.Join(path, "spacing"), "log needs both ends above 0", "write linear, or move the ends")
	}
	b.ends(path, k, x.from, x.to)
	if v.Steps != nil {
		n := int(*v.Steps)
		for i := range n {
			x.list = append(x.list, scenarios.Number(interpolate(x.from, x.to, float64(i)/float64(n-1), x.log)))
		}
	}
	return x
}

// ends holds the ends of a range against what the key takes.
func (b *planner) ends(path string, k *keys.Key, from, to float64) {
	for _, end := range []struct {
		name string
		x    float64
	}{{"from", from}, {"to", to}} {
		n := scenarios.Number(end.x).Node
		m := b.Places[keys.Join(path, end.name)]
		n.Line, n.Column = m.Line, m.Column
		if b.fits(n, k, keys.Join(path, end.name)) && end.x == 0 && k.Zero != "" {
			b.At(keys.Join(path, end.name), "0 means "+k.Zero, "give a range above 0; in a list of values 0 may stand beside others")
		}
	}
}

// fits reports whether a value is one that the key takes.
func (b *planner) fits(n *yaml.Node, k *keys.Key, path string) bool {
	return b.Scalar(n, reflect.New(k.Kind).Elem(), k, path)
}

func (b *planner) integer(key string, x float64) bool {
	if x != math.Trunc(x) {
		b.At(key, keys.Text(x)+" is not a whole number", "write one")
		return false
	}
	return true
}
