package procedure

import (
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"muralheat/output/study"
)

// Reasons returns why cases of the sweep in dir have no result that counts, by their names.
func Reasons(dir string) (map[string]string, error) {
	file, err := os.Open(filepath.Join(dir, study.ResultName))
	if err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("output: %s: %w", file.Name(), err)
	}
	name, status, reason := slices.Index(rows[0], "name"), slices.Index(rows[0], "status"), slices.Index(rows[0], "reason")
	if min(name, status, reason) < 0 {
		return nil, fmt.Errorf("output: %s: it lacks a column", file.Name())
	}
	reasons := map[string]string{}
	for _, row := range rows[1:] {
		if row[status] != "ok" {
			reasons[row[name]] = row[status] + ": " + row[reason]
		}
	}
	return reasons, nil
}
