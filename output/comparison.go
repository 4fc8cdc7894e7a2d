package output

import (
	"muralheat/output/chart"
	"muralheat/output/compare"
	"muralheat/output/record"
)

// Compare draws the comparison in dir for a page in every format and writes its table, and returns the names of their files. If some
// cannot be drawn or written the others are there, and the error is record.Undrawn.
func Compare(dir string, page chart.Page) (names []string, err error) {
	pictures, table, err := compare.Pictures(dir, page)
	if err != nil && len(pictures) == 0 {
		return nil, err
	}
	files, undrawn := filed(pictures, err)
	return replaced(dir, append(files, record.File{Name: compare.TableName, Data: table}), undrawn)
}
