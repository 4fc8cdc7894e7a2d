package scenarios

import (
	"slices"
	"testing"

	"muralheat/thermal"
)

func TestEveryScene(t *testing.T) {
	for _, name := range thermal.Scenes() {
		i := slices.IndexFunc(scenes, func(s *sceneKind) bool { return s.name == string(name) })
		if i < 0 {
			t.Errorf("%s has no keys", name)
			continue
		}
		if s := scenes[i]; s.surface == "" || s.quality == nil || s.rules == nil || s.checks == nil || s.metal == nil || s.contact == nil || s.notes == nil || s.build == nil {
			t.Errorf("%s lacks something here", name)
		}
		for _, own := range scenes[i].defaults {
			if own.fill == nil {
				t.Errorf("%s: no default of %s", name, own.key)
			}
		}
	}
}
