package exact

import (
	"math"
	"strconv"
	"strings"
	"testing"
)

// Reference values in these tests were computed with other tools (scipy, mpmath)
// from the same published formulas, and are typed as printed: each must agree to
// half a unit of its last digit. Letters V.. and numbers name the row of that list.
// "From memory" marks a value recalled from print.

// ref is the body that most rows use.
var ref = Solid{K: 0.5, RhoC: 3.78e6}

// refG returns ref with the perfusion conductance g.
func refG(g float64) Solid { s := ref; s.G = g; return s }

var inf = math.Inf(1)

const mm = 1e-3

// same checks one value against a printed one.
func same(t *testing.T, what string, got float64, printed string) {
	t.Helper()
	want, err := strconv.ParseFloat(printed, 64)
	if err != nil {
		t.Fatalf("%s: bad reference %q", what, printed)
	}
	mantissa, exp, _ := strings.Cut(printed, "e")
	power, _ := strconv.Atoi(exp)
	if _, decimals, ok := strings.Cut(mantissa, "."); ok {
		power -= len(decimals)
	}
	if half := 0.501 * math.Pow10(power); !(math.Abs(got-want) <= half) {
		t.Errorf("%s: got %.9g, want %s", what, got, printed)
	}
}

// row checks f at each x against printed values separated by spaces.
func row(t *testing.T, what string, f func(x float64) float64, xs []float64, printed string) {
	t.Helper()
	values := strings.Fields(printed)
	if len(values) != len(xs) {
		t.Fatalf("%s: %d values for %d places", what, len(values), len(xs))
	}
	for i, x := range xs {
		same(t, what+" at "+strconv.FormatFloat(x, 'g', 4, 64), f(x), values[i])
	}
}

// within checks a relative difference.
func within(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s: got %.12g, want %.12g within %g", what, got, want, rel)
	}
}
