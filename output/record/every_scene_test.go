package record

import (
	"testing"

	"muralheat/thermal"
)

func TestEveryScene(t *testing.T) {
	for _, name := range thermal.Scenes() {
		if s := scenes[name]; s.judged == "" || s.columns == nil || s.lines == nil || s.touched == nil {
			t.Errorf("%s lacks something here", name)
		}
	}
}
