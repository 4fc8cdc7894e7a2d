package checks

import (
	"testing"
	"time"
)

// Every check carries its source; see Groups.
func TestChecks(t *testing.T) {
	for _, g := range Groups() {
		t.Run(g.Name, func(t *testing.T) {
			start := time.Now()
			list := g.Run()
			if len(list) == 0 {
				t.Fatal("no checks")
			}
			for _, c := range list {
				t.Log(c)
				if !c.OK() {
					t.Errorf("differs: %v", c)
				}
				if c.Source == "" || c.Unit == "" || c.ID == "" || !(c.Tolerance > 0) {
					t.Errorf("incomplete: %+v", c)
				}
			}
			t.Log(len(list), "checks,", time.Since(start).Round(time.Millisecond))
		})
	}
}
