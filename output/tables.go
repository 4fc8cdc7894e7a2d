package output

import (
	"fmt"
	"path/filepath"

	"muralheat/output/record"
	"muralheat/output/study"
)

// SweepTables writes what the draws of the sweep in dir tell, from its table, and returns the names of the files: the
// probability at each point, and how two points differ. A sweep without draws has none.
func SweepTables(dir string) (names []string, err error) {
	t, err := study.ReadSweep(dir)
	if err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	for _, f := range []record.File{{Name: study.ProbabilityName, Data: t.ProbabilityCSV()}, {Name: study.PairName, Data: t.PairCSV()}} {
		if f.Data == nil {
			continue
		}
		if err := record.Replace(filepath.Join(dir, f.Name), f.Data); err != nil {
			return names, fmt.Errorf("output: %w", err)
		}
		names = append(names, f.Name)
	}
	return names, nil
}
