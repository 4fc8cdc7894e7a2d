package exact

import (
	"math"
	"strings"
	"testing"
)

// place is a point relative to a moving source, mm.
type place struct{ xi, y, z float64 }

// places checks f at each place against printed values.
func places(t *testing.T, what string, f func(xi, y, z float64) float64, at []place, printed string) {
	t.Helper()
	values := strings.Fields(printed)
	if len(values) != len(at) {
		t.Fatalf("%s: %d values for %d places", what, len(values), len(at))
	}
	for i, p := range at {
		same(t, what, f(p.xi*mm, p.y*mm, p.z*mm), values[i])
	}
}

// V28. Rosenthal 1946, Trans ASME 68:849: 2 W.
func TestMovingPoint(t *testing.T) {
	at := []place{{-5, 0, 0}, {-2, 0, 0}, {-2, 1, 0}, {-5, 1, 0}, {-10, 1, 0}, {0, 0.5, 0}}
	for v, want := range map[float64]string{
		1:  "127.3240 318.3099 116.6428 85.8697 52.4617 192.3506",
		5:  "127.3240 318.3099 3.2863 19.2143 24.6793 0.1002",
		10: "127.3240 318.3099 0.0379 2.9570 9.6149 0.0000",
	} {
		places(t, "V28", func(x, y, z float64) float64 { return MovingPoint(ref, 2, v*mm, x, y, z) }, at, want)
	}
	same(t, "V28 G 40000", MovingPoint(refG(40000), 2, mm, -5*mm, mm, 0), "81.36523")
	within(t, "V28 at rest is V19 doubled", MovingPoint(refG(2000), 1, 0, 2*mm, 0, 0), 2*PointSource(refG(2000), 1, 2*mm, inf), 1e-12)
}

// V29.
func TestMovingPointPeak(t *testing.T) {
	for _, c := range []struct {
		v, r        float64 // mm/s, mm
		peak, quick string
	}{
		{5, 0.5, "98.0574", "99.132"},
		{5, 1, "24.7142", "24.7830"},
		{10, 1, "12.3828", "12.3915"},
		{1, 1, "116.6431", "123.915"},
	} {
		same(t, "V29 peak", MovingPointPeak(ref, 2, c.v*mm, c.r*mm), c.peak)
		same(t, "V29 fast", MovingPointPeakFast(ref, 2, c.v*mm, c.r*mm), c.quick)
	}
	row(t, "V29 reach of 23 K, mm", func(v float64) float64 { return MovingPointReach(ref, 2, v*mm, 23) / mm },
		[]float64{1, 5, 10}, "2.3064 1.0367 .7335")
	// The peak is a maximum, with perfusion too.
	s := refG(40000)
	peak, best := MovingPointPeak(s, 2, mm, mm), 0.0
	for xi := -5.0; xi < 0; xi += 0.001 {
		best = math.Max(best, MovingPoint(s, 2, mm, xi*mm, mm, 0))
	}
	within(t, "V29 perfused", peak, best, 1e-6)
}

// V32: 4 mm plate, 2 W at 1 mm/s.
func TestMovingPointPlate(t *testing.T) {
	places(t, "V32", func(x, y, z float64) float64 { return MovingPointPlate(ref, 2, mm, 4*mm, x, y, z) },
		[]place{{-5, 0, 4}, {-10, 0, 4}, {-20, 0, 4}, {-10, 1, 0}, {-5, 0, 2}}, ".98879 6.42810 13.96865 52.46377 27.56850")
}

// V33: 2 W, sd 0.5 mm.
func TestMovingGaussian(t *testing.T) {
	at := []place{{0, 0, 0}, {-1, 0, 0}, {0, 0, 1}, {-2, 0, 1}, {-2, 1, 0}}
	for _, c := range []struct {
		v, t float64
		want string
	}{
		{0, 1, "812.2501 168.5082 14.2617 .1797 .8241"},
		{0, 5, "1179.1568 367.7571 164.8672 20.2740 24.6103"},
		{1, 1, "699.1312 344.7669 7.5703 2.8927 11.0925"},
		{1, 20, "739.6013 523.8184 17.9792 93.2498 135.1679"},
		{5, 20, "351.5368 301.4764 .0080 2.1502 43.0976"},
	} {
		places(t, "V33", func(x, y, z float64) float64 { return MovingGaussian(ref, 2, 0.5*mm, c.v*mm, x, y, z, c.t) }, at, c.want)
	}
	// At rest it rises to P/(2 sqrt(2 pi) k sd), closing in as 1/sqrt(t).
	steady := 2 / (2 * math.Sqrt(2*math.Pi) * ref.K * 0.5 * mm)
	within(t, "V33 steady", MovingGaussian(ref, 2, 0.5*mm, 0, 0, 0, 0, 1e4), steady, 0.01)
	// Long after and far away it is Rosenthal's point.
	within(t, "V33 far", MovingGaussian(ref, 2, 0.05*mm, mm, -5*mm, mm, 0, 200), MovingPoint(ref, 2, mm, -5*mm, mm, 0), 5e-3)
}

// V34. Carslaw & Jaeger 1959, 10.5: 0.5 W on a disc of 1 mm.
func TestDisc(t *testing.T) {
	q := 0.5 / (math.Pi * mm * mm)
	same(t, "V34 q", q, "159154.94")
	same(t, "V34 centre", DiscAxis(ref, q, mm, 0, inf), "318.3099")
	same(t, "V34 mean", 0.5*EvenDiscResistance(ref.K, mm), "270.1898")
	same(t, "V34 rim", MovingDisc(ref, 0.5, mm, 0, mm, 0, 0), "202.6424")
	same(t, "V34 held disc, K/W", DiscResistance(ref.K, mm), "500")
	at := []float64{0.5, 1, 2, 5, 10, 60}
	row(t, "V34 centre", func(s float64) float64 { return DiscAxis(ref, q, mm, 0, s) }, at, "92.1611 127.4061 166.7936 214.3603 242.6054 286.6026")
	row(t, "V34 axis 1 mm", func(s float64) float64 { return DiscAxis(ref, q, mm, mm, s) }, at, ".2058 2.9294 13.3859 39.0960 60.5459 100.4694")

	moved := []place{{0, 0, 0}, {-1, 0, 0}, {0, 0, 0.5}, {-1, 0, 0.5}, {-3, 0, 1}, {-5, 0, 1}}
	for v, want := range map[float64]string{
		1: "504.164 566.674 113.076 223.663 93.334 78.423",
		5: "232.117 304.964 3.604 22.051 5.513 13.085",
	} {
		places(t, "V34 moving", func(x, y, z float64) float64 { return MovingDisc(ref, 2, mm, v*mm, x, y, z) }, moved, want)
	}
	// At the centre the integral is closed, q a/k e^(-p) [I0(p) + I1(p)] with p = v a/2alpha
	// (Abramowitz & Stegun 1964, 11.3.12). The list had 231.848 at 5 mm/s.
	for _, v := range []float64{0, 1 * mm, 5 * mm, 20 * mm} {
		p := v * mm / (2 * ref.Alpha())
		bessel, term := 0.0, 1.0 // Sum (p/2)^n/(floor(n/2)! ceil(n/2)!) = I0 + I1
		for n := 1.0; term > 0; n++ {
			bessel += term
			term *= p / 2 / math.Ceil(n/2)
		}
		within(t, "V34 moving, centre", MovingDisc(ref, 2, mm, v, 0, 0, 0), 4*q*mm/ref.K*math.Exp(-p)*bessel, 1e-6)
	}
	within(t, "V34 off the track, far", MovingDisc(ref, 2, 0.1*mm, mm, -4*mm, 3*mm, mm), MovingPoint(ref, 2, mm, -4*mm, 3*mm, mm), 0.01)
}
