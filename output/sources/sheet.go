package sources

import (
	"math"

	"muralheat/scenarios/source"
	"muralheat/thermal/drive"
)

// Loads that are drawn and tabulated, ohm: from 10 ohm to 10 kohm, ten to a decade.
const (
	leastOhm, mostOhm = 10.0, 10e3
	perDecade         = 10
)

// shownOhm are the loads of the printed table.
var shownOhm = []float64{10, 50, 100, 200, 500, 1000, 2000, 5000, 10000}

// loads returns the loads of the table, rounded to three digits.
func loads() []float64 {
	var ohm []float64
	for n := range int(perDecade*math.Log10(mostOhm/leastOhm)) + 1 {
		v := leastOhm * math.Pow(10, float64(n)/perDecade)
		unit := math.Pow(10, math.Floor(math.Log10(v)+1e-9)-2)
		ohm = append(ohm, math.Round(v/unit)*unit)
	}
	return ohm
}

// sheet is what is shown of a source sheet.
type sheet struct {
	name, title string
	sources     []output
}

// output is one source.
type output struct {
	name, title, origin string
	drive               drive.Drive
	ratedW              float64 // highest power into any load shown: its rated output power
}

// shown takes the sources of sheets.
func shown(sheets []*source.Sheet) []sheet {
	var all []sheet
	for _, s := range sheets {
		one := sheet{name: s.Name, title: s.Title}
		for _, x := range s.Sources {
			o := output{*x.Name, source.TitleOf(x), *x.Origin, source.Drive(x, math.Inf(1)), 0}
			for _, ohm := range loads() {
				o.ratedW = math.Max(o.ratedW, o.drive.Mode.Into(ohm).PowerW)
			}
			one.sources = append(one.sources, o)
		}
		all = append(all, one)
	}
	return all
}
