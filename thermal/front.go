package thermal

import "math"

// front is what a cutting electrode burns its way with. While a needle or loop that moves gets
// its pulse and the source can strike, vapour parts the metal from the tissue, and sparks cross it.
// They take the constant peak voltage SparkOnsetV; the field starts from the far side of the gap, the
// face. The heat of the gap holds the face at the boiling point, or as near to it as it can, and what is
// left of it removes tissue: a cell before the metal costs
//
//	c (BoilC - T) + VaporisedShare w latent heat
//
// Fragments are thrown out with the water that is not vaporised. Sparks strike no more often than
// there is tissue to remove: where it has gone, the gap is too long for them until the electrode has
// followed. So a source that could give more gives what the cut needs, at the voltage of a source with a
// light load, and what its current heats in the tissue behind the face goes with
// the voltage that the gap leaves. Where even sparks all the time are not enough the electrode waits, or
// drags the tissue along at a forced speed.
type front struct {
	*state
	budgetJ         float64 // heat of the gap that has not removed anything yet
	nextJ           float64 // heat that removes the next layer of cells
	wallW           float64 // heat that holds the face at the boiling point
	gapJ, wallJ     float64 // heat of the gap; of that, through the face into tissue
	spentJ          float64 // and on tissue that was removed
	electrodeBefore float64 // ledger of the heat to the metal at the last tally, J
}

// faceWM2K is the heat transfer between the gap and the face: so large that it is held.
const faceWM2K = 1e6

// light sets whether the front burns in the coming step.
func (f *front) light() {
	f.burning = f.Motion.Moving() && f.Physics.Boiling && shapes[f.Electrode.Tip].wholeCells &&
		f.mode.DutyCycle > 0 && f.Drive.Pulsing(f.sinceS) && f.mode.Strikes(f.Physics.SparkOnsetV)
}

// hold gives the face, whose cells were inserted at the boiling point, the temperature that the
// gap can pay for.
func (f *front) hold() { f.wallW = f.heat.LimitMetal(f.supply.GapW) }

// strike sets the share of time that sparks strike in the coming step, of an electrode that would go at
// speedMS: what the face and the tissue ahead ask for over what sparks all the time give. A layer and a
// half of cells is kept in hand, for a layer is paid for at once.
func (f *front) strike(speedMS float64) {
	f.striking = 1
	if !f.burning || !f.solved || math.IsInf(f.Drive.HighestPeakV(), 1) {
		return
	}
	asked := math.Max(f.wallW, 0)
	if f.nextJ > 0 {
		asked += speedMS / f.finestM * math.Max(0, 2*f.nextJ-f.budgetJ)
	}
	f.striking = leastStriking
	// The less often sparks strike the higher the voltage, and the heat of each.
	if f.over(f.mode).GapW >= asked {
		return
	}
	lo, hi := leastStriking, 1.0
	for hi/lo > 1.001 {
		f.striking = math.Sqrt(lo * hi)
		if f.over(f.mode).GapW < asked {
			lo = f.striking
		} else {
			hi = f.striking
		}
	}
	f.striking = hi
}

// leastStriking keeps a voltage on the electrode that can be told.
const leastStriking = 1e-4

// costJ is the heat that removes cell p.
func (f *front) costJ(p int) float64 {
	if f.heat.Gone(p) {
		return 0
	}
	sensible, latent := f.heat.ToBoil(p)
	return math.Max(sensible, 0) + f.Physics.VaporisedShare*latent
}

// pay removes cell p and returns the share of its cost that was there.
func (f *front) pay(p int) float64 {
	cost := f.costJ(p)
	if cost <= f.budgetJ {
		f.budgetJ -= cost
		f.spentJ += cost
		return 1
	}
	paid := math.Max(f.budgetJ, 0)
	f.budgetJ -= paid
	f.spentJ += paid
	return paid / cost
}

// anew begins a new account of heat.
func (f *front) anew() { f.gapJ, f.wallJ, f.spentJ = 0, 0, 0 }

// tally adds up a step of dt seconds. What is too much to be kept in hand leaves with the vapour.
func (f *front) tally(dt float64) {
	given := f.electrodeBefore - f.heat.ElectrodeJ
	f.electrodeBefore = f.heat.ElectrodeJ
	if !f.burning {
		f.budgetJ = 0
		return
	}
	f.gapJ += f.supply.GapW * dt
	f.wallJ += given
	f.budgetJ = math.Min(f.budgetJ+f.supply.GapW*dt-given, 2*f.nextJ)
}
