package drive

// Path is what lies between the terminals of a source and the electrode; the zero value takes nothing.
type Path struct {
	SeriesOhm float64 // in series with the tissue: leads, or the output impedance of the source
	LostShare float64 // of the power at the terminals, lost beside the tissue at their voltage, 0..1
}

// seriesS returns the conductance of the series resistance and a tissue of the given conductance, siemens.
func (p Path) seriesS(conductanceS float64) float64 {
	return conductanceS / (1 + p.SeriesOhm*conductanceS)
}

// seenS returns the conductance that the terminals see, siemens: what is lost beside the tissue flows
// through a resistance parallel to leads and tissue, which takes the same share of any load.
func (p Path) seenS(conductanceS float64) float64 { return p.seriesS(conductanceS) / (1 - p.LostShare) }

// dropped returns what a tissue of the given conductance, siemens, gets of a voltage at the terminals.
func (p Path) dropped(terminalV, conductanceS float64) float64 {
	return terminalV / (1 + p.SeriesOhm*conductanceS)
}

// Loses reports whether anything is lost.
func (p Path) Loses() bool { return p.SeriesOhm > 0 || p.LostShare > 0 }
