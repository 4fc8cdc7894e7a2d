package drive

import (
	"math"
	"sort"
)

// Load is a point of a load line: the most power a source gives into a resistance, as
// makers disclose it (IEC 60601-2-2 asks for power against load resistance).
type Load struct {
	ResistanceOhm float64
	PowerW        float64
}

// mostW returns the power of a load line at a resistance. Between points it is straight
// in the logarithms, exact for a source of constant current (P ~ R), power or voltage
// (P ~ 1/R); beyond the ends the current and the voltage of the end point are kept.
func mostW(line []Load, ohm float64) float64 {
	n := len(line)
	i := sort.Search(n, func(i int) bool { return line[i].ResistanceOhm >= ohm })
	switch i {
	case 0:
		return line[0].PowerW * ohm / line[0].ResistanceOhm
	case n:
		return line[n-1].PowerW * line[n-1].ResistanceOhm / ohm
	}
	a, b := line[i-1], line[i]
	share := math.Log(ohm/a.ResistanceOhm) / math.Log(b.ResistanceOhm/a.ResistanceOhm)
	return a.PowerW * math.Pow(b.PowerW/a.PowerW, share)
}

// mostV returns the highest RMS voltage of a load line, that of one of its points:
// between points the voltage runs straight in the logarithms too.
func mostV(line []Load) float64 {
	v := 0.0
	for _, l := range line {
		v = math.Max(v, math.Sqrt(l.PowerW*l.ResistanceOhm))
	}
	return v
}

// LineOhm returns between which resistances a load line is given; false without one.
func (l *Limits) LineOhm() (from, to float64, ok bool) {
	n := len(l.LoadLine)
	if n == 0 {
		return 0, 0, false
	}
	return l.LoadLine[0].ResistanceOhm, l.LoadLine[n-1].ResistanceOhm, true
}
