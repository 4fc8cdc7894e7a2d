package scenarios_test

import (
	"context"
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"muralheat/scenarios"
	"muralheat/thermal"
	"muralheat/thermal/refine"
)

// reference is what another program found: a value on each of its three meshes.
type reference struct {
	name, unit string
	timeS      float64
	meshes     [3]float64 // finest first
}

// readReference reads a table that testdata/reference/recompute.sh wrote.
func readReference(t *testing.T, name string) []reference {
	t.Helper()
	b, err := os.ReadFile("../testdata/reference/" + name + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(strings.NewReader(string(b)))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		return v
	}
	var all []reference
	at := map[string]int{}
	for _, row := range rows {
		mesh := map[string]int{"n1.4": 0, "n1": 1, "n0.7": 2}[row[0]]
		key := row[1] + " " + row[3]
		i, ok := at[key]
		if !ok {
			i, at[key] = len(all), len(all)
			x := reference{name: row[1], unit: row[2], timeS: math.NaN()}
			if row[3] != "" {
				x.timeS = number(row[3])
			}
			all = append(all, x)
		}
		all[i].meshes[mesh] = number(row[4])
	}
	return all
}

// Three full coupled cases against finite elements by a general-purpose program (FreeFem++,
// Hecht 2012, J Numer Math 20:251; testdata/reference): depth within 0.05 mm, temperatures
// within 1.5 % of the rise, 0.15 K where it is below 10 K; resistance within 1 %.
func TestCrossCheck(t *testing.T) {
	for _, name := range []string{"disc", "needle", "coupled"} {
		t.Run(name, func(t *testing.T) {
			s, err := scenarios.Load("../testdata/reference/" + name + ".yaml")
			if err != nil {
				t.Fatal(err)
			}
			c := s.Case()
			r, err := thermal.Simulate(context.Background(), &c, thermal.Options{})
			if err != nil {
				t.Fatal(err)
			}
			worst, told := 0.0, 0
			all := readReference(t, name)
			for _, x := range all {
				// The other program must have converged itself: to a fifth of what is asked.
				spread := math.Abs(x.meshes[0] - x.meshes[1])
				want := x.meshes[0]
				if e := (refine.Study{SizeM: [3]float64{1, 1 / 0.7, 2}, Value: x.meshes}).Estimate(); e.Verdict == refine.Converges {
					want = e.Extrapolated
				}
				hold := func(ours, within float64) {
					t.Helper()
					told++
					if spread > within/2 {
						t.Errorf("%s: the reference has not converged: %v", x.name, x.meshes)
					}
					if d := math.Abs(ours - want); !(d <= within) {
						t.Errorf("%s at %g s: %.6g %s, reference %.6g, differ by %.2g of %.2g", x.name, x.timeS, ours, x.unit, want, d, within)
					}
					t.Logf("%-22s %6.3g s: ours %.6g, reference %.6g %s, off by %.2g of %.2g", x.name, x.timeS, ours, want, x.unit, math.Abs(ours-want), within)
				}
				switch {
				case x.name == "injury_depth_mm":
					hold(1e3*r.Summary.InjuryDepthM, 0.05)
				case x.name == "injury_half_width_mm":
					hold(1e3*r.Summary.InjuryHalfWidthM, 0.05)
				case x.name == "resistance_start_ohm":
					hold(r.Summary.ResistanceStartOhm, 0.01*want)
				case x.name == "resistance_end_ohm":
					hold(r.Summary.ResistanceEndOhm, 0.01*want)
				case x.name == "energy_J":
					hold(r.Balance.ElectricJ, 1e-3*want)
				case strings.HasPrefix(x.name, "T_"):
					ours := temperature(t, r, strings.TrimPrefix(x.name, "T_"), x.timeS)
					// Deep down, where cells are coarse and little warms, a part of a kelvin.
					rise := math.Abs(want - 37)
					if rise > 10 {
						worst = math.Max(worst, math.Abs(ours-want)/rise)
					}
					hold(ours, math.Max(0.015*rise, 0.15))
				}
			}
			if told < 40 {
				t.Errorf("only %d values were held", told)
			}
			t.Logf("worst temperature where the rise is above 10 K: %.2g %% of it", 100*worst)
		})
	}
}

// temperature returns that of a probe at a time, s, linear between the rows of history.
func temperature(t *testing.T, r *thermal.Result, probe string, at float64) float64 {
	t.Helper()
	for n, p := range r.Case.Probes {
		if p.Name != probe {
			continue
		}
		for i := 1; i < len(r.History); i++ {
			a, b := r.History[i-1], r.History[i]
			if a.TimeS <= at && at <= b.TimeS && b.TimeS > a.TimeS {
				return a.ProbeC[n] + (b.ProbeC[n]-a.ProbeC[n])*(at-a.TimeS)/(b.TimeS-a.TimeS)
			}
		}
	}
	t.Fatalf("no probe %s at %g s", probe, at)
	return 0
}
