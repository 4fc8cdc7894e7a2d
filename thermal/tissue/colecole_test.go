package tissue

import (
	"math"
	"strconv"
	"strings"
	"testing"
)

// printed parses a number as a paper printed it and returns one unit of its last
// digit.
func printed(t *testing.T, s string) (value, unit float64) {
	t.Helper()
	value, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	if _, decimals, ok := strings.Cut(s, "."); ok {
		return value, math.Pow10(-len(decimals))
	}
	return value, 1
}

// The working band (published tables are in package checks) against our own earlier computation from the same parameters:
// a cross-check of this code, not of the data.
func TestWorkingBand(t *testing.T) {
	frequencyHz := []float64{300e3, 500e3, 1e6, 5e6}
	for _, row := range []struct{ name, sigma, loss string }{
		{"stomach", "0.544 0.554 0.584 0.733", "14.3 9.7 6.3 5.4"},
		{"colon", "0.262 0.278 0.314 0.437", "5.6 4.2 3.4 3.3"},
		{"small-intestine", "0.650 0.715 0.865 1.239", "3.8 3.0 2.7 4.3"},
		{"blood", "0.721 0.748 0.822 1.040", "9.2 6.4 4.9 6.3"},
		{"skin-dry", "0.0019 0.0044 0.0132 0.111", "0.11 0.15 0.24 0.69"},
	} {
		d := dielectric(row.name)
		for i, f := range frequencyHz {
			if want, unit := printed(t, strings.Fields(row.sigma)[i]); math.Abs(d.Sigma(f)-want) > unit {
				t.Errorf("%s %g kHz: sigma %.5g, want %g", row.name, f/1e3, d.Sigma(f), want)
			}
			if want, unit := printed(t, strings.Fields(row.loss)[i]); math.Abs(d.LossRatio(f)-want) > unit {
				t.Errorf("%s %g kHz: loss ratio %.4g, want %g", row.name, f/1e3, d.LossRatio(f), want)
			}
		}
	}
}

// Closed forms of the model's limits: an ionic conductor has a flat conductivity,
// and at w tau = 1 a term with alpha = 0 is Delta/(1+j).
func TestLimits(t *testing.T) {
	c := ColeCole{Inf: 4, SigmaI: 2}
	for _, f := range []float64{1e3, 1e6, 1e9} {
		if got := c.Sigma(f); math.Abs(got-2) > 1e-12 {
			t.Errorf("ionic conductor at %g Hz: %g S/m, want 2", f, got)
		}
	}
	c = ColeCole{Inf: 4, Terms: [4]Dispersion{{Delta: 100, TauS: 1e-6}}}
	f := 1 / (2 * math.Pi * 1e-6)
	if got := c.Permittivity(f); math.Abs(real(got)-54) > 1e-9 || math.Abs(imag(got)+50) > 1e-9 {
		t.Errorf("at w tau = 1: %v, want 54-50j", got)
	}
	if got := c.LossRatio(f); math.Abs(got-50.0/54) > 1e-12 {
		t.Errorf("loss ratio %g, want 50/54", got)
	}
}

func TestFrequencyNotPositive(t *testing.T) {
	for _, f := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("frequency %g accepted", f)
				}
			}()
			dielectric("colon").Sigma(f)
		}()
	}
}
