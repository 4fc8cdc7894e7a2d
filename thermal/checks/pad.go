package checks

import (
	"context"
	"fmt"
	"math"

	"muralheat/mesh"
	"muralheat/thermal"
	"muralheat/thermal/drive"
	"muralheat/thermal/exact"
	"muralheat/thermal/tissue"
)

const (
	cm2    = 1e-4
	rim    = "Grimnes and Martinsen, Bioimpedance and Bioelectricity Basics, ch. 6"
	bloodC = 3600.0 // heat capacity of blood, J/(kg K)
)

// onSkin is a pad of an area on layers, a current held for a time: no blood, no change of
// conductivity, nothing lost to the air.
func onSkin(areaM2, currentA, onS float64, layers ...thermal.Layer) thermal.Case {
	a := math.Sqrt(areaM2 / math.Pi)
	return thermal.Case{
		Layers:    layers,
		Electrode: thermal.Electrode{Tip: thermal.Pad, ContactRadiusM: a, TipRadiusM: a},
		Drive:     drive.Drive{Mode: drive.Mode{DutyCycle: 1, CurrentA: currentA}, OnS: onS},
		Body:      thermal.Body{TemperatureC: bodyC, BloodHeatCapacityJKgK: bloodC},
		Physics:   thermal.Physics{PerfusionStops: thermal.Never, BoilC: 100},
		Damage:    thermal.Damage{Kinetics: setOf("skin-1947")},
		Domain:    thermal.Domain{RadiusM: 8 * a, Side: thermal.Open, Bottom: thermal.Open},
		Numerics:  thermal.Numerics{FinestM: 0.25 * mm, Tolerance: 1e-6, Resolve: 0.05, Growth: 0.2, MaxStepS: 0.1},
		Rest:      true,
	}
}

// sheetOf is a layer of a material without blood.
func sheetOf(name string, thicknessM, sigmaSM float64, beyond bool) thermal.Layer {
	m := tissue.Material{SigmaSM: sigmaSM, KWMK: ref.K, DensityKgM3: 1000, HeatCapacityJKgK: ref.RhoC / 1000}
	return thermal.Layer{Name: name, ThicknessM: thicknessM, Material: m, Beyond: beyond}
}

func mustRun(what string, c thermal.Case) *thermal.Result {
	r, err := thermal.Simulate(context.Background(), &c, thermal.Options{})
	if err != nil {
		panic("checks: " + what + ": " + err.Error())
	}
	return r
}

// underCentre returns the rise of the surface of a half-space, insulated, after t seconds of
// heat q(z) (W/m3) that is even sideways:
//
//	int_0^t int_0^inf q(z)/(rho c) exp(-z2/4 alpha tau)/sqrt(pi alpha tau) dz dtau
//
// Carslaw and Jaeger 1959, 10.1 (an instantaneous plane source).
func underCentre(t float64, q func(zM float64) float64) float64 {
	const n = 200
	alpha, sum := ref.K/ref.RhoC, 0.0
	for i := range n {
		spread := 2 * math.Sqrt(alpha*t*(float64(i)+0.5)/n)
		for j := range n {
			u := 4 * (float64(j) + 0.5) / n // exp(-16) is nothing
			sum += q(u*spread) * math.Exp(-u*u) * 2 / math.Sqrt(math.Pi) * 4 / n
		}
	}
	return sum / n * t / ref.RhoC
}

// Pads checks a neutral electrode on skin: where its current goes, its resistance, the rise
// of the skin, and the state of rest it starts from.
func Pads() []Check {
	var l list
	const sigma, area, amps, seconds = 0.5, 100 * cm2, 0.7, 60.0
	a := math.Sqrt(area / math.Pi)
	even := func(areaM2 float64) thermal.Case {
		deep := 8*math.Sqrt(areaM2/math.Pi) - 20*mm
		return onSkin(areaM2, amps, seconds, sheetOf("skin", 20*mm, sigma, false), sheetOf("below", deep, sigma, true))
	}

	// The current under a metal disc, without the rim of the grid drawn further out.
	g := mesh.Grading{From: a - 5*mm, To: a + 5*mm, FinestM: 0.1 * mm, Slope: 0.1}
	z := mesh.Grading{To: 1 * mm, FinestM: 0.1 * mm, Slope: 0.1}
	m := mesh.New(mesh.Axisymmetric, g.Axis(0, a, 8*a), mesh.Axis{}, z.Axis(0, 8*a))
	body := newConductor(m, []exact.Sheet{{ThicknessM: inf, SigmaSM: sigma}}, open, open)
	contacts := m.Annulus(nil, 0, a+mesh.RimOverhang*0.1*mm)
	sol, _ := body.solve(contacts)
	inside := func(r float64) float64 {
		sum := 0.0
		for _, c := range contacts {
			i, _, _ := m.Cell(c.P)
			share := (r*r - m.X.Faces[i]*m.X.Faces[i]) / (m.X.Faces[i+1]*m.X.Faces[i+1] - m.X.Faces[i]*m.X.Faces[i])
			sum += math.Max(0, math.Min(share, 1)) * (1 - body.Phi[c.P]) / (body.rho[c.P] * c.Squares)
		}
		return sum / sol.InS
	}
	for _, r := range []float64{0.5, 0.8, 0.9, 0.95, 0.99} {
		l.add(fmt.Sprintf("share of a disc's current within %g of its radius", r), "1 - sqrt(1 - r2/a2), "+rim, 1-math.Sqrt(1-r*r), inside(r*a), 0.004, "1")
	}

	// Pads of bare metal and behind a film of high impedance, on an even half-space.
	bare := mustRun("pad", even(area))
	l.relative("bare pad of 100 cm2 on a half-space: resistance", "1/(4 sigma a), "+rim, 1/(4*sigma*a), bare.Summary.ResistanceStartOhm, 0.01, "ohm")
	l.relative("current of 0.7 A for 60 s: heating factor", "I2 t, IEC 60601-2-2:2017", 29.4, bare.Summary.HeatingFactorA2S, 1e-6, "A2 s")
	l.relative("bare pad: rise at the centre, half the mean density", "J = I/(2 A) a2/(a2 + z2) on the axis, "+rim,
		underCentre(seconds, func(z float64) float64 { return math.Pow(amps/(2*area)*a*a/(a*a+z*z), 2) / sigma }), bare.Summary.Pad.CentreRiseK, 0.02, "K")

	const film = 20.0 // ohm m2: two hundred times the body's own
	filmed := even(area)
	filmed.Electrode.Film = thermal.Film{OhmM2: film, HeatShare: 0} // all capacitance: its heat would hide the rest
	behind := mustRun("pad behind a film", filmed)
	density := amps / area
	l.relative("pad behind a film of 2 kohm: resistance of the body", "mean of even density, 8/(3 pi2 sigma a), "+rim,
		8/(3*math.Pi*math.Pi*sigma*a), behind.Summary.ResistanceStartOhm-film/area, 0.01, "ohm")
	l.relative("the same: rise at the centre, even density", "J = I/A (1 - z/sqrt(a2 + z2)) on the axis, Ohm's and Coulomb's law for an even disc",
		underCentre(seconds, func(z float64) float64 { return math.Pow(density*(1-z/math.Hypot(z, a)), 2) / sigma }), behind.Summary.Pad.CentreRiseK, 0.02, "K")

	// How the rise falls with the area: as its square where the density is even, slower at
	// the rim, where J2 ~ I2/(8 pi2 a3 d) at a distance d.
	slope := func(of func(thermal.PadSummary) float64, small, large *thermal.Result) float64 {
		return math.Log(of(small.Summary.Pad)/of(large.Summary.Pad)) / math.Log(4)
	}
	centre := func(p thermal.PadSummary) float64 { return p.CentreRiseK }
	spot := func(p thermal.PadSummary) float64 { return p.MeanRiseK }
	wide := mustRun("wide pad", even(4*area))
	wider := even(4 * area)
	wider.Electrode.Film = filmed.Electrode.Film
	far := mustRun("wide pad behind a film", wider)
	l.add("rise at the centre against area, bare: exponent", "1/area2 where the density is even, "+rim, 2, slope(centre, bare, wide), 0.03, "1")
	l.add("rise at the centre against area, behind a film: exponent", "1/area2", 2, slope(centre, behind, far), 0.03, "1")
	l.add("mean over 1 cm2 at the rim against area, bare: exponent", "1/area^1.5 at the rim of a large disc, from J = I/(2 pi a sqrt(a2 - r2))", 1.5, slope(spot, bare, wide), 0.05, "1")

	// An even current through skin, fat and muscle: a pad that covers all.
	column := onSkin(50*cm2, amps, seconds, sheetOf("skin", 1.5*mm, 0.2, false), sheetOf("fat", 10*mm, 0.04, false), sheetOf("muscle", 30*mm, 0.4, true))
	column.Domain = thermal.Domain{RadiusM: column.Electrode.ContactRadiusM + 0.01*mm, Side: thermal.Insulated, Bottom: thermal.Grounded}
	column.Electrode.Film = thermal.Film{OhmM2: 20 * cm2, HeatShare: 1}
	column.Lumen = thermal.Surface{HeatTransferWM2K: 8, TemperatureC: 22}
	column.Electrode.Surface = column.Lumen
	stack := exact.Stack{Top: exact.Face{H: 8, Rise: -15}, Bottom: exact.Face{H: inf}}
	heated := exact.Stack{Top: exact.Face{H: 8, Flux: 20 * cm2 * math.Pow(amps/(50*cm2), 2)}, Bottom: exact.Face{H: inf}}
	ohm := 20.0 / 50
	for i, k := range []float64{0.37, 0.21, 0.5} {
		s := &column.Layers[i]
		s.Material.KWMK, s.Material.PerfusionKgM3S = k, []float64{3000, 800, 2000}[i]/bloodC
		layer := exact.Layer{Solid: material{K: k, RhoC: ref.RhoC, G: s.Material.PerfusionKgM3S * bloodC}, ThicknessM: s.ThicknessM}
		stack.Layers = append(stack.Layers, layer)
		layer.Q = math.Pow(amps/(50*cm2), 2) / s.Material.SigmaSM
		heated.Layers = append(heated.Layers, layer)
		ohm += s.ThicknessM / s.Material.SigmaSM / (50 * cm2)
	}
	r := mustRun("layered column under a pad", column)
	at := func(depth float64) (before, rise float64) {
		k := r.Mesh.Z.Find(depth)
		p := r.Mesh.Index(0, 0, k)
		return r.Fields.RestC[p], r.Fields.PeakC[p] - r.Fields.RestC[p]
	}
	for _, depth := range []float64{0, 2 * mm, 6 * mm} {
		centre := r.Mesh.Z.Centres[r.Mesh.Z.Find(depth)]
		before, rise := at(depth)
		rest, _ := stack.Steady(centre)
		l.add(fmt.Sprintf("layered column under a pad: at rest, %.3g mm deep", centre/mm), "heat balance of resting skin, "+pennes, bodyC+rest, before, 0.02, "C")
		want, _ := heated.Transient(centre, seconds)
		l.relative(fmt.Sprintf("layered column under a pad: rise after 60 s, %.3g mm deep", centre/mm), "J2/sigma in each layer, layers by Laplace transform", want, rise, 0.02, "K")
	}
	l.relative("layered column under a pad: resistance with its film", "Ohm's law in series", ohm, r.Summary.ResistanceStartOhm, 1e-3, "ohm")
	l.add("layered column under a pad: energy residual", "conservation of energy", 0, r.Balance.EnergyResidual, 1e-9, "1")
	return l
}
