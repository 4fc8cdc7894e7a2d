package thermal

import (
	"math"

	"muralheat/mesh"
)

// Pad is a neutral electrode: a disc or ring on the skin.
const Pad Tip = "pad"

func init() {
	enter(Pad, shape{scene: OnSkin, tip: newPad, grid: (*Case).padGrid, intoBody: true, gel: true})
}

// PadInner names a length of a pad: the radius within which it has no contact.
const PadInner = "innerradiusm"

// InnerRadiusM returns the radius within which a pad has no contact, m; 0: it has contact everywhere.
func (e Electrode) InnerRadiusM() float64 { return e.Own[PadInner] }

// pad reads off what a neutral electrode does to the skin under it.
type pad struct {
	plain
	spots []spot
	worst PadSummary
}

func (t *pad) place() {
	e, air := &t.Electrode, t.Lumen
	// Its back covers the skin where contact is lost too.
	t.contacts = t.m.Annulus(t.contacts, 0, e.TipRadiusM)
	t.heat.SetSurface(air.HeatTransferWM2K, air.TemperatureC, t.contacts, e.HeatTransferWM2K, e.TemperatureC)
	over := 0.0
	if e.Film.OhmM2 == 0 { // else the current has no singularity at the rim
		over = mesh.RimOverhang * t.finestM
	}
	t.feeds = t.m.Annulus(t.feeds, math.Max(0, e.InnerRadiusM()-over), e.ContactRadiusM+over)
}

// spotM2 is the area over which IEC 60601-2-2 judges the rise of skin temperature.
const spotM2 = 1e-4

// spot is a round piece of skin: the share of each column, out to which it reaches, in its
// area.
type spot struct {
	atM    float64
	first  int
	shares []float64
}

// newPad prepares the means over spots wherever they may lie: between every other pair of
// columns, and at the centre.
func newPad(s *electrode) tip {
	x, k := s.m.X, &pad{plain: plain{s}}
	radius := math.Sqrt(spotM2 / math.Pi)
	for at := 0.0; at < s.Electrode.TipRadiusM+radius; at += math.Min(x.Width(x.Find(at))/2, radius/8) {
		sp := spot{atM: at, first: -1}
		for i := range x.Len() {
			share := (lens(radius, x.Faces[i+1], at) - lens(radius, x.Faces[i], at)) / spotM2
			switch {
			case share > 1e-12 && sp.first < 0:
				sp.first, sp.shares = i, []float64{share}
			case sp.first >= 0 && x.Faces[i] < at+radius:
				sp.shares = append(sp.shares, math.Max(share, 0))
			}
		}
		k.spots = append(k.spots, sp)
	}
	return k
}

// lens returns the area common to two circles of radii a and b with centres d apart, m2.
func lens(a, b, d float64) float64 {
	if least := math.Min(a, b); d <= math.Abs(a-b) {
		return math.Pi * least * least
	}
	if d >= a+b {
		return 0
	}
	u := (d*d + a*a - b*b) / (2 * d) // distance of the common chord from the centre of a
	w := d - u
	return a*a*math.Acos(math.Max(-1, math.Min(1, u/a))) + b*b*math.Acos(math.Max(-1, math.Min(1, w/b))) -
		d*math.Sqrt(math.Max(0, a*a-u*u))
}

// record notes the rises of the skin as they are now, and the mean over its hottest square
// centimetre, K.
func (t *pad) record(row *Sample) {
	rise := func(i int) float64 {
		p := t.m.Index(i, 0, 0)
		return t.heat.T[p] - t.beforeC(p)
	}
	w := &t.worst
	meanK := math.Inf(-1)
	for _, sp := range t.spots {
		mean := 0.0
		for n, share := range sp.shares {
			mean += share * rise(sp.first+n)
		}
		meanK = math.Max(meanK, mean)
		if mean > w.MeanRiseK {
			w.MeanRiseK, w.MeanRiseAtM = mean, sp.atM
		}
	}
	w.CentreRiseK = math.Max(w.CentreRiseK, rise(0))
	i := t.m.X.Find(t.Electrode.ContactRadiusM * (1 + 1e-12)) // the cell outside the rim
	x, at := t.m.X.Centres, t.Electrode.ContactRadiusM
	f := (at - x[i-1]) / (x[i] - x[i-1])
	w.RimRiseK = math.Max(w.RimRiseK, (1-f)*rise(i-1)+f*rise(i))
	row.MeanRiseK = meanK
}

func (t *pad) report(r *Result) {
	w := t.worst
	for p := t.m.Index(0, 0, 0); p < t.m.Index(0, 0, t.m.NZ); p++ {
		w.HighestRiseK = math.Max(w.HighestRiseK, t.peakC[p]-t.beforeC(p))
	}
	w.SkinPeakC = t.peakC[t.m.Index(0, 0, 0)]
	for i := range t.m.NX {
		w.SkinPeakC = math.Max(w.SkinPeakC, t.peakC[t.m.Index(i, 0, 0)])
	}
	r.Summary.Pad = w
}

// padGrid is that of a pad on the skin: fine through the skin and about the rims of the
// contact, where the current crowds.
func (c *Case) padGrid(g *Grid) {
	g.ReachM = padReachM
	e := c.Electrode
	g.X = mesh.Grading{From: math.Max(0, e.ContactRadiusM-padReachM), To: e.ContactRadiusM + padReachM, FinestM: g.FinestM, Slope: c.Numerics.growth()}
	g.xb = []float64{0, e.ContactRadiusM, c.Domain.RadiusM}
	if e.InnerRadiusM() > 0 {
		g.X.From = math.Max(0, e.InnerRadiusM()-padReachM)
		g.xb = insert(g.xb, e.InnerRadiusM())
	}
	g.Z = mesh.Grading{From: 0, To: padReachM, FinestM: g.FinestM, Slope: c.Numerics.growth()}
}

// Heat spreads some 5 mm under a pad within a minute.
const padReachM = 5e-3
