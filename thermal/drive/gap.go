package drive

import "math"

// Supply is what a source gives to a load behind a gap that takes a constant voltage, and to what lies beside that gap.
type Supply struct {
	VoltageV  float64 // RMS on the electrode
	PeakV     float64 // its peak
	FaceV     float64 // RMS over what lies behind the gap; VoltageV without one
	GapW      float64 // heat in the gap, mean over bursts and gaps
	SeriesW   float64 // heat in the series resistance of the path
	TerminalW float64 // at the terminals, mean over bursts and gaps
	SeenOhm   float64 // resistance that the terminals see: that which takes the same power at their RMS voltage
	Held      Limit
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

// Across returns what a source gives to a conductance G (siemens) behind a gap that takes the peak
// voltage gapV while current flows, as two diodes that break down at it, back to back, which does so for the
// share striking of the time:
//
//	w = (1 - open) v - gapV   while (1 - open) v > gapV, likewise below -gapV
//	i = (1 - open) G w + Gb v
//	P = mean(v i) = G mean(w^2) + gapV G mean|w| + Gb mean(v^2)
//
// beside a load Gb that puts the share open of the voltage v of the electrode on the far side of the gap, and takes as large a share of
// the current that comes from there (reciprocity). So no power is common to both, though they flow through the same tissue
// (Green's identity). The series resistance of the path takes its part of the voltage at the terminals first. Power and limits
// hold for all of this together, the RMS current by the conductance that takes the same power. If the source cannot get above
// gapV only the load beside it is fed; a gap of 0 is none.
func (m Mode) Across(gapV, conductanceS, striking float64, beside Beside) Supply {
	crest := m.CrestFactor()
	if gapV <= 0 || crest == 0 {
		seen := m.Path.seenS(conductanceS)
		terminal, held := m.terminalV(seen)
		v := m.Path.dropped(terminal, conductanceS)
		current := v * conductanceS
		return Supply{
			VoltageV: v, PeakV: v * crest, FaceV: v, SeriesW: m.Path.SeriesOhm * current * current,
			TerminalW: terminal * terminal * seen, SeenOhm: 1 / seen, Held: held,
		}
	}
	load := gapped{m, gapV, conductanceS, striking, beside}
	// What the source gives falls as the load takes more, and that rises with the voltage: they
	// agree once.
	lo := gapV / crest / load.openGain()
	least := math.Max(1e-9*striking*conductanceS, m.Path.seenS(beside.ConductanceS))
	hi, held := m.terminalV(least)
	if hi <= lo {
		s, _ := load.at(hi)
		s.Held = held
		return s
	}
	v := falling(lo, hi, func(v float64) float64 {
		_, taken := load.at(v)
		gives, _ := m.terminalV(math.Max(taken, least))
		return gives - v
	})
	s, taken := load.at(v)
	_, s.Held = m.terminalV(taken)
	return s
}

// gapped is a load behind a gap and what lies beside it, fed by a mode.
type gapped struct {
	Mode
	gapV, conductanceS, striking float64
	beside                       Beside
}

// openGain is the voltage over a gap that nothing crosses, over that at the terminals.
func (g gapped) openGain() float64 {
	return (1 - g.beside.OpenShare) / (1 + g.Path.SeriesOhm*g.beside.ConductanceS)
}

// at returns what flows at the RMS voltage v at the terminals, and the conductance that takes as much power.
func (g gapped) at(v float64) (s Supply, takenS float64) {
	series, besideS, over := g.Path.SeriesOhm, g.beside.ConductanceS, 1-g.beside.OpenShare
	drop := 1 + series*besideS                          // of the terminals' voltage over the electrode's, without the gap
	div := 1 + series*over*over*g.conductanceS/drop     // of the voltage left for the face, without and with its current
	terminal, open := v*g.CrestFactor(), v*g.openGain() // peak; RMS over the gap
	peak := open * g.CrestFactor()
	square, mean := 0.0, 0.0 // of w, over strikes and pauses, bursts and gaps
	s.PeakV = terminal / drop
	if x := g.gapV / peak; x < 1 {
		rms := open * Passed(x) / div
		square = g.striking * rms * rms
		mean = g.striking * g.DutyCycle * 2 / math.Pi * (peak*math.Sqrt(1-x*x) - g.gapV*(math.Pi/2-math.Asin(x))) / div
		s.FaceV = math.Sqrt(square)
		s.GapW = g.gapV * g.conductanceS * mean
		s.PeakV -= series * over * g.conductanceS * (peak - g.gapV) / div / drop
	}
	behind := over * series * g.conductanceS // what a volt of w takes off the electrode's, times drop
	withW := drop / over * (div*square + g.gapV*mean)
	electrode := math.Max(0, v*v-2*behind*withW+behind*behind*square) / (drop * drop) // mean of its square
	s.VoltageV = math.Sqrt(electrode)
	s.SeriesW = series * (over*over*g.conductanceS*g.conductanceS*square + 2*g.conductanceS*besideS*(square+g.gapV*mean) + besideS*besideS*electrode)
	path := g.conductanceS*square + s.GapW + besideS*electrode + s.SeriesW
	s.TerminalW = path / (1 - g.Path.LostShare)
	takenS = s.TerminalW / (v * v)
	s.SeenOhm = 1 / takenS
	return s, takenS
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
