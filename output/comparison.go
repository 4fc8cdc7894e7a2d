package output

import (
	"fmt"
	"path/filepath"

	"muralheat/output/chart"
	"muralheat/output/compare"
	"muralheat/output/record"
)

// Compare draws the comparison in dir for a page in every format and writes its table, and returns the names of their files.
func Compare(dir string, page chart.Page) (names []string, err error) {
	pictures, table, err := compare.Pictures(dir, page)
	if err != nil {
		return nil, err
	}
	for _, p := range append(pictures, chart.Picture{Name: compare.TableName, Data: table}) {
		if err := record.Replace(filepath.Join(dir, p.Name), p.Data); err != nil {
			return nil, fmt.Errorf("output: %w", err)
		}
		names = append(names, p.Name)
	}
	return names, nil
}
