package main

import (
	"bytes"
	"strings"
	"testing"

	"muralheat/thermal/checks"
)

// A check that differs ends with 1 and says which it is, whatever else holds.
func TestVerifySaysWhatDiffers(t *testing.T) {
	groups := []checks.Group{
		{Name: "good", Compute: func() []checks.Check {
			return []checks.Check{{What: "one is one", Expected: 1, Ours: 1, Tolerance: 1e-9}}
		}},
		{Name: "bad", Compute: func() []checks.Check {
			return []checks.Check{{What: "one is two", Expected: 1, Ours: 2, Tolerance: 0.5}, {What: "two is two", Expected: 2, Ours: 2, Tolerance: 1}}
		}},
	}
	var out, said bytes.Buffer
	err := verify(newConsole(nil, &out, &said), groups, "table")
	if exitCode(err) != exitFailed || !strings.Contains(err.Error(), "1 of 3 checks differ") || !strings.Contains(err.Error(), "(one is two)") {
		t.Errorf("%v", err)
	}
	if !strings.Contains(out.String(), "3 checks against closed forms, standards and tables: 1 DIFFER.") {
		t.Errorf("printed %s", out.String())
	}
	out.Reset()
	if err := verify(newConsole(nil, &out, &said), groups[:1], "table"); err != nil {
		t.Error(err)
	}
}
