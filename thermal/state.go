package thermal

import (
	"muralheat/mesh"
	"muralheat/thermal/damage"
	"muralheat/thermal/drive"
	"muralheat/thermal/field"
	"muralheat/thermal/heat"
	"muralheat/thermal/internal/cores"
)

// state is what the parts of a run share. Every part reads it; each field has one writer,
// named beside it; a second one is named too.
type state struct {
	*Case
	m       *mesh.Mesh
	layerOf []int       // layer of each depth index
	finestM float64     // smallest cell the mesh aims at, m
	cores   *cores.Pair // what passes over the mesh are spread over

	clockS  float64        // the run: time since the start of the first case, s
	caseS   float64        // the run: when the present case began, s of the clock
	timeS   float64        // the run: time since then, that of its result, s
	totalS  float64        // the run: when the case ends, s of timeS
	begunS  float64        // the run: when the present activation began, s of timeS
	sinceS  float64        // the run: time since then, s
	nth     int            // the run: activations begun so far
	all     extent         // what all activations of the run take together
	cutting bool           // the run: whether an electrode has moved so far: what is removed was cut
	stepS   float64        // the run: step that led there, s
	mode    drive.Mode     // the run: what the source is to give now
	restC   []float64      // the run: temperature before the current; nil: Body.TemperatureC
	sol     field.Solution // the conduction: the field at 1 V, as last solved; the electrode takes the heat of removed cells out
	solved  bool           // the conduction: whether it ever was
	q       []float64      // the conduction, W/V2 per cell: Joule heat at 1 V; the electrode takes that of removed cells out

	supply   drive.Supply // the source: voltage on the electrode, and over the tissue where a gap lies between
	burning  bool         // the front: whether such a gap does
	striking float64      // the front: share of time that sparks cross it
	spark    []float64    // the sparks: extra conductivity of dried tissue, S/m

	bypassFeeds []mesh.Contact // the electrode: where metal feeds a bath past the gap; none: no gap, or no bath
	bypass      field.Solution // the bath: what flows there at 1 V on the metal
	bypassQ     []float64      // the bath, W/V2 per cell: its Joule heat in tissue; nil: no bath
	openShare   float64        // the bath: potential that it puts on the face, over that of the metal
	besides     drive.Beside   // the bath: the load past the gap when that was last there
	bathFrom    int            // the bath: its first cell, from the lumen on
	isMetal     []bool         // the electrode: cells that metal fills now; nil: no bath

	heat  *heat.Solver     // temperature, water, dry mass; the electrode removes tissue and sets the boundaries
	omega *damage.Integral // the injury
	peakC []float64        // the injury: hottest temperature of each cell

	opened heat.Ledger // the warming: the heat that had left when the present case began

	coagulatedShare []float64 // the injury: 1 - exp(-Omega); nil: nothing asks

	xM       float64        // the electrode: place along its track in the middle of the coming step, m
	movedM   float64        // the electrode: how far it went in the last step along its track, m, backwards less than 0
	leadM    float64        // the conduction: how far ahead of the electrode the next field is to be its own, m
	metal    []int          // the electrode: cells of metal inside the tissue
	feeds    []mesh.Contact // the electrode: where current leaves it
	empty    []bool         // the electrode: cells that never held tissue; nil: none
	severedS float64        // the electrode: when a loop met the axis; NaN before

	res *Result
}

// offS is when the current of the activation ends, s of sinceS: at the latest when the stalk is cut through.
func (s *state) offS() float64 {
	if s.severedS < s.Drive.OnS {
		return s.severedS
	}
	return s.Drive.OnS
}

// booked returns the heat that left in the present case.
func (s *state) booked() heat.Ledger { return s.heat.Ledger.Less(s.opened) }

// material returns the material of cell p.
func (s *state) material(p int) *Layer {
	_, _, k := s.m.Cell(p)
	return &s.Layers[s.layerOf[k]]
}

// neverTissue reports whether cell p never held tissue.
func (s *state) neverTissue(p int) bool { return s.empty != nil && s.empty[p] }

// liquidPlanes returns how many depth indices lie in liquid on the mucosa.
func (s *state) liquidPlanes() int {
	k := 0
	for k < s.m.NZ && s.Layers[s.layerOf[k]].Liquid {
		k++
	}
	return k
}

// beforeC returns the temperature of cell p before the current, C.
func (s *state) beforeC(p int) float64 {
	if s.restC == nil {
		return s.Body.TemperatureC
	}
	return s.restC[p]
}

// each calls do for every cell of the mesh, depth slowest.
func (s *state) each(do func(p, i, j, k int)) {
	for k := range s.m.NZ {
		for j := range s.m.NY {
			for i := range s.m.NX {
				do(s.m.Index(i, j, k), i, j, k)
			}
		}
	}
}

// injured returns the injury that the integral omega draws.
func (s *state) injured(omega []float64) surface {
	cut := func(p int) bool { return s.cutting && !s.neverTissue(p) }
	base := 0
	for base+1 < s.m.NZ && s.m.Z.Faces[base] < 0 {
		base++
	}
	return surface{s.m, omega, s.heat.Removed(), cut, base, s.liquidPlanes()}
}

// between returns v at depth z in column (i,j): linear between cell centres, the end cells'
// own values outside.
func (s *state) between(v []float64, i, j int, z float64) float64 {
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

// failure returns the failure of a run at cell p.
func (s *state) failure(p int, what string) *Failure {
	i, j, k := s.m.Cell(p)
	f := &Failure{TimeS: s.timeS, Cell: [3]int{i, j, k}, What: what}
	f.AtM[0], f.AtM[2] = s.m.X.Centres[i], s.m.Z.Centres[k]
	if s.m.Geometry == mesh.Track {
		f.AtM[1] = s.m.Y.Centres[j]
	}
	return f
}
