package damage

import (
	"math"
	"testing"
)

// skin is Henriques 1947, Arch Pathol 43:489: A = 3.1e98 1/s, E/R = 75000 K.
var skin = Kinetics{Segments: []Segment{{LnA: math.Log(3.1e98), ThetaK: 75000}}}

// never is a temperature in C that no cell falls below: nothing is skipped.
const never = -200

// LogMean against the mean of an exponential by quadrature, from steep to flat,
// through the change to its series.
func TestLogMean(t *testing.T) {
	for _, ln := range []float64{-20, -3, -0.1, -1.01e-4, -0.99e-4, -1e-9, 0, 1e-9, 0.99e-4, 1.01e-4, 1e-2, 1, 20} {
		const n = 200000
		sum := 0.0
		for i := range n {
			sum += math.Exp(ln*(float64(i)+0.5)/n) / n
		}
		if got := LogMean(1, math.Exp(ln)); math.Abs(got-sum) > 1e-8*sum {
			t.Errorf("ln(b/a) = %g: %.12g, want %.12g", ln, got, sum)
		}
	}
}

// For an exponential rate a single step is exact, however long: the point of the
// logarithmic mean. The midpoint or the trapezium would be off by a factor.
func TestOneStepIsExactForAnExponential(t *testing.T) {
	const slope = 0.6 // 1/K, about that of skin at 60 C
	g := NewIntegral(1, func(tC float64) float64 { return slope * (tC - 60) }, never)
	g.Add(0, 40, 0)
	g.Add(0, 65, 10)
	want := 10 * (math.Exp(slope*5) - math.Exp(-slope*20)) / (slope * 25)
	if math.Abs(g.Sum[0]-want) > 1e-12*want {
		t.Errorf("got %g, want %g", g.Sum[0], want)
	}
}

// An Arrhenius ramp in coarse steps, against fine quadrature: halving the step
// divides the error by four.
func TestRampConverges(t *testing.T) {
	want := 0.0
	const n = 2000000
	for i := range n {
		want += 10 * skin.Rate(37+23*(float64(i)+0.5)/n) / n
	}
	miss := func(steps int) float64 {
		g := NewIntegral(1, skin.LnRate, never)
		g.Add(0, 37, 0)
		for i := range steps {
			g.Add(0, 37+23*float64(i+1)/float64(steps), 10/float64(steps))
		}
		return math.Abs(g.Sum[0]/want - 1)
	}
	a, b, c := miss(10), miss(20), miss(40)
	if a > 0.01 || math.Abs(math.Log2(a/b)-2) > 0.1 || math.Abs(math.Log2(b/c)-2) > 0.1 {
		t.Errorf("relative errors %.3g, %.3g, %.3g in 10, 20, 40 steps of 37 to 60 C", a, b, c)
	}
}

// Skipping cells that are cold loses at most what Cold was asked for.
func TestColdIsHarmless(t *testing.T) {
	const unseen, total = 1e-6, 20.0
	cold := skin.Cold(unseen, total)
	if r := skin.Rate(cold) * total; r > unseen || r < 0.98*unseen {
		t.Errorf("Cold = %g C gives Omega %g in %g s, want a little under %g", cold, r, total, unseen)
	}
	// In and out of the cold several times, and staying just under it.
	for name, at := range map[string]func(s float64) float64{
		"pulses": func(s float64) float64 { return 37 + 24*math.Abs(math.Sin(s)) },
		"below":  func(float64) float64 { return cold - 0.001 },
		"steps":  func(s float64) float64 { return []float64{37, 62}[int(s)%2] },
	} {
		skip, full := NewIntegral(1, skin.LnRate, cold), NewIntegral(1, skin.LnRate, never)
		for i := range 400 {
			tC := at(float64(i+1) / 20)
			skip.Add(0, tC, total/400)
			full.Add(0, tC, total/400)
		}
		// A step into the warm starts at Cold for the one and further down for the
		// other, a matter of the one step.
		if d := math.Abs(skip.Sum[0] - full.Sum[0]); d > 2*unseen+0.01*full.Sum[0] {
			t.Errorf("%s: %g with skipping, %g without", name, skip.Sum[0], full.Sum[0])
		}
	}
}

// Segments join where they say, and the first serves below its range.
func TestSegments(t *testing.T) {
	k := Kinetics{Segments: []Segment{{FromC: 44, LnA: 1, ThetaK: 0}, {FromC: 50, LnA: 2, ThetaK: 0}, {FromC: 60, LnA: 3, ThetaK: 0}}}
	for _, c := range []struct{ tC, want float64 }{{20, 1}, {44, 1}, {49.99, 1}, {50, 2}, {59.99, 2}, {60, 3}, {300, 3}} {
		if got := k.LnRate(c.tC); got != c.want {
			t.Errorf("LnRate(%g) = %g, want %g", c.tC, got, c.want)
		}
	}
}

// Thermal dose halves its time with each degree above 43 C and quarters it below:
// Sapareto and Dewey 1984, Int J Radiat Oncol Biol Phys 10:787.
func TestDoseRate(t *testing.T) {
	for _, c := range []struct{ tC, perMinute float64 }{{43, 1}, {44, 2}, {50, 128}, {60, 131072}, {42, 0.25}, {41, 0.0625}} {
		if got := 60 * DoseRate(c.tC); math.Abs(got-c.perMinute) > 1e-12*c.perMinute {
			t.Errorf("dose rate at %g C: %g, want %g per minute", c.tC, got, c.perMinute)
		}
	}
}
