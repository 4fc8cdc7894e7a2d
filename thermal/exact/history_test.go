package exact

import (
	"math"
	"testing"
)

// gasConstant is cut, as in the list; the CODATA digits after it move the fifth digit
// of a time.
const gasConstant = 8.314462

// The laws of section 2.2. Henriques 1947, Arch Pathol 43:489, with its own E/R and
// with Ea as many codes have it; Diller's re-analysis (from memory); Weaver & Stoll
// 1969, in the form of ASTM F1930 (from memory).
var (
	own     = Arrhenius{math.Log(3.1) + 98*math.Ln10, 75000}
	joules  = Arrhenius{math.Log(3.1) + 98*math.Ln10, 6.28e5 / gasConstant}
	diller  = Arrhenius{math.Log(1.3) + 95*math.Ln10, 6.04e5 / gasConstant}
	weaver  = Arrhenius{math.Log(2.185) + 124*math.Ln10, 93534.9}
	weaverH = Arrhenius{math.Log(1.823) + 51*math.Ln10, 39109.8}
)

// Row 2.3: time in s to Omega = 1.
func TestTimeAt(t *testing.T) {
	for _, c := range []struct {
		tC                           float64
		own, joules, diller, w, dose string
	}{
		{43, "3.435e4", "1.843e5", "4.760e4", "1.41e4", "14400"},
		{44, "1.626e4", "8.676e4", "2.307e4", "5547", "7200"},
		{45, "7732", "4.104e4", "1.123e4", "2195", "3600"},
		{47, "1773", "9313", "2697", "349.8", "900"},
		{48, "854.9", "4467", "1330", "140.9", "450"},
		{50, "201.5", "1042", "328.1", "23.22", "112.5"},
		{52, "48.33", "247.5", "82.31", "9.488", "28.12"},
		{55, "5.867", "29.59", "10.68", "3.159", "3.516"},
		{60, ".1900", ".9353", ".3850", ".5282", ".1099"},
		{65, "6.81e-3", "3.27e-2", "1.53e-2", "9.31e-2", "3.43e-3"},
		{70, "2.69e-4", "1.26e-3", "6.70e-4", "1.73e-2", "1.07e-4"},
		{80, "5.52e-7", "2.48e-6", "1.67e-6", "6.85e-4", "1.05e-7"},
	} {
		w := weaver
		if c.tC > 50 {
			w = weaverH
		}
		same(t, "2.3 75000 K", own.TimeAt(c.tC), c.own)
		same(t, "2.3 6.28e5 J/mol", joules.TimeAt(c.tC), c.joules)
		same(t, "2.3 Diller", diller.TimeAt(c.tC), c.diller)
		same(t, "2.3 Weaver-Stoll", w.TimeAt(c.tC), c.w)
		same(t, "2.3 CEM43 240 min", 240*60/CEM43Rate(c.tC), c.dose)
	}
	at := []float64{.1, 1, 3, 10, 30, 60, 300, 600, 3600, 21600}
	row(t, "2.3 T, 75000 K", own.TemperatureFor, at, "60.95 57.56 55.97 54.24 52.67 51.70 49.45 48.49 46.04 43.62")
	row(t, "2.3 T, 6.28e5", joules.TemperatureFor, at, "63.32 59.90 58.30 56.55 54.98 54.00 51.73 50.77 48.30 45.86")
}

// Row 2.6: histories.
func TestHistories(t *testing.T) {
	ramp := func(t float64) float64 { return 37 + 2.3*t }
	same(t, "2.6 ramp, CEM43 min", CEM43(ramp, 10), "1370.262")
	within(t, "2.6 ramp, CEM43 integrated by hand", CEM43(ramp, 10),
		((1-math.Pow(.25, 6))/math.Log(4)+(math.Pow(2, 17)-1)/math.Ln2)/2.3/60, 1e-7)
	same(t, "2.6 ramp, 75000 K", own.Omega(ramp, 10), "3.35734")
	same(t, "2.6 ramp, 6.28e5", joules.Omega(ramp, 10), ".677155")
	pulse := func(t float64) float64 { return 37 + 33*math.Exp(-(t-5)*(t-5)/2) }
	same(t, "2.6 pulse, CEM43 min", CEM43(pulse, 10), "1.1929057e6")
	same(t, "2.6 pulse, 75000 K", own.Omega(pulse, 10), "2065.0946")
	same(t, "2.6 pulse, 6.28e5", joules.Omega(pulse, 10), "437.7864")

	for _, c := range []struct {
		tC, s float64
		want  string
	}{
		{41, 3600, "3.75"}, {42, 3600, "15"}, {44, 3600, "120"}, {45, 1800, "120"},
		{50, 60, "128"}, {56, 1, "136.53"}, {60, 1, "2184.53"}, {56, 1.7578, "240"}, {60, .10986, "240"},
	} {
		same(t, "2.6 CEM43 min", CEM43(func(float64) float64 { return c.tC }, c.s), c.want)
	}
}

// Row 2.4: skin held at its surface, Omega at 80 and 150 um for the thresholds
// of Moritz & Henriques 1947, Am J Pathol 23:695 (from memory). At 150 um every
// threshold lies within 1 to 3.
func TestBurnThresholds(t *testing.T) {
	skin := Solid{K: .37, RhoC: 3.74e6}
	for _, c := range []struct {
		tC, s         float64
		shallow, deep string
	}{
		{51, 240, "1.986", "1.685"},
		{53, 90, "2.646", "2.001"},
		{55, 30, "2.696", "1.649"},
		{60, 5, "4.831", "1.357"},
		{65, 2, "16.06", "1.831"},
		{70, 1, "45.3", "1.666"},
	} {
		omega := func(x float64) float64 {
			return own.Omega(func(t float64) float64 { return 34 + StepTemperature(skin, c.tC-34, x, t) }, c.s)
		}
		same(t, "2.4 80 um", omega(80e-6), c.shallow)
		same(t, "2.4 150 um", omega(150e-6), c.deep)
	}
}
