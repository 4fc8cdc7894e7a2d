package thermal

import (
	"fmt"
	"math"

	"muralheat/mesh"
	"muralheat/thermal/heat"
)

// warming is temperature, water and dry mass, and the energy balance.
type warming struct {
	*state
	sourceW []float64 // heat of the coming step in each cell, W; nil: nothing but that of the current
	steps   int
	before  stores // what there was at the start of the case
}

// stores is where heat is, and how much steam and smoke have carried off, J.
type stores struct{ storedJ, steamJ, smokeJ float64 }

func newWarming(s *state) *warming {
	materials := make([]heat.Material, len(s.Layers))
	for i, l := range s.Layers {
		materials[i] = s.thermalMaterial(l)
	}
	phases := heat.NoPhases
	if s.Physics.Boiling {
		phases.BoilC = s.Physics.BoilC
		if s.Physics.Carbonisation {
			phases.CarbonC, phases.CeilingC = s.Physics.CarbonC, s.Physics.CarbonCeilingC
		}
	}
	s.heat = heat.New(s.m, s.layerOf, materials, phases, s.Body.TemperatureC)
	s.heat.SetDiffusivity(s.Physics.WaterM2S)
	s.heat.SetSteam(s.Physics.Steam)
	if s.all.moves && s.m.Geometry == mesh.Track {
		s.heat.SetFar(farK)
	}
	w := &warming{state: s}
	if s.Physics.MetabolicHeat || s.Bath.SigmaSM > 0 {
		w.sourceW = make([]float64, s.m.Len())
	}
	return w
}

// farK is the most that far cells of a track change in one of their steps, K.
const farK = 0.2

// settle starts from the balance of the body with its blood and its surroundings.
func (w *warming) settle() {
	w.heat.Settle(w.source())
	copy(w.peakC, w.heat.T)
	w.restC = append([]float64(nil), w.heat.T...)
}

// step advances temperature, water and dry mass by dt seconds.
func (w *warming) step(dt float64) error {
	w.steps++
	if w.heat.Step(dt, w.source()) == 0 {
		p, h := w.heat.Stiffest()
		return w.failure(p, fmt.Sprintf("heat spreads too fast to be followed, it asks for steps of %.2g s (high conductivity, little heat capacity),", h))
	}
	return nil
}

// source returns the heat of the coming step, of the current and of metabolism, W over heat.SourceScale.
func (w *warming) source() []float64 {
	v2, past := w.supply.FaceV*w.supply.FaceV, w.pastV()
	if !w.Physics.MetabolicHeat && past == 0 {
		w.heat.SourceScale = v2
		return w.q
	}
	w.heat.SourceScale = 1
	w.heat.SourceChanges()
	for p, q := range w.q {
		w.sourceW[p] = q * v2
	}
	if past > 0 {
		for p, q := range w.bypassQ {
			w.sourceW[p] += q * past * past
		}
	}
	if w.Physics.MetabolicHeat { // which ends where tissue is removed
		w.each(func(p, i, j, k int) {
			if !w.heat.Gone(p) {
				w.sourceW[p] += w.Layers[w.layerOf[k]].Material.MetabolicWM3 * w.m.Volume(i, j, k)
			}
		})
	}
	return w.sourceW
}

// driedBelow is the share of water below which tissue counts as dried.
const driedBelow = 0.5

// anew begins a new energy balance with what the tissue holds.
func (w *warming) anew() {
	w.steps = 0
	w.before.storedJ, w.before.steamJ, w.before.smokeJ = w.heat.Stores()
	w.opened = w.heat.Ledger
}

func (w *warming) report(r *Result) {
	f, sum := &r.Fields, &r.Summary
	f.TemperatureC, f.Water, f.Solid, f.RestC = w.heat.T, w.heat.Water, w.heat.Solid, w.restC
	sum.Cells, sum.Steps = w.m.Cells(), w.steps
	w.each(func(p, i, j, k int) {
		if k >= w.liquidPlanes() && !w.heat.Gone(p) && w.heat.Water[p] < driedBelow {
			sum.DriedDepthM = math.Max(sum.DriedDepthM, w.driedTo(p, k))
		}
	})
	b, led := &r.Balance, w.booked()
	b.StoredJ, b.SteamJ, b.SmokeJ = w.heat.Stores()
	b.HeldJ, b.SteamJ, b.SmokeJ = w.before.storedJ, b.SteamJ-w.before.steamJ, b.SmokeJ-w.before.smokeJ
	b.PerfusionJ, b.SurfacesJ = led.PerfusionJ, led.LumenJ+led.OuterJ
	if w.Physics.MetabolicHeat && !w.Rest { // at rest it only keeps things as they are
		b.MetabolicJ = led.JouleJ - b.InTissueJ
	}
	b.WaterResidual = w.heat.WaterResidual()
	sum.SteamCondensed = math.NaN()
	if led.CondensedJ+led.BoiledJ > 0 {
		sum.SteamCondensed = led.CondensedJ / (led.CondensedJ + led.BoiledJ)
	}
	if ph := w.Physics; ph.Boiling && ph.Carbonisation && sum.PeakC >= ph.CarbonC {
		r.note("Tissue carbonised (above %g C): what happens there is an assumption, not measured physics.", ph.CarbonC)
	}
}

// driedTo returns the depth, m, at which the water of cell p, dried and at depth index k, has
// risen to driedBelow: between the centres of two cells, as the injury is read off.
func (w *warming) driedTo(p, k int) float64 {
	z := w.m.Z
	if k+1 == w.m.NZ || w.heat.Gone(p+w.m.Plane()) {
		return z.Faces[k+1]
	}
	here, below := w.heat.Water[p], w.heat.Water[p+w.m.Plane()]
	if below < driedBelow { // that cell is looked at too
		return z.Faces[k+1]
	}
	return z.Centres[k] + (z.Centres[k+1]-z.Centres[k])*(driedBelow-here)/(below-here)
}
