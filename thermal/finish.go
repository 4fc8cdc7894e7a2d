package thermal

import (
	"fmt"
	"math"

	"muralheat/mesh"
	"muralheat/thermal/field"
)

func (s *simulation) surface(omega []float64) surface {
	cut := func(p int) bool { return s.Motion.Moving() && (s.empty == nil || !s.empty[p]) }
	base := 0
	for base+1 < s.m.NZ && s.m.Z.Faces[base] < 0 {
		base++
	}
	return surface{s.m, omega, s.heat.Gone, cut, base}
}

// beneath is where history is taken at depth z: under the centre of the electrode, or
// in the first cell beside the shaft of a needle.
func (s *simulation) beneath(z float64) Probe {
	p := Probe{XM: s.where(), ZM: z}
	switch s.Electrode.Tip {
	case Needle:
	case Loop:
		return Probe{ZM: z}
	default:
		return p
	}
	out := s.Electrode.ContactRadiusM + s.m.Z.Width(0)/2
	if s.m.Geometry == mesh.Axisymmetric {
		p.XM = s.m.X.Centres[s.m.X.Find(out)]
	} else {
		p.YM = s.m.Y.Centres[s.m.Y.Find(out)]
	}
	return p
}

// between returns v at depth z in column (i,j): linear between cell centres, the
// end cells' own values outside.
func (s *simulation) between(v []float64, i, j int, z float64) float64 {
	c := s.m.Z.Centres
	k := s.m.Z.Find(z)
	if z < c[k] {
		k--
	}
	if k < 0 || k+1 == len(c) {
		return v[s.m.Index(i, j, max(k, 0))]
	}
	p := s.m.Index(i, j, k)
	if s.heat.Gone(p) {
		return v[p+s.m.Plane()]
	}
	if s.heat.Gone(p + s.m.Plane()) {
		return v[p]
	}
	// At a face between unlike layers the temperature is weighted by what conducts
	// towards it, so that the flux is the same on both sides.
	if z == s.m.Z.Faces[k+1] {
		k0 := s.Layers[s.layerOf[k]].Material.KWMK / s.m.Z.Width(k)
		k1 := s.Layers[s.layerOf[k+1]].Material.KWMK / s.m.Z.Width(k+1)
		return (k0*v[p] + k1*v[p+s.m.Plane()]) / (k0 + k1)
	}
	f := (z - c[k]) / (c[k+1] - c[k])
	return v[p] + f*(v[p+s.m.Plane()]-v[p])
}

// sample appends a row of history.
func (s *simulation) sample() {
	row := Sample{TimeS: s.t, PositionM: s.where(), ResistanceOhm: math.NaN()}
	if s.mode.DutyCycle > 0 && s.isSolved {
		g := s.sol.ConductanceS()
		row.VoltageV, row.CurrentA, row.PowerW = s.voltage, s.voltage*g, s.voltage*s.voltage*s.sol.PowerS()
		row.ResistanceOhm, row.SparkShare = 1/g, s.sparkCurrent()
	}
	for _, b := range s.Borders() {
		row.BorderC = append(row.BorderC, s.at(s.heat.T, s.beneath(b.DepthM)))
	}
	row.DepthM = s.surface(s.omega.Sum).depth()
	for _, p := range s.Probes {
		row.ProbeC = append(row.ProbeC, s.at(s.heat.T, p))
		row.ProbeOmega = append(row.ProbeOmega, s.at(s.omega.Sum, p))
	}
	if s.skin != nil {
		row.MeanRiseK = s.look()
	}
	s.res.History = append(s.res.History, row)
}

// at returns v at a probe, linear between the cell centres around it.
func (s *simulation) at(v []float64, p Probe) float64 {
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
		a := s.between(v, i, j, p.ZM)
		if f == 0 {
			return a
		}
		return a + f*(s.between(v, i+1, j, p.ZM)-a)
	}
	i, f := along(s.m.X, p.XM)
	if s.m.Geometry == mesh.Axisymmetric {
		return line(i, f, 0)
	}
	j, g := along(s.m.Y, math.Abs(p.YM))
	a := line(i, f, j)
	if g == 0 {
		return a
	}
	return a + g*(line(i, f, j+1)-a)
}

// finish closes the books and reads off the summary.
func (s *simulation) finish(grid Grid) {
	r, m, c := s.res, s.m, s.Case
	sum, b := &r.Summary, &r.Balance
	r.Fields = Fields{
		TemperatureC: s.heat.T, PeakC: s.peak, Omega: s.omega.Sum, CEM43Min: s.dose.Sum,
		Water: s.heat.Water, Solid: s.heat.Solid,
		Removed: make([]bool, m.Len()), PotentialV: make([]float64, m.Len()), PowerWM3: make([]float64, m.Len()),
	}
	for _, a := range s.also {
		r.Fields.OmegaAlso = append(r.Fields.OmegaAlso, a.Sum)
	}

	r.Fields.RestC = s.restC

	tops := c.Edges()
	sum.Layers = make([]LayerSummary, len(c.Layers))
	for i, l := range c.Layers {
		sum.Layers[i] = LayerSummary{Name: l.Name, TopM: tops[i], BottomM: tops[i+1], MaxC: c.Body.TemperatureC}
	}
	sum.PeakC, sum.OuterSurfacePeakC = c.Body.TemperatureC, c.Body.TemperatureC
	wall := c.WallM()
	for k := range m.NZ {
		l := &sum.Layers[s.layerOf[k]]
		for j := range m.NY {
			for i := range m.NX {
				p := m.Index(i, j, k)
				r.Fields.PotentialV[p] = s.field.Phi[p] * s.lastV
				r.Fields.PowerWM3[p] = s.q[p] * s.lastV * s.lastV / m.Volume(i, j, k)
				if s.heat.Gone(p) {
					r.Fields.Removed[p] = true
					if c.Motion.Moving() {
						sum.RemovedDepthM = math.Max(sum.RemovedDepthM, m.Z.Faces[k+1])
					}
				} else if s.heat.Water[p] < driedBelow {
					sum.DriedDepthM = math.Max(sum.DriedDepthM, m.Z.Faces[k+1])
				}
				if s.empty != nil && s.empty[p] {
					continue
				}
				l.MaxC = math.Max(l.MaxC, s.peak[p])
				l.OmegaMax = math.Max(l.OmegaMax, s.omega.Sum[p])
				l.CEM43MaxMin = math.Max(l.CEM43MaxMin, s.dose.Sum[p])
				sum.PeakC = math.Max(sum.PeakC, s.peak[p])
			}
		}
	}
	for j := range m.NY {
		for i := range m.NX {
			sum.OuterSurfacePeakC = math.Max(sum.OuterSurfacePeakC, s.between(s.peak, i, j, wall))
		}
	}

	front := s.surface(s.omega.Sum)
	sum.InjuryDepthM, sum.InjuryHalfWidthM = front.depth(), front.halfWidth()
	for _, a := range s.also {
		sum.InjuryDepthAlsoM = append(sum.InjuryDepthAlsoM, s.surface(a.Sum).depth())
	}
	volumes, highest, deepest := front.volumes(tops)
	sum.MarginToMuscleM, sum.MuscleInjuredShare = math.NaN(), math.NaN()
	for i := range sum.Layers {
		l := &sum.Layers[i]
		l.InjuredM3 = volumes[i]
		l.InjuredShare = (deepest[i] - l.TopM) / (l.BottomM - l.TopM)
		if c.Layers[i].Above {
			l.InjuredShare = math.Max(deepest[i]-highest[i], 0) / (l.BottomM - l.TopM)
		}
		if volumes[i] > 0 {
			sum.DeepestLayer = l.Name
		}
		if c.Layers[i].Muscle && math.IsNaN(sum.MarginToMuscleM) {
			sum.MarginToMuscleM = l.TopM - sum.InjuryDepthM
			sum.MuscleInjuredShare = l.InjuredShare
		}
	}
	sum.Transmural = sum.InjuryDepthM >= wall*(1-1e-9)

	sum.Cells = m.Cells()
	sum.CrestFactor = c.Drive.CrestFactor()
	if c.Drive.OnS > 0 {
		on := math.Min(s.t, s.offS())
		sum.MeanPowerW = b.ElectricJ / on
		sum.CurrentRMSA = math.Sqrt(sum.HeatingFactorA2S / on)
	}
	sum.ResistanceRise = math.NaN()
	if s.flowS > 0 {
		sum.ResistanceRise = s.mostOhm / s.leastOhm
		sum.LimitedShare, sum.SparkShare = s.heldS/s.flowS, s.sparkS/s.flowS
	}
	if c.Electrode.Tip == Needle && c.Motion.Moving() {
		sum.Cut = s.cut()
	}
	switch c.Electrode.Tip {
	case Pad:
		sum.Pad = s.pad()
	case Loop:
		sum.Stalk = s.stalkSummary()
	}
	s.books(b)
	s.remarks(grid)
}

// books closes the energy balance.
func (s *simulation) books(b *Balance) {
	led := s.heat.Ledger
	b.StoredJ, b.SteamJ, b.SmokeJ = s.heat.Books()
	b.RemovedJ, b.PerfusionJ = led.RemovedJ, led.PerfusionJ
	b.ElectrodeJ, b.SurfacesJ = led.ElectrodeJ, led.LumenJ+led.OuterJ
	b.MetabolicJ = led.JouleJ - (b.ElectricJ - b.FarJ)
	if !s.Physics.MetabolicHeat || s.Rest { // at rest it only keeps things as they are
		b.MetabolicJ = 0
	}
	in := b.ElectricJ - b.FarJ + b.MetabolicJ
	out := b.StoredJ + b.SteamJ + b.SmokeJ + b.RemovedJ + b.PerfusionJ + b.ElectrodeJ + b.SurfacesJ
	// Over the largest term: what a cold surface takes may be a million times what a weak
	// source gives. A microjoule is the least: below, the books of a body of some kilojoules
	// hold little but rounding.
	scale := max(1e-6, math.Abs(in), math.Abs(out), s.heat.AtRestW()*s.t)
	for _, term := range []float64{b.StoredJ, b.SteamJ, b.SmokeJ, b.RemovedJ, b.PerfusionJ, b.ElectrodeJ, b.SurfacesJ} {
		scale = math.Max(scale, math.Abs(term))
	}
	b.EnergyResidual = (in - out) / scale
}

// remarks says what limits the trust in this run.
func (s *simulation) remarks(grid Grid) {
	note := func(format string, a ...any) { s.res.Notes = append(s.res.Notes, fmt.Sprintf(format, a...)) }
	sum, c := &s.res.Summary, s.Case
	zEnd, rEnd := grid.Z.To, c.Electrode.ContactRadiusM+grid.ReachM
	if c.Electrode.Tip == Loop {
		rEnd = grid.X.To
	}
	if sum.InjuryDepthM > zEnd || sum.InjuryHalfWidthM > rEnd {
		note("The injury left the zone of fine cells (%.2g mm deep, %.2g mm wide): its edge is less exact than the quality promises.", zEnd*1e3, rEnd*1e3)
	}
	if s.unsolved > 0 {
		note("%d field solutions stopped after %d iterations, short of their tolerance: do not trust this run.", s.unsolved, field.MostIterations)
	}
	if share := sum.LimitedShare; share > 0.01 {
		note("For %.3g %% of the time with current a limit of the source (%s) held it below what it was set to.", 100*share, joined(s.holders))
	}
	if sum.SparkShare > 0 {
		note("Sparks carried current: their onset and what they need to cross dried tissue are assumptions.")
	}
	if ph := c.Physics; ph.Boiling && ph.Carbonisation && sum.PeakC >= ph.CarbonC {
		note("Tissue carbonised (above %g C): what happens there is an assumption, not measured physics.", ph.CarbonC)
	}
	if cut := sum.Cut; cut.RemovedM3 > 0 && !cut.Sustained {
		note("The cut was not sustained: of the tissue the needle swept aside, %.0f %% had not boiled dry before it came. There it would push and drag, not cut; it is taken as removed all the same.", 100*(1-cut.PartedShare))
	}
	if st := sum.Stalk; c.Electrode.Tip == Loop && c.Motion.Moving() {
		if math.IsNaN(st.CutThroughS) {
			note("The loop did not cut through: it still held %.2g mm when the current ended.", 2*st.RingRadiusM*1e3)
		}
		if st.PartedShare < sustainedShare {
			note("Of the tissue the wire went through, %.0f %% had not boiled dry before it came: there it would have to tear its way; it is taken as removed all the same.", 100*(1-st.PartedShare))
		}
	}
	if c.Electrode.Tip == Needle && c.Motion.Waits && c.Motion.Moving() && sum.Cut.PathM < c.Motion.LengthM-grid.FinestM {
		note("The needle came %.3g mm far of %g mm while the current was on, %g s.", sum.Cut.PathM*1e3, c.Motion.LengthM*1e3, c.Drive.OnS)
	}
}
