package thermal

import (
	"context"
	"fmt"
	"math"
	"reflect"
	"slices"
)

// Sequence is cases one after another on the same tissue: each finds the temperature, the water, the char, the
// tears by steam, the injury, the kerf and the metal as the one before left them. The pause between two is
// Case.AfterS of the first of them; the electrode stays where it is until the next begins.
type Sequence []*Case

// Sequence returns the cases before c, and c.
func (c *Case) Sequence() Sequence { return append(slices.Clone(Sequence(c.Before)), c) }

// WholeS is the simulated time of the case with that of those before it, s.
func (c *Case) WholeS() (wholeS float64) {
	for _, k := range c.Sequence() {
		wholeS += k.TotalS()
	}
	return wholeS
}

// SetNumerics puts numerics into the case and those before it, which share its mesh.
func (c *Case) SetNumerics(n Numerics) {
	c.Numerics = n
	c.Before = slices.Clone(c.Before)
	for i, b := range c.Before {
		k := *b
		k.Numerics, c.Before[i] = n, &k
	}
}

// Apart says why two cases cannot follow each other on one mesh.
type Apart struct {
	First, Second int // from 0
	What          string
}

func (e *Apart) Error() string {
	return fmt.Sprintf("thermal: activation %d cannot follow on the place of activation %d: %s", e.Second+1, e.First+1, e.What)
}

// Check returns an *Apart if the cases cannot share one mesh and one state.
func (s Sequence) Check() error {
	for n := 1; n < len(s); n++ {
		if what := s[0].apart(s[n]); what != "" {
			return &Apart{0, n, what}
		}
	}
	for n, c := range s {
		if c.Scene() == AroundStalk && (n > 0 || c.Repeat.Times > 1) {
			return &Apart{max(0, n-1), n, "a loop closes once; give pulses instead"}
		}
	}
	return nil
}

// apart says what keeps b from following a, "" if nothing does.
func (c *Case) apart(b *Case) string {
	differ := func(x, y any) bool { return !reflect.DeepEqual(x, y) }
	e, f := c.Electrode, b.Electrode
	own := shapes[e.Tip].grid != nil || c.liquidM() > 0
	switch {
	case e.Tip != f.Tip:
		return fmt.Sprintf("its tip is a %s, not a %s; take the same tip, or a fresh place", f.Tip, e.Tip)
	case differ(c.Layers, b.Layers):
		return "its wall has other layers; keep the wall as it is (a harder press changes it too), or take a fresh place"
	case own && differ(e, f):
		return "its electrode differs, and stands in a mesh of its own; take the same electrode, or a fresh place"
	case shapes[e.Tip].wholeCells && e.ContactRadiusM != f.ContactRadiusM:
		return fmt.Sprintf("its metal has a radius of %g mm, not of %g mm, and cells must be a whole part of both; take the same radius, or a fresh place", f.ContactRadiusM*1e3, e.ContactRadiusM*1e3)
	case math.Abs(e.ContactRadiusM-f.ContactRadiusM) > 1e-9 && math.Abs(e.ContactRadiusM-f.ContactRadiusM) < math.Min(c.cellM(), b.cellM()):
		return fmt.Sprintf("its contact has a radius of %.4g mm, less than a cell from %.4g mm; make them equal, or take smaller cells", f.ContactRadiusM*1e3, e.ContactRadiusM*1e3)
	case differ(c.Body, b.Body) || differ(c.Physics, b.Physics) || differ(c.Damage, b.Damage):
		return "its body, physics or damage kinetics differ; keep them"
	case differ(c.Bath, b.Bath):
		return "the liquid over its wall differs; keep it"
	case differ(c.Beyond, b.Beyond) || c.Rest != b.Rest:
		return "what lies beyond its wall differs; keep it"
	case differ(c.Domain, b.Domain) || differ(c.Numerics, b.Numerics):
		return "its domain or numerics differ; keep them"
	case differ(c.Probes, b.Probes):
		return "its probes differ; keep them"
	}
	return ""
}

// activations lists the activations of all cases.
func (s Sequence) activations() Sequence {
	var all Sequence
	for _, c := range s {
		for n := range c.Activations() {
			all = append(all, c.activation(n))
		}
	}
	return all
}

// extent is what the activations of a sequence take together.
type extent struct {
	onS, afterS, totalS float64
	edges               float64 // of pulses
	moves               bool    // an electrode does
}

func (s Sequence) extent() extent {
	var e extent
	for _, c := range s.activations() {
		e.onS += c.Drive.OnS
		e.afterS += c.AfterS
		e.totalS += c.lengthS()
		e.edges += c.Drive.Edges()
		e.moves = e.moves || c.Motion.Moving()
	}
	return e
}

// SimulateSequence computes cases one after another on the same tissue. Each has a Result: what flowed, its
// history and its energy balance are its own, from a time of 0; what the fields hold, how deep the injury is and
// how hot it became are those of all cases so far. Only the last has Fields, unless opt.AllFields. If one goes
// wrong its Result is the last, with the error as of Simulate; the error may be an *Apart, too, with no Result.
func SimulateSequence(ctx context.Context, s Sequence, opt Options) ([]*Result, error) {
	if err := s.Check(); err != nil {
		return nil, err
	}
	grid := s.Grid()
	kept := grid.MomentBytes(opt.Moments)
	if opt.AllFields {
		kept += float64(len(s)-1) * grid.fieldBytes()
	}
	if opt.MaxBytes > 0 && grid.Bytes()+kept > opt.MaxBytes {
		return nil, &TooLarge{grid, opt.MaxBytes - kept}
	}
	r := newRun(s[0], grid, s[1:]...)
	r.spread(opt.Cores)
	defer r.cores.Close()
	var results []*Result
	for n, c := range s {
		if n > 0 {
			r.take(c)
		}
		if n+1 == len(s) {
			r.moments.dueS = s.momentsS(opt.Moments)
		}
		err := r.simulate(ctx, c, n+1 == len(s), opt)
		r.heat.CatchUp() // of a run that went wrong
		for _, p := range r.parts() {
			p.report(r.res)
		}
		r.res.Balance.close(r.heat.AtRestW() * r.timeS)
		results = append(results, r.res)
		if err != nil {
			return results, err
		}
		if n+1 < len(s) {
			r.res.Fields = r.res.Fields.parted(opt.AllFields)
		}
	}
	return results, nil
}

// take begins the result of the next case, for which all parts count anew.
func (r *run) take(c *Case) {
	r.caseS, r.timeS = r.clockS, 0
	r.res = &Result{Case: c, Mesh: r.m, LayerOf: r.layerOf}
	for _, p := range r.parts() {
		p.anew()
	}
}

// begin makes a the activation that is computed, at begunS of the case.
func (r *run) begin(a *Case, begunS float64) {
	if begunS > 0 {
		r.source.onS += math.Min(r.sinceS, r.offS())
	}
	r.begunS, r.sinceS, r.severedS = begunS, 0, math.NaN()
	if r.nth++; r.nth == 1 {
		r.Case, r.cutting = a, a.Motion.Moving()
		return
	}
	other, apart := !reflect.DeepEqual(a.Electrode, r.Electrode), r.xM != a.Motion.FromM
	r.Case = a
	r.cutting = r.cutting || a.Motion.Moving()
	if other || apart {
		r.solved = false
	}
	r.electrode.again(other)
	r.nextS = r.clockS + r.sampleS(true)
}

// parted returns the fields apart from the state that goes on, none of them if they are not kept.
func (f Fields) parted(kept bool) Fields {
	if !kept {
		return Fields{}
	}
	for _, v := range f.arrays() {
		*v = slices.Clone(*v)
	}
	f.OmegaAlso = slices.Clone(f.OmegaAlso)
	for i, v := range f.OmegaAlso {
		f.OmegaAlso[i] = slices.Clone(v)
	}
	return f
}

// arrays lists the fields that stand for what goes on to change.
func (f *Fields) arrays() []*[]float64 {
	return []*[]float64{&f.TemperatureC, &f.PeakC, &f.Omega, &f.OmegaAtOnce, &f.CEM43Min, &f.Water, &f.Solid}
}

// fieldBytes is the memory that the fields of one more result take.
func (g Grid) fieldBytes() float64 {
	return 8 * float64(len((&Fields{}).arrays())+3+g.laws) * float64(g.NX) * float64(g.NY) * float64(g.NZ+2)
}
