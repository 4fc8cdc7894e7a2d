package scenarios

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"

	"muralheat/scenarios/keys"
	"muralheat/scenarios/source"
	"muralheat/thermal"
)

// before completes and checks what was done earlier on the same place, each as the scenario that it is by itself.
// It returns these, none if anything is wrong with one of them, and what is wrong with keys that all share.
func before(f *keys.File, r *keys.Report, sets []Set, shelf *source.Shelf, sources sources) (earlier []*keys.File, also keys.Problems) {
	if len(f.Before) == 0 || r.Spoilt("numerics.geometry") {
		return nil, nil
	}
	threeDFor(f, sources)
	wrong := false
	for i, b := range f.Before {
		item := keys.BeforeItem(i)
		if r.Spoilt(item) {
			continue
		}
		of, sub := b.Of(f), r.Within(item)
		of.Numerics = orNew(of.Numerics)
		its := resolve(of, sub, setsWithin(item, b, r, sets), shelf)
		for _, p := range sub.Problems {
			if key := r.Outside(item, p.Key); key != p.Key {
				p.Key = key
				r.Bad[key], r.Problems = true, append(r.Problems, p)
			} else {
				also = append(also, p)
			}
		}
		for key, from := range its {
			if key := r.Outside(item, key); strings.HasPrefix(key, item) {
				sources[key] = from
			}
		}
		wrong = wrong || len(sub.Problems) > 0
		b.Electrode, b.Motion, b.Current, b.Repeat = of.Electrode, of.Motion, of.Current, of.Repeat
		if electrode := keys.Join(item, "electrode"); !r.Given(electrode) {
			keys.Walk(reflect.ValueOf(b.Electrode), electrode, func(path string, _ reflect.Value) { sources[path] = "as electrode of the scenario" })
		}
		earlier = append(earlier, of)
	}
	if wrong {
		earlier = nil
	}
	return earlier, also
}

// orNew returns a mapping, an empty one in place of none.
func orNew[T any](p *T) *T {
	if p == nil {
		return new(T)
	}
	return p
}

// threeDFor asks for a mesh of three dimensions where some electrode moves on the place, and another does not.
func threeDFor(f *keys.File, sources sources) {
	moving := f.Motion != nil || slices.ContainsFunc(f.Before, func(b *keys.Before) bool { return b.Motion != nil })
	if f.Numerics = orNew(f.Numerics); moving && (f.Numerics.Geometry == nil || *f.Numerics.Geometry == "auto") {
		word := "3-D"
		f.Numerics.Geometry, sources["numerics.geometry"] = &word, "an electrode moves on this place"
	}
}

// setsWithin returns the values set from outside that an item of before has to put in itself: those of its own keys, and
// those of its electrode and motion about which it says nothing, which are constants of the same metal and hand.
func setsWithin(item string, b *keys.Before, r *keys.Report, sets []Set) (within []Set) {
	for _, s := range sets {
		at, key, below := keys.InBefore(s.Key)
		switch {
		case below && at == item:
			s.Key = key
		case below:
			continue
		case strings.HasPrefix(s.Key, "electrode."), strings.HasPrefix(s.Key, "motion.") && b.Motion != nil:
			if r.Given(item + "." + s.Key) {
				continue
			}
		case !strings.HasPrefix(s.Key, wallKeys):
			continue // it is in the file already
		}
		within = append(within, s)
	}
	return within
}

// together holds the scenario against what was done earlier on its place: all share one mesh and one tissue.
func together(f *keys.File, r *keys.Report, earlier []*keys.File) {
	if len(r.Problems) > 0 || len(earlier) == 0 {
		return
	}
	c := build(f)
	var all thermal.Sequence
	for i, of := range earlier {
		if a, b := *of.Current.FrequencyKHz, *f.Current.FrequencyKHz; a != b {
			r.At(keys.BeforeItem(i)+".current.frequency_kHz", fmt.Sprintf("%g kHz, but that of the scenario is %g kHz, for which its tissues have their conductivity", a, b), "give the same")
			return
		}
		k := build(of) // on the wall as this electrode alone would press it
		k.Domain, k.Numerics = c.Domain, c.Numerics
		all = append(all, &k)
	}
	var apart *thermal.Apart
	if errors.As(append(all, &c).Check(), &apart) {
		what, right, _ := strings.Cut(apart.What, "; ")
		at := keys.BeforeItem(min(apart.Second, len(earlier)-1))
		r.At(at, fmt.Sprintf("%s cannot follow on the place of %s: %s", keys.Quote(append(all, &c)[apart.Second].Title), keys.Quote(all[apart.First].Title), what), right)
	}
}

// casesBefore returns the cases that are computed first.
func casesBefore(f *keys.File) (cases []*thermal.Case) {
	for _, b := range f.Before {
		c := build(b.Of(f))
		cases = append(cases, &c)
	}
	return cases
}

// contactsMM returns the least and the largest radius of all contacts on the place.
func contactsMM(f *keys.File) (least, most float64) {
	least = contactMM(f)
	most = least
	for _, b := range f.Before {
		if b.Electrode == nil {
			continue // something is wrong with it, and said so
		}
		if a := contactMM(b.Of(f)); !math.IsNaN(a) { // of one pressed where the other is not: they cannot share the wall
			least, most = min(least, a), max(most, a)
		}
	}
	return least, most
}
