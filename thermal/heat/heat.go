// Package heat advances temperature and water: Pennes' bioheat equation with
// boiling, drying, liquid water that flows after (liquid.go) and carbonisation,
//
//	rho c dT/dt = div(k grad T) + q - w_b c_b (T - T_b) s - boiling
//
// (Pennes 1948, J Appl Physiol 1:93) by explicit Euler steps on (T, w), w being the
// share of its water a cell still has. Every joule is booked.
package heat

import (
	"math"

	"muralheat/mesh"
	"muralheat/thermal/heat/kernel"
	"muralheat/thermal/internal/cores"
)

// Material is the thermal behaviour of one layer.
type Material struct {
	KWetWMK, KDryWMK float64 // thermal conductivity with and without its water
	CWetJM3K         float64 // heat capacity per volume, wet
	CDryJM3K         float64 // the same without its water
	LatentJM3        float64 // heat to boil off all its water
	SmokeJM3         float64 // heat to decompose its dry mass
	PerfusionWM3K    float64 // blood mass flow times heat capacity of blood, or what renews a liquid
	RenewalPerS      float64 // share of its volume that flows in anew per second, at body temperature
	Liquid           bool    // steam rises through it
}

// Phases are the temperatures, in C, at which something other than warming takes
// the heat. +Inf switches a phase off.
type Phases struct {
	BoilC    float64 // water boils
	CarbonC  float64 // dry mass decomposes
	CeilingC float64 // carbon gets no hotter, the surplus leaves as smoke
}

// NoPhases is tissue that only warms.
var NoPhases = Phases{math.Inf(1), math.Inf(1), math.Inf(1)}

// Ledger is the heat that left since the start, in joules.
type Ledger struct {
	PerfusionJ, ElectrodeJ, LumenJ, OuterJ float64
	SurplusJ                               float64 // cut off at the carbon ceiling
	RemovedJ                               float64 // in tissue taken away
	BoiledJ                                float64 // latent heat of the water that boiled off and did not condense again
	CondensedJ                             float64 // latent heat of the steam that condensed in cooler tissue
	JouleJ                                 float64 // received from the source array
}

// Less returns what was booked since a ledger was as before.
func (l Ledger) Less(before Ledger) Ledger {
	l.PerfusionJ -= before.PerfusionJ
	l.ElectrodeJ -= before.ElectrodeJ
	l.LumenJ -= before.LumenJ
	l.OuterJ -= before.OuterJ
	l.SurplusJ -= before.SurplusJ
	l.RemovedJ -= before.RemovedJ
	l.BoiledJ -= before.BoiledJ
	l.CondensedJ -= before.CondensedJ
	l.JouleJ -= before.JouleJ
	return l
}

// Solver holds the thermal state of one mesh.
type Solver struct {
	T     []float64 // C; guard planes hold the ambient temperatures
	Water []float64 // share of water left
	Solid []float64 // share of dry mass left
	Ledger

	// SourceScale multiplies every source: so that one which only gets stronger needs no new array.
	SourceScale float64

	m         *mesh.Mesh
	materials []Material
	layerOf   []int
	phases    Phases
	bodyC     float64

	next                   []float64
	c                      []float64 // heat capacity of the cell, J/K
	invC                   []float64 // its inverse; 0 for metal and gaps, which stay as they are
	rho                    []float64 // thermal resistivity, K m/W
	k                      mesh.Faces
	b                      []float64 // perfusion in force, W/K
	gone                   []bool
	goneSteamJ, goneSmokeJ float64 // carried out of cells before they went
	goneWaterJ             float64 // latent heat of the water they had lost
	everBoiledJ            float64 // latent heat of all that boiled off, condensed again or not
	bottom                 []mesh.EdgeFace
	beneath                loss      // as they were set last; unset once a cell there conducts otherwise
	lid                    loss      // of the surface, as set last
	unlike                 []int     // cells of the first plane that may lose otherwise than they were set to
	covered                []float64 // area of each surface face under the electrode, m2

	wet     []bool    // water changed since the faces were last updated
	seen    []float64 // water that they were updated for
	dirty   []int
	worst   float64 // largest (sum of conductances)/capacity seen, 1/s
	walled  float64 // the same of cells at metal that was inserted last
	metal   []wall  // faces between tissue and an inserted electrode
	contact []wall  // the same on the surface, for the energy balance
	exposed []wall  // faces of tissue towards empty space inside the mesh
	body    kernel.Body
	cores   *cores.Pair
	parts   []part        // of the present step, in chunks,
	stepS   float64       // its length, s,
	hotC    float64       // and the temperature looked out for
	bodies  []kernel.Body // body for each piece
	pieces  func(i int)   // marchPiece, kept so that a step takes no memory
	boiling []Span        // the chunks in which something boils in the present step
	lumen   []wall        // of all cells at the surface, 0 W/K where none
	outer   []wall

	far    far
	liquid liquid
	steam  steam
	rest   rest
}

// wall is a boundary conductance of one cell.
type wall struct {
	p  int
	g  float64 // W/K
	tC float64
}

// New returns a body at bodyC, insulated all around.
func New(m *mesh.Mesh, layerOf []int, materials []Material, phases Phases, bodyC float64) *Solver {
	n := m.Len()
	v := func() []float64 { return make([]float64, n) }
	s := &Solver{
		T: v(), Water: v(), Solid: v(), m: m, materials: materials, layerOf: layerOf, phases: phases, bodyC: bodyC,
		next: v(), c: v(), invC: v(), rho: v(), k: m.NewFaces(), b: v(), gone: make([]bool, n), wet: make([]bool, n), seen: v(),
		covered: make([]float64, m.Plane()), SourceScale: 1,
	}
	for k := range m.NZ {
		material := materials[layerOf[k]]
		for j := range m.NY {
			for i := range m.NX {
				p, vol := m.Index(i, j, k), m.Volume(i, j, k)
				s.T[p], s.Water[p], s.seen[p], s.Solid[p] = bodyC, 1, 1, 1
				s.c[p] = material.CWetJM3K * vol
				s.invC[p] = 1 / s.c[p]
				s.rho[p] = 1 / material.KWetWMK
				s.b[p] = material.PerfusionWM3K * vol
			}
		}
	}
	m.Couple(s.rho, s.k)
	s.body = kernel.Body{Blood: s.b, PerJ: s.invC, X: s.k.X, Y: s.k.Y, Z: s.k.Z, Row: m.NX, Plane: m.Plane(), BloodC: bodyC}
	s.findWorst()
	s.pieces = s.marchPiece
	s.SetFar(0)
	return s
}

// Spread has steps made on a second core, too; they are the same.
func (s *Solver) Spread(c *cores.Pair) { s.cores = c }

// Limit is the longest stable step in seconds: the explicit scheme then keeps
// every new temperature within those around it.
func (s *Solver) Limit() float64 { return 1 / s.worst }

// Stiffest returns the cell that asks for the shortest steps, and their length in seconds.
func (s *Solver) Stiffest() (cell int, stepS float64) {
	cell, most := s.m.Plane(), 0.0
	for p := s.m.Plane(); p < s.m.Plane()+s.m.Cells(); p++ {
		if r := s.rate(p); !(r <= most) { // so may be none
			cell, most = p, r
		}
	}
	return cell, 1 / most
}

func (s *Solver) findWorst() {
	s.worst = 0
	for p := s.m.Plane(); p < s.m.Plane()+s.m.Cells(); p++ {
		s.worst = max(s.worst, s.rate(p))
	}
}

// couple brings the faces of cell p up to date with its conductivity.
func (s *Solver) couple(p int) {
	s.m.CoupleCell(p, s.rho, s.k)
	if p >= len(s.T)-2*s.m.Plane() {
		s.beneath = loss{}
	}
	if p < 2*s.m.Plane() && s.lumen != nil {
		s.unlike = append(s.unlike, p)
	}
}

func (s *Solver) rate(p int) float64 {
	row, pl := s.m.NX, s.m.Plane()
	g := s.k.X[p] + s.k.X[p-1] + s.k.Z[p] + s.k.Z[p-pl] + s.b[p]
	if s.m.NY > 1 {
		g += s.k.Y[p] + s.k.Y[p-row]
	}
	return g * s.invC[p]
}

// SetSurface sets the loss at z = 0: heat transfer h (W/m2K) to ambientC outside
// the contacts of the electrode, and he to electrodeC under them.
func (s *Solver) SetSurface(h, ambientC float64, contacts []mesh.Contact, he, electrodeC float64) {
	pl := s.m.Plane()
	s.contact = s.contact[:0]
	for _, c := range contacts {
		if he > 0 {
			s.contact = append(s.contact, wall{c.P, 1 / (s.rho[c.P]*c.Squares + 1/(he*c.AreaM2)), electrodeC})
		}
		s.covered[c.P-pl] += c.AreaM2
		s.unlike = append(s.unlike, c.P)
	}
	if is := (loss{h, ambientC}); s.lumen == nil || s.lid != is {
		s.advance()
		s.lid, s.lumen = is, make([]wall, pl)
		for p := pl; p < 2*pl; p++ {
			s.unlike = append(s.unlike, p)
		}
	}
	for _, p := range s.unlike {
		s.cover(p)
	}
	s.unlike = s.unlike[:0]
	for _, c := range contacts {
		s.covered[c.P-pl] = 0
		s.unlike = append(s.unlike, c.P) // the next time
	}
	for _, w := range s.contact {
		g := s.k.Z[w.p-pl]
		s.above(w.p, g+w.g, (s.T[w.p-pl]*g+w.tC*w.g)/(g+w.g))
	}
}

// cover couples cell p of the first plane to the lumen where no electrode covers it.
func (s *Solver) cover(p int) {
	i, j, _ := s.m.Cell(p)
	half, at := s.m.Z.Width(0)/2, p-s.m.Plane()
	free := math.Max(0, s.m.Area(i, j)-s.covered[at])
	s.steam.open(at, free, s.covered[at], half)
	g := 0.0
	if s.lid.h > 0 && free > 0 && !s.gone[p] {
		g = free / (s.rho[p]*half + 1/s.lid.h)
	}
	s.above(p, g, s.lid.ambientC) // which brings far cells up to time first
	s.lumen[at] = wall{p, g, s.lid.ambientC}
}

// above couples cell p of the first plane to what lies above it: by g (W/K) to tC.
func (s *Solver) above(p int, g, tC float64) {
	over := p - s.m.Plane()
	if g != s.k.Z[over] || tC != s.T[over] {
		s.embrace(p)
	}
	s.T[over], s.next[over] = tC, tC
	stiffer := g > s.k.Z[over]
	s.k.Z[over] = g
	if stiffer {
		s.worst = max(s.worst, s.rate(p))
	}
}

// loss is what a surface loses heat to: heat transfer in W/(m2 K), and C.
type loss struct{ h, ambientC float64 }

// SetBottom sets the loss at the largest depth: heat transfer h (W/m2K) to
// ambientC; +Inf holds the face at ambientC.
func (s *Solver) SetBottom(h, ambientC float64) {
	is := loss{h, ambientC}
	if s.bottom != nil && s.beneath == is {
		return
	}
	s.advance()
	s.beneath = is
	pl := s.m.Plane()
	s.outer = s.outer[:0]
	if s.bottom == nil {
		s.bottom = s.m.Bottom()
	}
	for _, f := range s.bottom {
		g := 1 / (s.rho[f.P]*f.Squares + 1/(h*f.AreaM2))
		s.k.Z[f.P] = g
		s.T[f.P+pl], s.next[f.P+pl] = ambientC, ambientC
		s.outer = append(s.outer, wall{f.P, g, ambientC})
		s.worst = max(s.worst, s.rate(f.P))
	}
}

// Perfuse sets the share of its blood flow that cell p still has.
func (s *Solver) Perfuse(p int, share float64) {
	if s.gone[p] {
		return
	}
	material, vol := s.at(p)
	s.b[p] = material.PerfusionWM3K * vol * share
}

// PerJ returns one over the heat capacity of each cell, K/J; 0 where there is no tissue any more.
func (s *Solver) PerJ() []float64 { return s.invC }

// at returns the material and the volume of cell p.
func (s *Solver) at(p int) (*Material, float64) {
	i, j, k := s.m.Cell(p)
	return &s.materials[s.layerOf[k]], s.m.Volume(i, j, k)
}
