package figures

import (
	"muralheat/output/chart"
	"muralheat/thermal"
)

// Of lists what is drawn of one result on a page.
func Of(page chart.Page, res *thermal.Result) []chart.Figure {
	figs := wallFigures(page, res)
	if own := sceneOf(res).own; own != nil {
		figs = append(figs, own(page, res)...)
	}
	return append(figs, timeFigures(page, res)...)
}
