package exact

import (
	"math"
	"strings"
	"testing"
)

// gut is the three-layer wall of V11, V12 and V23.
func gut(q1, q2, q3 float64) []Layer {
	return []Layer{
		{Solid{0.50, 3.78e6, 40000}, 1 * mm, q1},
		{Solid{0.35, 3.0e6, 10000}, 1 * mm, q2},
		{Solid{0.50, 3.78e6, 12000}, 2 * mm, q3},
	}
}

var gutPlaces = []float64{0, 0.5 * mm, 1 * mm, 1.5 * mm, 2 * mm, 3 * mm, 4 * mm}

// Rows V8, V11, V12, V13: steady walls, temperatures in C at blood 37 C.
func TestSteadyStack(t *testing.T) {
	composite := Stack{
		[]Layer{{Solid{K: 0.5}, 1 * mm, 0}, {Solid{K: 0.35}, 1 * mm, 0}, {Solid{K: 0.5}, 2 * mm, 0}},
		Face{H: inf, Rise: 23}, Face{H: inf},
	}
	heated := Stack{gut(2e6, 5e6, 1e6), Face{Flux: 2000}, Face{H: 50}}
	warmed := Stack{gut(0, 0, 0), Face{H: inf, Rise: 23}, Face{H: 50}}
	skin := Stack{
		[]Layer{
			{Solid{0.21, 0, 0}, 0.1 * mm, 0}, {Solid{0.37, 0, 3000}, 1.5 * mm, 0},
			{Solid{0.21, 0, 800}, 8 * mm, 0}, {Solid{0.5, 0, 2000}, 30 * mm, 0},
		},
		Face{H: 8, Rise: 22 - 37}, Face{H: inf},
	}
	for _, c := range []struct {
		id         string
		wall       Stack
		at         []float64
		rise, flux string
	}{
		{"V8 (Incropera & DeWitt, ch. 3, composite wall)", composite, []float64{1 * mm, 2 * mm}, "54.80645 47.38710", "2596.774 2596.774"},
		{"V11 (Pennes 1948)", heated, gutPlaces,
			"138.86483 137.37767 136.89975 135.50119 131.23308 123.33624 115.51161",
			"2000.000 979.276 -21.831 1980.975 3997.939 3914.689 3925.581"},
		{"V12 (Pennes 1948)", warmed, gutPlaces,
			"60.00000 58.17322 56.77062 55.12413 53.60718 51.76049 50.26875",
			"2050.320 1609.323 1200.565 1105.885 1019.108 831.278 663.438"},
		{"V13 (Pennes 1948)", skin, []float64{0, 0.1 * mm, 1.6 * mm, 9.6 * mm},
			"32.82561 32.86685 33.18126 35.43259", "-86.605 -86.605"},
	} {
		row(t, c.id+" T", func(x float64) float64 { r, _ := c.wall.Steady(x); return 37 + r }, c.at, c.rise)
		row(t, c.id+" flux", func(x float64) float64 { _, f := c.wall.Steady(x); return f }, c.at[:len(strings.Fields(c.flux))], c.flux)
	}
}

// V23: the same wall under 2000 A/m2 through sigma 0.5/0.1/0.4 S/m, lumen insulated.
func TestTransientStack(t *testing.T) {
	const j = 2000
	wall := Stack{gut(j*j/0.5, j*j/0.1, j*j/0.4), Face{}, Face{H: 50}}
	for s, want := range map[float64]string{
		1:  "39.23433 39.86945 43.83700 48.56591 44.14668 39.70252 39.57087",
		3:  "46.34533 48.57567 56.12674 63.89651 56.94857 46.35322 44.68266",
		5:  "55.60523 58.40326 67.12371 75.81516 68.01066 53.99122 50.34270",
		10: "80.25383 83.30335 92.51651 101.29021 92.18538 73.91318 66.82954",
	} {
		row(t, "V23", func(x float64) float64 { r, _ := wall.Transient(x, s); return 37 + r }, gutPlaces, want)
	}
	// Long after, the transient is the steady state.
	for _, x := range gutPlaces {
		late, lateFlux := wall.Transient(x, 1e5)
		steady, flux := wall.Steady(x)
		within(t, "V23 late", late, steady, 1e-8)
		if math.Abs(lateFlux-flux) > 1e-3 {
			t.Errorf("V23 late flux: got %g, want %g", lateFlux, flux)
		}
	}
	// Early, and where hyperbolic functions would overflow, a thick wall is a half-space.
	deep := Stack{[]Layer{{ref, 50 * mm, 0}, {ref, 50 * mm, 0}}, Face{H: inf, Rise: 63}, Face{}}
	for _, s := range []float64{1e-3, 1e-2, 0.1, 1, 10} {
		x := math.Sqrt(ref.Alpha() * s)
		got, _ := deep.Transient(x, s)
		within(t, "V1 as a stack", got, StepTemperature(ref, 63, x, s), 1e-8)
	}
	// Energy of an insulated unperfused wall.
	closed := Stack{gut(1e6, 3e6, 2e6), Face{}, Face{}}
	for i := range closed.Layers {
		closed.Layers[i].G = 0
	}
	stored, z := 0.0, 0.0
	for _, l := range closed.Layers {
		stored += l.RhoC * integrate(func(x float64) float64 { r, _ := closed.Transient(x, 2); return r }, z, z+l.ThicknessM, 2)
		z += l.ThicknessM
	}
	within(t, "energy", stored, (1e6+3e6+2*2e6)*mm*2, 1e-8)
}
