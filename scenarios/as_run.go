package scenarios

import (
	"encoding/csv"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"

	"muralheat/scenarios/keys"
)

// asRun puts in the current of a run with an active electrode: its RMS over the time it was
// on, for as long as that, and again after each rest.
func asRun(f *keys.File, r *keys.Report, sources map[string]string) {
	const key = "current.as_run"
	if f.Current.AsRun == nil || r.Spoilt(key) {
		if r.Given("current.rest_s") && !r.Bad["current.rest_s"] && !r.Given(key) {
			r.At("current.rest_s", "belongs to as_run", "leave it out, or give pulses")
		}
		return
	}
	if f.Current.Pulses != nil && r.Given("current.pulses") {
		r.At("current.pulses", "is given together with as_run", "give rest_s in place of pulses")
		return
	}
	folder := keys.Beside(r.File, *f.Current.AsRun)
	amps, seconds, err := currentOf(folder)
	if err != nil {
		r.At(key, keys.Quote(*f.Current.AsRun)+": "+err.Error(), "name the folder of a run")
		return
	}
	source := fmt.Sprintf("as the run in %s: RMS over the %.4g s its current was on", *f.Current.AsRun, seconds)
	f.Current.CurrentA = &amps
	sources["current.current_A"] = source
	rest := keys.OrNone(f.Current.RestS)
	if f.Current.OnS == nil {
		f.Current.OnS = &seconds
		sources["current.on_s"] = "as long as the current of that run was on"
	}
	if rest > 0 && *f.Current.OnS > seconds {
		length, period := seconds*1000, (seconds+rest)*1000
		none := 0.0
		f.Current.Pulses = &keys.Pulses{LengthMS: &length, PeriodMS: &period, Between: &keys.Mode{PowerW: &none, Limits: &keys.Limits{}}}
		sources["current.pulses.length_ms"], sources["current.pulses.period_ms"] = source, "that and rest_s"
		sources[betweenKeys+".power_W"] = "no current during a rest"
	}
}

// currentOf reads from the summary of a run the RMS current, A, and how long it was on, s.
func currentOf(folder string) (amps, seconds float64, err error) {
	file, err := os.Open(filepath.Join(folder, "summary.csv"))
	if err != nil {
		return 0, 0, errors.New("it has no summary.csv")
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil || len(rows) != 2 {
		return 0, 0, errors.New("its summary.csv is not that of one run")
	}
	number := func(name string) (float64, error) {
		i := slices.Index(rows[0], name)
		if i < 0 {
			return 0, fmt.Errorf("its summary.csv has no %s", name)
		}
		v, err := strconv.ParseFloat(rows[1][i], 64)
		if err != nil || !(v > 0) || v > 1e6 {
			return 0, fmt.Errorf("its %s is %q", name, rows[1][i])
		}
		return v, nil
	}
	amps, err = number("current_rms_A")
	if err != nil {
		return 0, 0, err
	}
	factor, err := number("heating_factor_A2s")
	if err != nil {
		return 0, 0, err
	}
	seconds = factor / (amps * amps)
	if amps > 20 || seconds > 600 {
		return 0, 0, fmt.Errorf("%.3g A for %.4g s: more than 20 A or 600 s", amps, seconds)
	}
	return amps, seconds, nil
}
