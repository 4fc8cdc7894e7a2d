package damage

import "math"

// LogMean returns the mean over a step of a rate that changes exponentially from a
// to b, which is what an Arrhenius rate does while temperature moves evenly:
//
//	(b - a)/ln(b/a)
func LogMean(a, b float64) float64 { return logMean(a, b, math.Log(b/a)) }

// logMean is LogMean with ln(b/a) already known.
func logMean(a, b, ln float64) float64 {
	if math.Abs(ln) < 1e-4 { // series of (e^x - 1)/x
		return a * (1 + ln/2 + ln*ln/6)
	}
	return (b - a) / ln
}

// DoseRate returns the growth of the thermal dose in equivalent minutes at 43 C
// per second (Sapareto and Dewey 1984, Int J Radiat Oncol Biol Phys 10:787):
//
//	R^(43-T)/60,  R = 0.5 from 43 C upwards, 0.25 below
//
// The conversion is trusted to about 54 C (Dewhirst 2003, Int J Hyperthermia 19:267,
// from memory); above 100 C it is counted as at 100 C, so that the number stays finite.
func DoseRate(tC float64) float64 { return math.Exp(LnDoseRate(tC)) }

// LnDoseRate returns the natural logarithm of DoseRate.
func LnDoseRate(tC float64) float64 {
	if tC >= 43 {
		return (math.Min(tC, 100)-43)*math.Ln2 - lnMinute
	}
	return 2*(tC-43)*math.Ln2 - lnMinute
}

var lnMinute = math.Log(60)

// Cold returns the temperature in C below which k gives less than omega in
// seconds: cells that never get warmer need no integration.
func (k *Kinetics) Cold(omega, seconds float64) float64 {
	lo, hi := 0.0, 100.0
	for hi-lo > 0.01 {
		mid := (lo + hi) / 2
		if k.Rate(mid)*seconds > omega {
			hi = mid
		} else {
			lo = mid
		}
	}
	return lo
}

// Integral accumulates one rate over the cells of a field.
type Integral struct {
	Sum    []float64
	last   []float64 // rate at the end of the previous step; 0: was cold
	lastLn []float64
	ln     func(tC float64) float64
	cold   float64
	coldLn float64
}

// NewIntegral returns the integral over fields of length n of the rate whose natural
// logarithm is ln. Cells below coldC at both ends of a step are skipped.
func NewIntegral(n int, ln func(tC float64) float64, coldC float64) *Integral {
	return &Integral{
		Sum: make([]float64, n), last: make([]float64, n), lastLn: make([]float64, n),
		ln: ln, cold: coldC, coldLn: ln(coldC),
	}
}

// Add integrates a step of dt seconds that ends at temperature tC in cell p.
func (g *Integral) Add(p int, tC, dt float64) {
	was, wasLn := g.last[p], g.lastLn[p]
	if was == 0 {
		if tC < g.cold {
			return
		}
		wasLn = g.coldLn
		was = math.Exp(wasLn)
	}
	nowLn := g.ln(tC)
	now := was
	if nowLn != wasLn {
		now = math.Exp(nowLn)
		g.Sum[p] += dt * logMean(was, now, nowLn-wasLn)
	} else {
		g.Sum[p] += dt * was
	}
	if tC < g.cold {
		now = 0
	}
	g.last[p], g.lastLn[p] = now, nowLn
}
