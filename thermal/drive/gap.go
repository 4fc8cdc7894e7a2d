package drive

import "math"

// Supply is what a source gives to a load behind a gap that takes a constant voltage, and to what lies beside that gap.
type Supply struct {
	VoltageV float64 // RMS on the electrode
	FaceV    float64 // RMS over what lies behind the gap; VoltageV without one
	GapW     float64 // heat in the gap, mean over bursts and gaps
	Held     Limit
}

// Beside is a load that metal behind a gap feeds as well, past it: a liquid around it. OpenShare is the share of the metal's
// voltage that it puts on the far side of the gap, where nothing crosses that. The zero value is none.
type Beside struct {
	ConductanceS float64
	OpenShare    float64
}

// Strikes reports whether the source gets above the peak voltage gapV over a gap that nothing crosses.
func (m Mode) Strikes(gapV float64, beside Beside) bool {
	const leastS = 1e-9 // less than any tissue
	v, _ := m.VoltageV(math.Max(leastS, beside.ConductanceS))
	return v*m.CrestFactor()*(1-beside.OpenShare) > gapV
}

// Across returns what a source gives to a conductance (siemens) behind a gap that takes the peak
// voltage gapV while current flows, as two diodes that break down at it, back to back:
//
//	u = (1 - open) v - gapV   while (1 - open) v > gapV, likewise below -gapV
//	P = G mean(u^2) + gapV G mean|u| + Gb v^2
//
// beside a load Gb that puts the share open of the voltage on the far side of the gap. What it and the
// gap's current drive adds up so, though both flow through the same tissue: no power is common to a current from the far side
// to metal held at 0 V and one from the metal with the far side open (Green's identity).
// Power and limits hold for all together, the RMS current by the conductance that takes the same
// power. If the source cannot get above gapV only the load beside it is fed; a gap of 0 is none.
func (m Mode) Across(gapV, conductanceS float64, beside Beside) Supply {
	crest := m.CrestFactor()
	if gapV <= 0 || crest == 0 {
		v, held := m.VoltageV(conductanceS)
		return Supply{VoltageV: v, FaceV: v, Held: held}
	}
	over := 1 - beside.OpenShare
	at := func(v float64) (s Supply, taken float64) {
		peak := v * over * crest
		x := gapV / peak
		if !(x < 1) {
			return Supply{VoltageV: v}, beside.ConductanceS
		}
		mean := 2 / math.Pi * (peak*math.Sqrt(1-x*x) - gapV*(math.Pi/2-math.Asin(x))) // of |u| within a burst
		s = Supply{VoltageV: v, FaceV: v * over * Passed(x), GapW: m.DutyCycle * conductanceS * gapV * mean}
		return s, (s.FaceV*s.FaceV*conductanceS+s.GapW)/(v*v) + beside.ConductanceS
	}
	// What the source gives falls as the load takes more, and that rises with the voltage: they
	// agree once.
	lo := gapV / crest / over
	least := math.Max(1e-9*conductanceS, beside.ConductanceS)
	hi, held := m.VoltageV(least)
	if hi <= lo {
		return Supply{VoltageV: hi, Held: held}
	}
	v := falling(lo, hi, func(v float64) float64 {
		_, taken := at(v)
		gives, _ := m.VoltageV(math.Max(taken, least))
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
