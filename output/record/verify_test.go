package record

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"muralheat/thermal/checks"
)

// A check that differs, or is not a number, says so in every format; text from outside
// cannot break a table.
func TestVerificationTellsWhatDiffers(t *testing.T) {
	ran := []checks.Ran{{Group: "made up", Checks: []checks.Check{
		{ID: "A", What: "fits", Source: "=1+1 | a book", Expected: 1, Ours: 1.001, Tolerance: 0.01, Unit: "K"},
		{ID: "B", What: "is off", Source: "a book", Expected: 1, Ours: 2, Tolerance: 0.01, Unit: "1"},
		{ID: "C", What: "is nothing", Source: "a book", Expected: 1, Ours: math.NaN(), Tolerance: 0.01, Unit: "1"},
	}}}
	if failed, all := Failed(ran); all != 3 || len(failed) != 2 {
		t.Fatalf("%d of %d failed", len(failed), all)
	}
	text := map[string]string{}
	for _, f := range VerifyFormats {
		b, err := Verification(nil, ran, f)
		if err != nil {
			t.Fatal(err)
		}
		text[f] = string(b)
	}
	for f, differs := range map[string]int{"table": 2, "markdown": 2, "csv": 2} {
		if n := strings.Count(text[f], "DIFFERS"); n != differs {
			t.Errorf("%s: DIFFERS %d times\n%s", f, n, text[f])
		}
	}
	if !strings.Contains(text["markdown"], `=1+1 \| a book`) || !strings.Contains(text["csv"], "'=1+1") {
		t.Errorf("text breaks out:\n%s\n%s", text["markdown"], text["csv"])
	}
	var list struct{ Checks, Differ int }
	if err := json.Unmarshal([]byte(text["json"]), &list); err != nil || list.Checks != 3 || list.Differ != 2 {
		t.Errorf("%v %+v", err, list)
	}
}
