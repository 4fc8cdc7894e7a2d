package figures

import (
	"muralheat/output/chart"
	"muralheat/thermal"
)

// Of lists what is drawn of one result.
func Of(res *thermal.Result) []chart.Figure {
	figs := []chart.Figure{wallFigure(res)}
	if own := sceneOf(res).own; own != nil {
		figs = append(figs, own(res)...)
	}
	return append(figs, timeFigure(res))
}
