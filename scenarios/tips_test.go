package scenarios

import (
	"reflect"
	"testing"

	"muralheat/scenarios/keys"
	"muralheat/thermal"
)

// tipChoices is how a message lists the tips.
var tipChoices = tipsThat(func(tipKind) bool { return true })

// electrodeKeys is how a message lists what can be said of an electrode.
var electrodeKeys = func() string {
	var names []string
	for _, k := range keys.KeysOf(reflect.TypeFor[keys.Electrode]()) {
		names = append(names, k.Name)
	}
	return keys.List(names, "and")
}()

// Whoever chooses a tip reads what it is, and each can be held on the tissue and warms with it.
func TestEveryTipIsDescribed(t *testing.T) {
	offered := thermal.TipsOf(thermal.OnWall)
	if len(offered) != len(tips) {
		t.Errorf("the physics have the tips %v, scenarios describe %d", offered, len(tips))
	}
	for _, name := range offered {
		k, ok := tips[name]
		if !ok || name.About() == "" {
			t.Errorf("%s is not described", name)
			continue
		}
		if k.metalMM3 == nil {
			t.Errorf("%s has no metal that warms", name)
		}
		if givesWayTo(k) == cuts(k) {
			t.Errorf("%s: a wall gives way to a tip, or the tip cuts it", name)
		}
	}
}

// Two tips may take the same key by the same rule; then both take it, and others do not.
func TestTipsShareAKey(t *testing.T) {
	old := tips[thermal.Disc]
	defer func() { tips[thermal.Disc] = old }()
	shared := old
	shared.rules = needleRules
	tips[thermal.Disc] = shared
	var found []rule
	for _, r := range tipRules() {
		if r.key == "electrode.insertion_mm" {
			found = append(found, r)
		}
	}
	if len(found) != 1 {
		t.Fatalf("%d rules of one key", len(found))
	}
	for tip, want := range map[string]bool{"disc": true, "needle": true, "ball": false} {
		if got := found[0].when(&keys.File{Electrode: &keys.Electrode{Tip: &tip}}); got != want {
			t.Errorf("%s takes insertion_mm: %t", tip, got)
		}
	}
}
