package scenarios

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"reflect"
	"runtime/debug"
	"slices"
	"strings"
	"testing"
	"time"

	"muralheat/scenarios/keys"
	"muralheat/thermal"
)

// absurd are small cases of every kind, each quick to compute.
var absurd = map[string]string{
	"disc": `electrode: {tip: disc, radius_mm: 1}
wall: {site: right-colon, cushion: {fluid: saline, thickness_mm: 1}, lumen: {medium: water}}
current: {sparks: false, power_W: 5, on_s: 0.02}
probes: [{name: p, r_mm: 0, z_mm: 0.5}]`,
	"by hand": `electrode: {tip: disc, radius_mm: 1, heat_transfer_W_m2K: 0}
wall:
  layers: [{name: a, thickness_mm: 1, material: {sigma_S_m: 0.4, k_W_mK: 0.5, density_kg_m3: 1050, heat_capacity_J_kgK: 3600, perfusion_kg_m3s: 5, water_fraction: 0.7, metabolic_W_m3: 1000}}]
  beyond: {thickness_mm: 5, material: {sigma_S_m: 0.4, k_W_mK: 0.5, density_kg_m3: 1050, heat_capacity_J_kgK: 3600, water_fraction: 0.7}}
current: {sparks: false, power_W: 5, on_s: 0.02}
damage: {A_per_s: 3.1e98, Ea_J_mol: 6.28e5}`,
	"pressed ball": `electrode: {tip: ball, radius_mm: 1, force_N: 0.1}
wall: {site: rectum, beyond: {medium: gas}}
current: {peak_voltage_V: 100, on_s: 0.02, limits: {current_A: 1, power_W: 20, load_line: [{resistance_ohm: 100, power_W: 20}]}}
domain: {bottom: insulated}`,
	"pulses": `electrode: {tip: needle, radius_mm: 0.2, insertion_mm: 1}
wall: {site: stomach-body}
current: {burst_power_W: 40, duty_cycle_percent: 50, on_s: 0.02, limits: {peak_voltage_V: 600}, pulses: {length_ms: 4, period_ms: 10, between: {power_W: 1}}}`,
	"track": `electrode: {tip: ball, radius_mm: 1}
wall: {site: right-colon}
motion: {length_mm: 0.5, speed_mm_s: 10}
current: {sparks: false, power_W: 5, on_s: 0.02}
domain: {radius_mm: 5, half_width_mm: 5}
probes: [{name: p, x_mm: 0, y_mm: 0, z_mm: 0.5}]`,
	"pushed needle": `electrode: {tip: needle, radius_mm: 0.3, insertion_mm: 1, force_N: 0.05}
wall: {site: right-colon}
motion: {length_mm: 0.5, advance: from-pressure}
current: {sparks: false, power_W: 20, on_s: 0.02}
domain: {radius_mm: 5, half_width_mm: 5}`,
	"pad": `scene: neutral-electrode
pad: {area_cm2: 30, contact_share_percent: 70}
wall: {layers: [{name: skin, thickness_mm: 2, tissue: skin-dry}, {name: fat, thickness_mm: 8, tissue: fat}]}
current: {current_A: 0.7, on_s: 1}`,
	"loop": `scene: stalk-loop
stalk: {diameter_mm: 4, height_mm: 3, head_diameter_mm: 8, head_height_mm: 5}
loop: {speed_mm_s: 1}
wall: {site: left-colon}
current: {sparks: false, power_W: 20, on_s: 0.02}`,
}

// TestExtremes: every number of a scenario at either end of its range is refused with a
// reason or computed with its balances kept, whatever it means for a patient. A few at a
// time end in a reason, a result or a Failure, never in a panic; whether that result is any
// good its self-checks say. MURALHEAT_SOAK=10m goes on with more of them for so long.
func TestExtremes(t *testing.T) {
	if os.Getenv("MURALHEAT_LONG")+os.Getenv("MURALHEAT_SOAK") == "" {
		t.Skip("a thousand runs: set MURALHEAT_LONG=1, as .ci/run does")
	}
	var soak time.Duration
	if text := os.Getenv("MURALHEAT_SOAK"); text != "" {
		var err error
		if soak, err = time.ParseDuration(text); err != nil {
			t.Fatal(err)
		}
	}
	for name, text := range absurd {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			text := "title: Absurd\n" + text + "\nafterwards_s: 0.01\nnumerics: {quality: draft}\n"
			base, err := Parse("a.yaml", []byte(text))
			if err != nil {
				t.Fatal(err)
			}
			var all []Set
			for _, path := range Settable(base.File) {
				f, err := base.With() // a copy: looking up makes mappings on the way
				if err != nil {
					t.Fatal(err)
				}
				if _, k, ok := keys.Find(f.File, path); ok && k.Kind.Kind() == reflect.Float64 {
					for _, x := range ends(k) {
						all = append(all, Set{Key: path, Value: Number(x)})
					}
				}
			}
			var refused, dear, computed int
			try := func(sets ...Set) (allowed bool) {
				s, err := base.With(sets...)
				if err != nil {
					if refused++; strings.Contains(err.Error(), "NaN") || strings.Contains(err.Error(), "Inf") {
						t.Errorf("%s:\n%v", told(sets), err)
					}
					return false
				}
				s.Notes()
				s.ResolvedYAML()
				c := s.Case()
				if float64(c.Grid().Cells())*c.TotalS()/c.StepS() > 5e5 {
					dear++
					return true
				}
				computed++
				compute(t, told(sets), &c, len(sets) == 1)
				return true
			}
			all = slices.DeleteFunc(all, func(s Set) bool { return !try(s) })
			r := rand.New(rand.NewPCG(1, uint64(len(name))))
			end := time.Now().Add(soak)
			for n := 0; n < 40 || time.Now().Before(end); n++ {
				var sets []Set
				for range 2 + r.IntN(3) {
					if s := all[r.IntN(len(all))]; !slices.ContainsFunc(sets, func(o Set) bool { return o.Key == s.Key }) {
						sets = append(sets, s)
					}
				}
				try(sets...)
			}
			t.Logf("%d refused, %d too dear to compute here, %d computed", refused, dear, computed)
		})
	}
}

func told(sets []Set) string {
	var words []string
	for _, s := range sets {
		words = append(words, s.Key+" = "+s.Value.String())
	}
	return strings.Join(words, ", ")
}

// ends returns the least and the largest number the key takes.
func ends(k *keys.Key) []float64 {
	var ends []float64
	if k.HasLeast && k.OpenLeast {
		ends = append(ends, k.Least+1e-9*max(1, math.Abs(k.Least)))
	} else if k.HasLeast {
		ends = append(ends, k.Least)
	}
	if k.HasMost && k.OpenMost {
		ends = append(ends, k.Most*(1-1e-9))
	} else if k.HasMost {
		ends = append(ends, k.Most)
	}
	return ends
}

// compute holds a case against what must hold of any. One that takes longer than anybody
// waits for a test is left.
func compute(t *testing.T, what string, c *thermal.Case, strict bool) {
	t.Helper()
	defer func() {
		if p := recover(); p != nil {
			t.Fatalf("%s: %v\n%s", what, p, debug.Stack())
		}
	}()
	ctx, cancel := context.WithTimeout(t.Context(), time.Second)
	defer cancel()
	r, err := thermal.Simulate(ctx, c, thermal.Options{})
	var failure *thermal.Failure
	switch {
	case errors.Is(err, context.DeadlineExceeded):
		return
	case errors.As(err, &failure) && !strict:
		return
	case err != nil:
		t.Errorf("%s: %v", what, err)
		return
	case !strict:
		return
	}
	coldest := c.Body.TemperatureC
	for _, s := range []thermal.Surface{c.Lumen, c.Beyond, c.Electrode.Surface} {
		if s.HeatTransferWM2K > 0 {
			coldest = min(coldest, s.TemperatureC)
		}
	}
	least := math.Inf(1)
	first := r.Mesh.Index(0, 0, 0)
	for p := first; p < first+r.Mesh.Cells(); p++ {
		if !r.Fields.Removed[p] {
			least = min(least, r.Fields.TemperatureC[p])
		}
	}
	b := r.Balance
	if !(math.Abs(b.EnergyResidual) < 1e-6 && math.Abs(b.ChargeResidual) < 1e-2 && least >= coldest-0.01) {
		t.Errorf("%s: energy residual %g, charge residual %g, coldest %g C of %g C around", what, b.EnergyResidual, b.ChargeResidual, least, coldest)
	}
}
