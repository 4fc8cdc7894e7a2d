package figures

import (
	"muralheat/output/chart"
	"muralheat/thermal"
)

// Of lists what is drawn of one result on a page, with notes at the foot of its cross-sections: how certain it is.
func Of(page chart.Page, res *thermal.Result, notes ...string) []chart.Figure {
	figs := walls(page, res, notes)
	if own := sceneOf(res).own; own != nil {
		figs = append(figs, own(page, res)...)
	}
	return append(figs, timeFigures(page, res)...)
}
