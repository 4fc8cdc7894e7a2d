package study

import (
	"cmp"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"muralheat/output/compare"
)

// KeptFolder is where a sweep keeps the complete results of chosen cases.
const KeptFolder = "cases"

// keptCase is the folder of one of them.
type keptCase struct {
	folder, title string
	place         int // in the plan
}

// keptCases reads what a sweep has kept, in the order of the plan.
func (t *SweepTable) keptCases(dir string) ([]compare.Member, error) {
	entries, err := os.ReadDir(filepath.Join(dir, KeptFolder))
	if os.IsNotExist(err) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var kept []keptCase
	for _, e := range entries {
		if e.IsDir() && e.Name()[0] != '.' {
			kept = append(kept, t.keptCase(e.Name()))
		}
	}
	slices.SortStableFunc(kept, func(a, b keptCase) int { return cmp.Compare(a.place, b.place) })
	var members []compare.Member
	for _, k := range kept[:min(len(kept), compare.Most)] {
		m, err := compare.Load(filepath.Join(dir, KeptFolder, k.folder), k.title)
		if err != nil {
			return nil, err
		}
		members = append(members, m)
	}
	return members, nil
}

// KeptName is the folder of a kept case that has no name: its number in as many digits as
// the last of n cases has.
func KeptName(i, n int) string { return fmt.Sprintf("%s%0*d", keptPrefix, len(strconv.Itoa(n-1)), i) }

const keptPrefix = "case-"

// keptCase places a kept case and names it by its title, its name or what differs between cases; one that the
// table does not have by its folder, at the end.
func (t *SweepTable) keptCase(folder string) keptCase {
	number, _ := strings.CutPrefix(folder, keptPrefix)
	i, err := strconv.Atoi(number)
	for row, p := range t.Point {
		switch {
		case t.name != nil && t.name[row] == folder:
			return keptCase{folder, t.caseTitle(row), t.Case[row]}
		case err == nil && p == i/max(1, t.Draws):
			if title := differing(row, t.Factors()); title != "" {
				return keptCase{folder, title, i}
			}
			return keptCase{folder, folder, i}
		}
	}
	return keptCase{folder, folder, math.MaxInt}
}
