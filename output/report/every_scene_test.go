package report

import (
	"testing"

	"muralheat/thermal"
)

func TestEveryScene(t *testing.T) {
	for _, name := range thermal.Scenes() {
		if s := scenes[name]; s.guide == "" || s.shown == "" || s.inwards == "" || s.layer == "" || s.surface == "" || s.limits == nil {
			t.Errorf("%s lacks something here", name)
		}
	}
}
