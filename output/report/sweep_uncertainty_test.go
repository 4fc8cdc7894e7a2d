package report

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"muralheat/output/study"
	"muralheat/thermal"
)

// The headline of a sweep and its section on uncertainty come from the folder: another depth on a finer mesh is another sentence, and
// without the refined cases nothing is said to be measured.
func TestHeadlineFollowsTheFolder(t *testing.T) {
	from := "../../testdata/reference/numerical/disc"
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(from)); err != nil {
		t.Fatal(err)
	}
	told := func() string {
		s, err := study.ReadSweep(dir)
		if err != nil {
			t.Fatal(err)
		}
		c := &thermal.Case{}
		c.Electrode.Tip = thermal.Disc
		return fmt.Sprint(headline(s), uncertaintyBlocks(s, c, nil))
	}
	first := told()
	for _, want := range []string{"for 95 of 100: numerical ±", "damage kinetics ±", "Refined cases", "What is uncertain at each point"} {
		if !strings.Contains(first, want) {
			t.Errorf("does not say %q", want)
		}
	}
	path := filepath.Join(dir, study.RefinedFolder, study.ResultName)
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(string(b), "\r\n")
	for i, l := range lines[1:] { // every case on the finest mesh failed
		if strings.Contains(l, "-finest,") {
			lines[i+1] = strings.Replace(l, ",ok,", ",failed,", 1)
		}
	}
	if err := os.WriteFile(path, []byte(strings.Join(lines, "\r\n")), 0o644); err != nil {
		t.Fatal(err)
	}
	if changed := told(); changed == first || !strings.Contains(changed, "not measured for this sweep") {
		t.Errorf("after a change of the folder: %s", changed)
	}
	if err := os.Remove(filepath.Join(dir, study.RefinedName)); err != nil {
		t.Fatal(err)
	}
	without := told()
	if !strings.Contains(without, "Numerical error not measured for this sweep") || !strings.Contains(without, "muralheat sweep --refine") || strings.Contains(without, "95 of 100") {
		t.Errorf("without refined cases: %s", without)
	}
}
