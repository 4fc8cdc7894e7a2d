package figures

import (
	"testing"

	"muralheat/thermal"
)

func TestEveryScene(t *testing.T) {
	for _, name := range thermal.Scenes() {
		if s := scenes[name]; s.tallest == 0 || s.colours == nil || s.electrode == nil || s.sketch == nil || s.depths == nil || s.surface == "" || s.where == "" || s.burns == nil {
			t.Errorf("%s lacks something here", name)
		}
	}
}
