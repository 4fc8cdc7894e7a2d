package scenarios_test

import (
	"context"
	"encoding/csv"
	"maps"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"muralheat/scenarios"
	"muralheat/thermal"
)

// reference is what finite elements found: on the finest of three meshes and steps, where
// that tends, and what a second program found if it was asked.
type reference struct {
	name, unit  string
	timeS       float64
	fine, tends float64
	freefem     float64 // NaN: not asked
}

// readReference reads a table that testdata/reference/recompute.sh wrote.
func readReference(t *testing.T, name string) []reference {
	t.Helper()
	f, err := os.Open("../testdata/reference/" + name + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := map[string]int{}
	for i, head := range rows[0] {
		column[head] = i
	}
	var all []reference
	for _, row := range rows[1:] {
		number := func(head string) float64 {
			s := row[column[head]]
			if s == "" {
				return math.NaN()
			}
			v, err := strconv.ParseFloat(s, 64)
			if err != nil {
				t.Fatalf("%s.csv: %v", name, err)
			}
			return v
		}
		all = append(all, reference{row[column["quantity"]], row[column["unit"]], number("time_s"), number("fine"), number("extrapolated"), number("freefem")})
	}
	return all
}

// tight is a field close enough that its error does not show: see DEVELOPERS.md for what
// the presets leave.
const tight = ", tolerance: 0.0002, resolve_percent: 0.5"

// Full coupled cases against finite elements by general-purpose libraries (testdata/reference:
// scipy, and FreeFem++ where nothing boils). Depths and half-width within 0.05 mm, temperatures
// within a share of the rise (of 10 K where it is less), resistance within 1 %. A boiling front
// makes both programs first order in the cells: they are held to each other where both tend,
// which takes two runs, and the preset by itself to what that leaves.
func TestCrossCheck(t *testing.T) {
	if os.Getenv("MURALHEAT_LONG") == "" {
		t.Skip("solves for more than a minute: set MURALHEAT_LONG=1, as .ci/run does")
	}
	for _, c := range []struct {
		file                  string
		numerics              []string // two: the second with half the cells of the first
		temperature, electric float64  // shares
		moves                 float64  // over what is allowed: how far the reference may still be from where it tends
		temperatures          int      // how many are held: of 50, of a track 40, those below 97 C
		kinds                 int      // of quantities held, at least: of a track neither resistance nor energy, its domain is another
	}{
		{"disc", []string{"quality: standard"}, 0.015, 0.01, 0.1, 50, 5},
		{"disc", []string{"quality: fine"}, 0.015, 0.01, 0.1, 50, 5},
		{"needle", []string{"quality: standard"}, 0.03, 0.01, 0.1, 50, 5}, // two cells to its radius
		{"needle", []string{"quality: fine"}, 0.015, 0.01, 0.1, 50, 5},
		{"coupled", []string{"quality: standard"}, 0.015, 0.01, 0.1, 50, 5},
		{"coupled", []string{"quality: fine"}, 0.015, 0.01, 0.1, 50, 5},
		{"track", []string{"quality: standard"}, 0.05, 0.01, 0.1, 40, 3}, // its cells grow by 40 % of the distance
		{"track", []string{"finest_um: 160, growth_percent: 40, max_step_ms: 5" + tight, "finest_um: 80, growth_percent: 20, max_step_ms: 2.5" + tight}, 0.02, 0.01, 0.1, 40, 3},
		{"boiling", []string{"quality: fine"}, 0.1, 0.05, 1, 44, 5},
		{"boiling", []string{"finest_um: 100, max_step_ms: 5" + tight, "finest_um: 50, max_step_ms: 2.5" + tight}, 0.05, 0.03, 2, 44, 5},
		{"drying", []string{"quality: fine"}, 0.1, 0.05, 1, 43, 5},
		{"drying", []string{"finest_um: 50, max_step_ms: 2.5" + tight, "finest_um: 25, max_step_ms: 1.25" + tight}, 0.05, 0.03, 2, 43, 5},
	} {
		t.Run(c.file+" "+strings.Join(c.numerics, " and "), func(t *testing.T) {
			var runs []*thermal.Result
			for _, numerics := range c.numerics {
				runs = append(runs, compute(t, c.file, numerics))
			}
			held, worst := map[string]int{}, map[string]float64{}
			hold := func(x reference, kind string, ours func(r *thermal.Result) float64, within, per float64) {
				t.Helper()
				v := ours(runs[0])
				if len(runs) == 2 {
					v = 2*ours(runs[1]) - v
				}
				held[kind]++
				off := math.Abs(v - x.tends)
				worst[kind] = math.Max(worst[kind], off/per)
				if !(off <= within) {
					t.Errorf("%s at %g s: %.6g %s, reference %.6g, differ by %.2g of %.2g", x.name, x.timeS, v, x.unit, x.tends, off, within)
				}
				if moves := math.Abs(x.fine - x.tends); moves > c.moves*within {
					t.Errorf("%s at %g s: the reference has not converged, it still moves by %.2g of %.2g", x.name, x.timeS, moves, within)
				}
				if math.Abs(x.freefem-x.tends) > within/3 {
					t.Errorf("%s at %g s: the programs do not agree: %.6g and %.6g", x.name, x.timeS, x.tends, x.freefem)
				}
				t.Logf("%-21s %4g s: ours %.6g, reference %.6g %s, off by %.2g of %.2g", x.name, x.timeS, v, x.tends, x.unit, off, within)
			}
			for _, x := range readReference(t, c.file) {
				switch {
				case x.name == "injury_depth_mm":
					hold(x, "depth, mm", func(r *thermal.Result) float64 { return 1e3 * r.Summary.InjuryDepthM }, 0.05, 1)
				case x.name == "injury_half_width_mm":
					hold(x, "half-width, mm", func(r *thermal.Result) float64 { return 1e3 * r.Summary.InjuryHalfWidthM }, 0.05, 1)
				case x.name == "dried_depth_mm":
					hold(x, "dried depth, mm", func(r *thermal.Result) float64 { return 1e3 * r.Summary.DriedDepthM }, 0.05, 1)
				case x.name == "resistance_start_ohm":
					hold(x, "resistance, share", func(r *thermal.Result) float64 { return r.Summary.ResistanceStartOhm }, 0.01*x.tends, x.tends)
				case x.name == "resistance_end_ohm":
					hold(x, "resistance, share", func(r *thermal.Result) float64 { return r.Summary.ResistanceEndOhm }, c.electric*x.tends, x.tends)
				case x.name == "energy_J":
					hold(x, "energy, share", func(r *thermal.Result) float64 { return r.Balance.ElectricJ }, c.electric*x.tends, x.tends)
				case strings.HasPrefix(x.name, "T_"):
					if x.tends > 97 { // dries, or is about to: its moment hangs on the cells
						continue
					}
					rise := math.Max(math.Abs(x.tends-37), 10)
					hold(x, "temperature, share of the rise", func(r *thermal.Result) float64 {
						return temperature(t, r, strings.TrimPrefix(x.name, "T_"), x.timeS)
					}, c.temperature*rise, rise)
				}
			}
			if n := held["temperature, share of the rise"]; n != c.temperatures || len(held) < c.kinds {
				t.Errorf("held %v", held)
			}
			for _, kind := range slices.Sorted(maps.Keys(worst)) {
				t.Logf("worst %s: %.2g", kind, worst[kind])
			}
		})
	}
}

// compute runs a scenario of testdata/reference.
func compute(t *testing.T, name, numerics string) *thermal.Result {
	t.Helper()
	text, err := os.ReadFile("../testdata/reference/" + name + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	s, err := scenarios.Parse(name, append(text, "numerics: {"+numerics+"}\n"...))
	if err != nil {
		t.Fatal(err)
	}
	c := s.Case()
	r, err := thermal.Simulate(context.Background(), &c, thermal.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return r
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
