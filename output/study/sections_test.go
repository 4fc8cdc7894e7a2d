package study

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"muralheat/output/chart"
)

// A stalk that was not cut through has no time: it is crossed out, not left out. The table
// is made up.
func TestStalksNotCutThrough(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{
		SweepName: `{"title":"Made up","draws":1,"cases":6,"design":"grid",
"inputs":[{"key":"stalk.diameter_mm","title":"diameter of the stalk","unit":"mm"},{"key":"current.power_W","title":"power","unit":"W"}],
"columns":[{"name":"injury_depth_mm","unit":"mm"},{"name":"cut_through_s","unit":"s"}],"layers":[]}`,
		ResultName: "case,point,stalk.diameter_mm,current.power_W,status,reason,injury_depth_mm,cut_through_s\n" +
			"0,0,3,10,ok,,1.0,\n1,1,3,20,ok,,1.1,2.5\n2,2,4,10,ok,,1.2,\n3,3,4,20,ok,,1.3,3.5\n4,4,6,10,ok,,1.4,\n5,5,6,20,ok,,1.5,\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	table, err := ReadSweep(dir)
	if err != nil {
		t.Fatal(err)
	}
	s := table.Shape()
	facets, _ := s.facets(false)
	for n, want := range [][]float64{{3, 4, 6}, {6}} {
		if got, some := facets[0].lacking(table, n, cutTimeOf()); !slices.Equal(got, want) || some {
			t.Errorf("power %s: crossed out at %v (%v), want %v", facets[0].series.names[n], got, some, want)
		}
		if got, _ := facets[0].lacking(table, n, depthOf(table)); got != nil {
			t.Errorf("depths crossed out at %v", got)
		}
	}
	b, err := chart.Svg(s.curvesFigures("cut-time", cutTimeOf())[0])
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Crossed out, at the top: not cut through", "10 W", "20 W"} {
		if !strings.Contains(string(b), want) {
			t.Errorf("no %q", want)
		}
	}
}
