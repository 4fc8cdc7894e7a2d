package experiments

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

//go:generate go run ./score -write

// stored.csv is the score as it was computed last, by go generate.
//
//go:embed stored.csv
var stored string

var storedHead = []string{"experiment", "row", "part", "quantity", "unit", "measured", "measured_sd", "ours", "input_sd", "numerical_sd", "residual"}

// CSV writes results as the table that is stored.
func CSV(all []Result) string {
	number := func(v float64) string { return strconv.FormatFloat(v, 'g', 5, 64) }
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.Write(storedHead) // into a builder: cannot fail
	for _, r := range all {
		for _, x := range r.Rows {
			w.Write([]string{r.ID, x.ID, string(r.Part), x.Quantity, x.Unit, number(x.Mean), number(x.SD), number(x.Ours), number(x.InputSD), number(x.NumericalSD), number(x.Residual)})
		}
	}
	w.Flush()
	return b.String()
}

// Stored returns the results as computed last. It fails if the experiments have changed since.
func Stored() ([]Result, error) {
	list, err := Load()
	if err != nil {
		return nil, err
	}
	lines, err := csv.NewReader(strings.NewReader(stored)).ReadAll()
	if err != nil || len(lines) == 0 || !slices.Equal(lines[0], storedHead) {
		return nil, fmt.Errorf("experiments: stored.csv cannot be read: go generate ./scenarios/experiments")
	}
	lines = lines[1:]
	stale := func(id string) error {
		return fmt.Errorf("experiments: stored.csv is not of experiment %s as it stands: go generate ./scenarios/experiments", id)
	}
	stand, err := storedPlaces()
	if err != nil {
		return nil, err
	}
	var all []Result
	for _, e := range list {
		place, ok := stand[e.ID]
		if !ok {
			return nil, stale(e.ID)
		}
		r := Result{Experiment: e, Place: place}
		for _, x := range e.Rows {
			if len(lines) == 0 || lines[0][0] != e.ID || lines[0][1] != x.ID {
				return nil, stale(e.ID)
			}
			var v [6]float64
			for i := range v {
				if v[i], err = strconv.ParseFloat(lines[0][5+i], 64); err != nil {
					return nil, stale(e.ID)
				}
			}
			if strconv.FormatFloat(x.Mean, 'g', 5, 64) != lines[0][5] {
				return nil, stale(e.ID)
			}
			r.Rows = append(r.Rows, RowResult{x, lines[0][4], v[2], v[3], v[4], v[5]})
			lines = lines[1:]
		}
		all = append(all, r)
	}
	if len(lines) > 0 {
		return nil, stale(lines[0][0])
	}
	return all, nil
}
