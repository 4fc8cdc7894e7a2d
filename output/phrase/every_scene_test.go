package phrase

import (
	"testing"

	"muralheat/thermal"
)

func TestEveryScene(t *testing.T) {
	for _, name := range thermal.Scenes() {
		if s := scenes[name]; s.setting == nil || s.verdict == nil || s.answer == nil {
			t.Errorf("%s lacks something here", name)
		}
	}
}
