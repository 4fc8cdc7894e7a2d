package record

import (
	"muralheat/scenarios/batch"
	"muralheat/thermal"
)

// Tell puts a result into the cells of a sweep's table: the columns of the summary, and
// why it must not be used, if a self-check fails.
func Tell(r *thermal.Result) (columns []batch.Column, cells []string, doubt string) {
	for _, c := range SummaryColumns(r.Case) {
		columns = append(columns, batch.Column{Name: c.Name, Unit: c.Unit, Text: c.Text, Word: c.Word != nil})
		cells = append(cells, c.Cell(r))
	}
	for _, k := range Checks(r) {
		if !k.OK {
			return columns, cells, k.String()
		}
	}
	return columns, cells, ""
}
