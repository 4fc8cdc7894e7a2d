package figures

import (
	"muralheat/output/chart"
	"muralheat/thermal"
)

// Of lists what is drawn of one result.
func Of(res *thermal.Result) []chart.Figure {
	if res.Case.Electrode.Tip == thermal.Pad {
		return []chart.Figure{wallFigure(res), skinFigure(res), timeFigure(res)}
	}
	return []chart.Figure{wallFigure(res), timeFigure(res)}
}
