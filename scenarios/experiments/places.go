package experiments

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// places.csv is where each experiment stands on the axes of Place, as its draws were computed last.
//
//go:embed places.csv
var places string

var placesHead = []string{"experiment", "kind", "tissue", "tip", "size_mm_low", "size_mm_high", "energy_low", "energy_high", "energy_unit", "peak_V_low", "peak_V_high",
	"duty_percent_low", "duty_percent_high", "time_s_low", "time_s_high", "wet_share", "dried_share", "sparks_share"}

// Places returns the table of where the experiments stand, for a program to read.
func Places() string { return places }

// EnergyUnit is that of Energy.
func (p Place) EnergyUnit() string {
	if p.moves() {
		return "J/mm"
	}
	return "J"
}

// PlacesCSV writes where experiments stand.
func PlacesCSV(all []Result) string {
	number := func(v float64) string { return strconv.FormatFloat(v, 'g', 4, 64) }
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.Write(placesHead) // into a builder: cannot fail
	for _, r := range all {
		p := r.Place
		row := []string{r.ID, p.Kind, p.Tissue, p.Tip}
		for _, x := range []Range{p.Size, p.Energy, p.Peak, p.Duty, p.Time} {
			row = append(row, number(x.Low), number(x.High))
		}
		row = slices.Insert(row, 8, p.EnergyUnit())
		w.Write(append(row, number(p.Wet), number(p.Dried), number(p.Sparks)))
	}
	w.Flush()
	return b.String()
}

// storedPlaces reads places.csv: by experiment.
var storedPlaces = sync.OnceValues(func() (map[string]Place, error) {
	lines, err := csv.NewReader(strings.NewReader(places)).ReadAll()
	if err != nil || len(lines) == 0 || !slices.Equal(lines[0], placesHead) {
		return nil, fmt.Errorf("experiments: places.csv cannot be read: go generate ./scenarios/experiments")
	}
	found := map[string]Place{}
	for _, l := range lines[1:] {
		at := func(head string) float64 {
			v, err := strconv.ParseFloat(l[slices.Index(placesHead, head)], 64)
			if err != nil {
				return math.NaN()
			}
			return v
		}
		span := func(name string) Range { return Range{at(name + "_low"), at(name + "_high")} }
		found[l[0]] = Place{Kind: l[1], Tissue: l[2], Tip: l[3], Size: span("size_mm"), Energy: span("energy"), Peak: span("peak_V"), Duty: span("duty_percent"), Time: span("time_s"),
			Wet: at("wet_share"), Dried: at("dried_share"), Sparks: at("sparks_share"), cases: 1}
	}
	return found, nil
})
