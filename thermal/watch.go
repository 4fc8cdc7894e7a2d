package thermal

import (
	"math"

	"muralheat/mesh"
)

// watch records the time course.
type watch struct {
	*state
	electrode *electrode
	sparks    *sparks
	borders   []Border
}

func newWatch(s *state, e *electrode, k *sparks) *watch { return &watch{s, e, k, s.Borders()} }

// sample appends a row of history.
func (w *watch) sample() {
	row := Sample{TimeS: w.timeS, PositionM: w.electrode.whereM(), ResistanceOhm: math.NaN()}
	if w.mode.DutyCycle > 0 && w.solved {
		row.VoltageV, row.CurrentA = w.supply.VoltageV, w.supply.FaceV*w.sol.ConductanceS()
		row.PowerW, row.TerminalW = w.powerW(), w.terminalW()
		row.ResistanceOhm, row.SparkShare = w.ohm(), w.sparks.share()
	}
	for _, b := range w.borders {
		row.BorderC = append(row.BorderC, w.at(w.heat.T, w.electrode.beneath(b.DepthM)))
	}
	row.DepthM = w.injured(w.omega.Sum).depth()
	for _, p := range w.Probes {
		row.ProbeC = append(row.ProbeC, w.at(w.heat.T, p))
		row.ProbeOmega = append(row.ProbeOmega, w.at(w.omega.Sum, p))
	}
	row.ElectrodeC = w.electrode.body.tC
	w.electrode.tip.record(&row)
	w.res.History = append(w.res.History, row)
}

// at returns v at a probe, linear between the cell centres around it.
func (w *watch) at(v []float64, p Probe) float64 {
	along := func(a mesh.Axis, x float64) (int, float64) {
		i := a.Find(x)
		if x < a.Centres[i] {
			i--
		}
		if i < 0 {
			return 0, 0
		}
		if i+1 == a.Len() {
			return i - 1, 1
		}
		return i, (x - a.Centres[i]) / (a.Centres[i+1] - a.Centres[i])
	}
	line := func(i int, f float64, j int) float64 {
		a := w.between(v, i, j, p.ZM)
		if f == 0 {
			return a
		}
		return a + f*(w.between(v, i+1, j, p.ZM)-a)
	}
	i, f := along(w.m.X, p.XM)
	if w.m.Geometry == mesh.Axisymmetric {
		return line(i, f, 0)
	}
	j, g := along(w.m.Y, math.Abs(p.YM))
	a := line(i, f, j)
	if g == 0 {
		return a
	}
	return a + g*(line(i, f, j+1)-a)
}
