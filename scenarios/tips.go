package scenarios

import (
	"slices"

	"muralheat/scenarios/keys"
	"muralheat/thermal"
	"muralheat/thermal/press"
)

// tipKind is what the keys of an active electrode mean for one tip. Each tip has a file of its own,
// tip_*.go, where it enters itself into tips; its physics are in the file of that name in package
// thermal.
type tipKind struct {
	rules     []rule                               // of keys that not every tip takes; tips that share a key share its rule
	checks    []check                              // of this tip alone
	contactMM func(*keys.File) float64             // radius of the contact; nil: radius_mm, also that of a shaft
	metalMM3  func(*keys.File) float64             // metal on the wall or in it that warms with the tissue
	punch     func(radiusM float64) press.Tip      // how the wall gives way to it; nil: it does not
	frontM2   func(*keys.File) float64             // area that pushes against the tissue before it; nil: it does not cut
	build     func(*keys.File, *thermal.Electrode) // puts in lengths of its own; nil: it has none
}

var tips = map[thermal.Tip]tipKind{}

// tipOf returns the tip of a file, an empty one where it is missing or unknown.
func tipOf(f *keys.File) tipKind { return tips[thermal.Tip(keys.Word(f.Electrode.Tip))] }

// takes reports whether the tip of a file takes a key that not every tip does.
func (t tipKind) takes(key string) bool {
	return slices.ContainsFunc(t.rules, func(r rule) bool { return r.key == key })
}

// tipRules are those of the keys that not every tip takes.
func tipRules() []rule {
	var rules []rule
	for _, name := range thermal.TipsOf(thermal.OnWall) {
		for _, r := range tips[name].rules {
			if slices.ContainsFunc(rules, func(other rule) bool { return other.key == r.key }) {
				continue
			}
			when := r.when
			r.hangs = append([]string{"electrode.tip"}, r.hangs...)
			r.when = func(f *keys.File) bool { return tipOf(f).takes(r.key) && (when == nil || when(f)) }
			rules = append(rules, r)
		}
	}
	return rules
}

// tipsThat lists the tips of which something holds: "needle", "disc or ball".
func tipsThat(holds func(tipKind) bool) string {
	var names []string
	for _, name := range thermal.TipsOf(thermal.OnWall) {
		if holds(tips[name]) {
			names = append(names, string(name))
		}
	}
	return keys.List(names, "or")
}

func givesWayTo(t tipKind) bool { return t.punch != nil }

func cuts(t tipKind) bool { return t.frontM2 != nil }
