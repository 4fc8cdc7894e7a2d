package record

import (
	"strings"
	"testing"

	"muralheat/output/internal/fixture"
)

// What cases before left in the tissue is named, and is part of what went somewhere.
func TestHeldAtTheStart(t *testing.T) {
	r := fixture.Synthetics["none"].Result()
	r.Balance.HeldJ = 0
	var b strings.Builder
	electricLines(&b, r)
	if strings.Contains(b.String(), "held at the start") {
		t.Errorf("nothing was held:\n%s", b.String())
	}
	r.Balance.HeldJ, r.Balance.ElectricJ, r.Balance.StoredJ = 10, 20, 15
	b.Reset()
	electricLines(&b, r)
	if s := b.String(); !strings.Contains(s, "held at the start       10.0 J") || !strings.Contains(s, "in the tissue 50.0 %") {
		t.Errorf("%s", s)
	}
}
