package drive

import "math"

// Supply is what a source gives to a load behind a gap that takes a constant voltage.
type Supply struct {
	VoltageV  float64 // RMS on the electrode
	PeakV     float64 // its peak
	FaceV     float64 // RMS over what lies behind the gap; VoltageV without one
	GapW      float64 // heat in the gap, mean over bursts and gaps
	TerminalW float64 // at the terminals, mean over bursts and gaps
	SeenOhm   float64 // resistance that the terminals see: that which takes the same power at their RMS voltage
	Held      Limit
}

// Strikes reports whether the source gets above the peak voltage gapV without a load.
func (m Mode) Strikes(gapV float64) bool {
	const leastS = 1e-9 // less than any tissue
	v, _ := m.VoltageV(leastS)
	return v*m.CrestFactor() > gapV
}

// Across returns what a source gives to a conductance (siemens) behind a gap that takes the peak
// voltage gapV while current flows, as two diodes that break down at it, back to back, which does so for the
// share striking of the time:
//
//	u = v - gapV   while v > gapV, likewise below -gapV
//	P = G mean(u^2) + gapV G mean|u|
//
// with the series resistance of the path in G and v at the terminals. Power and limits hold for all of this
// together, the RMS current by the conductance that takes the same power. If the source cannot get above gapV
// nothing flows; a gap of 0 is none.
func (m Mode) Across(gapV, conductanceS, striking float64) Supply {
	crest := m.CrestFactor()
	if gapV <= 0 || crest == 0 {
		seen := m.Path.seenS(conductanceS)
		terminal, held := m.terminalV(seen)
		v := m.Path.dropped(terminal, conductanceS)
		return Supply{VoltageV: v, PeakV: v * crest, FaceV: v, TerminalW: terminal * terminal * seen, SeenOhm: 1 / seen, Held: held}
	}
	seriesS := striking * m.Path.seriesS(conductanceS) // mean over strikes and pauses
	loadS := striking * conductanceS
	at := func(v float64) (s Supply, taken float64) {
		peak := v * crest
		x := gapV / peak
		if x >= 1 {
			return Supply{VoltageV: v, PeakV: peak, SeenOhm: math.Inf(1)}, 0
		}
		mean := 2 / math.Pi * (peak*math.Sqrt(1-x*x) - gapV*(math.Pi/2-math.Asin(x))) // of |u| within a burst
		behind := v * Passed(x)                                                       // RMS over the series resistance and the tissue, while sparks strike
		s = Supply{FaceV: m.Path.dropped(behind, conductanceS), GapW: m.DutyCycle * seriesS * gapV * mean}
		path := behind*behind*seriesS + s.GapW
		s.TerminalW = path / (1 - m.Path.LostShare)
		// The electrode has v less what the series resistance takes.
		series := m.Path.SeriesOhm
		s.VoltageV = math.Sqrt(v*v - 2*series*path + series*series*s.FaceV*s.FaceV*loadS*conductanceS)
		s.PeakV = peak - series*m.Path.seriesS(conductanceS)*(peak-gapV)
		taken = s.TerminalW / (v * v)
		s.SeenOhm = 1 / taken
		return s, taken
	}
	// What the source gives falls as the load takes more, and that rises with the voltage: they
	// agree once.
	lo := gapV / crest
	hi, held := m.terminalV(1e-9 * loadS)
	if hi <= lo {
		return Supply{VoltageV: hi, PeakV: hi * crest, SeenOhm: math.Inf(1), Held: held}
	}
	v := falling(lo, hi, func(v float64) float64 {
		_, taken := at(v)
		gives, _ := m.terminalV(math.Max(taken, 1e-9*loadS))
		return gives - v
	})
	s, taken := at(v)
	_, s.Held = m.terminalV(taken)
	s.FaceV *= math.Sqrt(striking)
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
