package drive

import "math"

// Supply is what a source gives to a load behind a gap that takes a constant voltage.
type Supply struct {
	VoltageV float64 // RMS on the electrode
	FaceV    float64 // RMS over what lies behind the gap; VoltageV without one
	GapW     float64 // heat in the gap, mean over bursts and gaps
	Held     Limit
}

// Strikes reports whether the source gets above the peak voltage gapV without a load.
func (m Mode) Strikes(gapV float64) bool {
	const leastS = 1e-9 // less than any tissue
	v, _ := m.VoltageV(leastS)
	return v*m.CrestFactor() > gapV
}

// Across returns what a source gives to a conductance (siemens) behind a gap that takes the peak
// voltage gapV while current flows, as two diodes that break down at it, back to back:
//
//	u = v - gapV   while v > gapV, likewise below -gapV
//	P = G mean(u^2) + gapV G mean|u|
//
// Power and limits hold for both together, the RMS current by the conductance that takes the same
// power. If the source cannot get above gapV nothing flows; a gap of 0 is none.
func (m Mode) Across(gapV, conductanceS float64) Supply {
	crest := m.CrestFactor()
	if gapV <= 0 || crest == 0 {
		v, held := m.VoltageV(conductanceS)
		return Supply{VoltageV: v, FaceV: v, Held: held}
	}
	at := func(v float64) (s Supply, taken float64) {
		peak := v * crest
		x := gapV / peak
		if x >= 1 {
			return Supply{VoltageV: v}, 0
		}
		mean := 2 / math.Pi * (peak*math.Sqrt(1-x*x) - gapV*(math.Pi/2-math.Asin(x))) // of |u| within a burst
		s = Supply{VoltageV: v, FaceV: v * Passed(x), GapW: m.DutyCycle * conductanceS * gapV * mean}
		return s, (s.FaceV*s.FaceV*conductanceS + s.GapW) / (v * v)
	}
	// What the source gives falls as the load takes more, and that rises with the voltage: they
	// agree once.
	lo := gapV / crest
	hi, held := m.VoltageV(1e-9 * conductanceS)
	if hi <= lo {
		return Supply{VoltageV: hi, Held: held}
	}
	v := falling(lo, hi, func(v float64) float64 {
		_, taken := at(v)
		gives, _ := m.VoltageV(math.Max(taken, 1e-9*conductanceS))
		return gives - v
	})
	s, taken := at(v)
	_, s.Held = m.VoltageV(taken)
	return s
}

// falling returns where f, which falls from lo to hi, passes zero: by secants through the ends of what brackets it, an end
// that stays twice counted half (Dowell and Jarratt 1971, BIT 11:168).
func falling(lo, hi float64, f func(float64) float64) float64 {
	fLo, fHi := f(lo), f(hi)
	if fHi >= 0 {
		return hi
	}
	if fLo <= 0 {
		return lo
	}
	for side := 0; ; {
		x := (lo*fHi - hi*fLo) / (fHi - fLo)
		if !(x > lo && x < hi) { // nothing in between but rounding
			return hi
		}
		switch y := f(x); {
		case math.Abs(y) <= 1e-13*x:
			return x
		case y > 0:
			lo, fLo = x, y
			if side > 0 {
				fHi /= 2
			}
			side = 1
		default:
			hi, fHi = x, y
			if side < 0 {
				fLo /= 2
			}
			side = -1
		}
	}
}
