package plan

import (
	"strings"
	"testing"
)

// A distribution that reaches beyond what its key takes would lose the draws there, the thinnest
// walls first: it is refused when the plan is read.
func TestSupportLeavesTheKey(t *testing.T) {
	const wall = "uncertain: [{key: wall.layers.mucosa.thickness_mm, "
	for _, tt := range []struct{ text, want string }{
		{wall + "normal: {mean: 0.5, sd: 0.3}}]\ndraws: 60\n",
			"p.yaml:3:52: uncertain[1].normal: draws from -infinity to infinity leave the range of the key; move its ends, or give within: for each end a number from 0.01 to 50 mm"},
		{wall + "lognormal: {median: 0.5, gsd: 1.4}}]\ndraws: 60\n",
			"p.yaml:3:52: uncertain[1].lognormal: draws from 0 to infinity leave the range of the key; move its ends, or give within: for each end a number from 0.01 to 50 mm"},
		{wall + "uniform: {low: -0.1, high: 1}}]\ndraws: 60\n",
			"p.yaml:3:52: uncertain[1].uniform: draws from -0.1 to 1 leave the range of the key; move its ends, or give within: for each end a number from 0.01 to 50 mm"},
		{wall + "normal: {mean: 0.5, sd: 0.3}, within: {low: 0, high: 1}}]\ndraws: 60\n",
			"p.yaml:3:52: uncertain[1].normal: draws from 0 to 1 leave the range of the key; move its ends, or give within: for each end a number from 0.01 to 50 mm"},
	} {
		if _, err := planned(tt.text); err == nil || err.Error() != tt.want {
			t.Errorf("%s got  %v\nwant %s", tt.text, err, tt.want)
		}
	}
	for _, fine := range []string{
		"normal: {mean: 0.5, sd: 0.3}, within: {low: 0.01, high: 1}", "uniform: {low: 0.01, high: 50}",
		"triangular: {low: -1, mode: 0.5, high: 90}, within: {low: 0.1, high: 1}",
	} {
		if _, err := planned(wall + fine + "}]\ndraws: 3\n"); err != nil {
			t.Errorf("%s: %v", fine, err)
		}
	}
}

// The least and the largest value that is drawn must go together with the rest of the scenario.
func TestDrawsThatDoNotGoTogether(t *testing.T) {
	_, err := planned("uncertain: [{key: numerics.finest_um, uniform: {low: 50, high: 900}}]\ndraws: 60\n")
	if err == nil || !strings.HasPrefix(err.Error(), "p.yaml:3:13: uncertain[1]: draw ") || !strings.Contains(err.Error(), "leaves fewer than two cells per contact radius") {
		t.Errorf("%v", err)
	}
	if _, err := planned("uncertain: [{key: numerics.finest_um, uniform: {low: 50, high: 400}}]\ndraws: 60\n"); err != nil {
		t.Error(err)
	}
}
