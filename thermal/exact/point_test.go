package exact

import "testing"

// V14.
func TestLumped(t *testing.T) {
	at := []float64{1, 5, 10, 60}
	row(t, "V14", func(s float64) float64 { return Lumped(refG(2000), 1e6, s) }, at, "0.26448 1.32100 2.63852 15.62371")
	row(t, "V14", func(s float64) float64 { return Lumped(refG(40000), 1e6, s) }, at, "0.26316 1.28837 2.51034 11.75056")
	within(t, "V14 G to 0", Lumped(refG(1e-6), 1e6, 10), Lumped(ref, 1e6, 10), 1e-9)
}

// V19. Carslaw & Jaeger 1959, 10.4: 0.1 W.
func TestPointSource(t *testing.T) {
	for _, c := range []struct {
		g, t float64
		want string
	}{
		{0, 10, "24.1448 8.5733 1.7414 .0067"},
		{0, inf, "31.8310 15.9155 7.9577 3.1831"},
		{2000, 1, "10.5330 .8252 .0008 .0000"},
		{2000, 10, "24.1175 8.5563 1.7360 .0067"},
		{2000, 60, "28.5664 12.6893 4.8497 .6542"},
		{2000, inf, "30.8402 14.9401 7.0122 2.3201"},
		{40000, 1, "10.4786 .8191 .0008 .0000"},
		{40000, 10, "23.6109 8.2419 1.6360 .0061"},
		{40000, 60, "27.1162 11.4855 4.0413 .4603"},
		{40000, inf, "27.6332 11.9945 4.5198 .7739"},
	} {
		row(t, "V19", func(r float64) float64 { return PointSource(refG(c.g), 0.1, r, c.t) },
			[]float64{0.5 * mm, 1 * mm, 2 * mm, 5 * mm}, c.want)
	}
}

// V20. Carslaw & Jaeger 1959, 9.10: 2 mm sphere at 90 C in 37 C.
func TestHeldSphere(t *testing.T) {
	at := []float64{3 * mm, 4 * mm, 6 * mm, 10 * mm}
	for _, c := range []struct {
		g                            float64
		steady, minute, power, fifty string
	}{
		{2000, "70.1679 60.3513 50.7178 43.3910", "65.1709 53.1501 42.4796 37.4621", "0.750263", "6.23709"},
		{40000, "63.6286 52.0512 42.6991 38.1031", "62.4984 50.4580 41.0346 37.2962", "1.042774", "4.27933"},
	} {
		s := refG(c.g)
		f := func(time float64) func(float64) float64 {
			return func(r float64) float64 { return 37 + HeldSphere(s, 53, 2*mm, r, time) }
		}
		row(t, "V20 steady", f(inf), at, c.steady)
		row(t, "V20 60 s", f(60), at, c.minute)
		same(t, "V20 power, W", HeldSpherePower(s, 53, 2*mm), c.power)
		r := bisect(func(r float64) float64 { return f(inf)(r) - 50 }, 2*mm, 20*mm)
		same(t, "V20 radius of 50 C, mm", r/mm, c.fifty)
	}
}

// V21. Cf. Gao, Langer & Corry 1995: 1 W, sd 1 mm, centre.
func TestGaussianSource(t *testing.T) {
	f := func(s Solid) func(float64) float64 {
		return func(time float64) float64 { return GaussianSource(s, 1, mm, 0, time) }
	}
	row(t, "V21", f(ref), []float64{1, 5, 10, 60, inf}, "14.06174 43.66544 60.47811 96.07266 126.98727")
	row(t, "V21", f(refG(40000)), []float64{1, 5, 10, 60}, "13.99194 42.76440 58.34227 85.67785")
	within(t, "V21 far away is V19", GaussianSource(refG(2000), 1, 0.05*mm, 2*mm, 60), PointSource(refG(2000), 1, 2*mm, 60), 2e-4)
}
