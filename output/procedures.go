package output

import (
	"fmt"
	"path/filepath"

	"muralheat/output/chart"
	"muralheat/output/procedure"
	"muralheat/output/record"
)

// Procedures draws the figures of the procedures in dir, for a document and for a slide or for the page that is given, and
// writes their tables. It returns the names of the files.
func Procedures(dir string, page chart.Page) (names []string, err error) {
	r, err := procedure.Open(dir)
	if err != nil {
		return nil, err
	}
	pages := []chart.Page{page}
	if page.Name == "" {
		pages = append(pages, chart.ForSlide)
	}
	files, undrawn := filed(chart.Stored(filepath.Join(dir, procedure.RecordName), func() (list []chart.Figure) {
		for _, p := range pages {
			list = append(list, r.Figure(p))
		}
		return append(list, r.Course()...)
	}))
	if len(files) == 0 && undrawn != nil {
		return nil, undrawn
	}
	for _, f := range append(files, record.File{Name: procedure.TableName, Data: r.CSV()}, record.File{Name: procedure.TotalsName, Data: r.TotalsCSV()}) {
		if err := record.Replace(filepath.Join(dir, f.Name), f.Data); err != nil {
			return nil, fmt.Errorf("output: %w", err)
		}
		names = append(names, f.Name)
	}
	if undrawn != nil {
		return names, record.Undrawn{Err: undrawn}
	}
	return names, nil
}
