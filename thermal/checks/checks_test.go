package checks

import (
	"testing"
	"time"
)

// Every check carries its source; see Groups.
func TestChecks(t *testing.T) {
	told := map[[2]string]bool{}
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
				if row := [2]string{g.Name, c.What}; told[row] {
					t.Errorf("a second check of that name in its group: %s", c.What)
				} else {
					told[row] = true
				}
			}
			t.Log(len(list), "checks,", time.Since(start).Round(time.Millisecond))
		})
	}
}
