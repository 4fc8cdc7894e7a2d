package plan

import (
	"testing"

	"muralheat/scenarios"
)

// Whatever the plan, reading it ends in problems or in a sweep whose first and last cases
// are scenarios or problems, never in a panic.
func FuzzParsePlan(f *testing.F) {
	for _, e := range scenarios.PlanExamples() {
		f.Add(e.Text)
	}
	f.Add([]byte("title: T\nscenario: ball-touch.yaml\ncases: [{name: a, set: {current.power_W: 1, wall.site: rectum}}, {name: b}]\n"))
	f.Add([]byte("title: T\nscenario: ball-touch.yaml\nvary: [{key: current.power_W, from: 1, to: 9}]\ndesign: halton\npoints: 5\nseed: 3\n"))
	f.Add([]byte("title: T\nscenario: ball-touch.yaml\nvary: [{key: current.on_s, from: 1, to: 9, steps: 3, spacing: log}]\ndesign: one-at-a-time\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		s, err := Parse("p.yaml", text, scenarios.LoadExample)
		if err != nil {
			if err.Error() == "" {
				t.Error("a problem without words")
			}
			return
		}
		if s.Len() == 0 {
			t.Error("a sweep without cases")
			return
		}
		for _, i := range []int{0, s.Len() - 1} {
			if c, err := s.Scenario(i); err == nil {
				c.Case()
				s.Values(i, c)
			}
		}
		s.Digest()
	})
}
