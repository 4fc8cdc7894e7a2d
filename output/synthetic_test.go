package output

import (
	"math"
	"slices"
	"time"

	"muralheat/mesh"
	"muralheat/thermal"
	"muralheat/thermal/damage"
	"muralheat/thermal/drive"
	"muralheat/thermal/tissue"
)

// synthetic is a made-up result for tests of the output alone: its temperatures
// are a smooth bump of the given height and reach under the electrode, not the
// solution of anything. All data invented.
type synthetic struct {
	tip         thermal.Tip
	track       bool
	stretched   float64 // wall thickness over that of the thinnest
	riseC       float64 // surface peak above body temperature
	reachM      float64 // distance at which the rise has fallen to half
	boils       bool
	carbonises  bool
	beyond      bool
	injuryAtC   float64 // peak temperature at which Omega = 1
	insertionMM float64
	pulses      *drive.Pulses // of a slot cut in sparks
	pressedMM   float64       // indentation
	cushionMM   float64       // fluid in the submucosa
}

func graded(n int, h, grow, end float64) mesh.Axis {
	f := []float64{0}
	for x := 0.0; x < end; {
		if len(f) > n {
			h *= grow
		}
		x += h
		f = append(f, x)
	}
	return mesh.NewAxis(f)
}

func (s synthetic) result() *thermal.Result {
	mat := tissue.Material{SigmaSM: 0.4, KWMK: 0.5, DensityKgM3: 1050, HeatCapacityJKgK: 3600, WaterFraction: 0.75}
	w := s.stretched * 1e-3
	c := &thermal.Case{
		Title: "Invented bench wall, for tests of the drawing only",
		Layers: []thermal.Layer{
			{Name: "mucosa", ThicknessM: 0.5 * w, Material: mat},
			{Name: "submucosa", ThicknessM: 0.5 * w, Material: mat},
			{Name: "muscularis", ThicknessM: 0.6 * w, Material: mat, Muscle: true},
			{Name: "serosa", ThicknessM: 0.1 * w, Material: mat},
		},
		Electrode: thermal.Electrode{Tip: s.tip, ContactRadiusM: 0.7e-3, TipRadiusM: 1e-3, InsertionM: s.insertionMM * 1e-3},
		Drive:     drive.Drive{Mode: drive.Mode{PowerW: 10, DutyCycle: 0.5}, FrequencyHz: 4e5, OnS: 2},
		AfterS:    4,
		Body:      thermal.Body{TemperatureC: 37},
		Physics:   thermal.Physics{Boiling: s.boils, BoilC: 100, Carbonisation: s.carbonises, CarbonC: 350},
		Damage: thermal.Damage{
			Kinetics: damage.Kinetics{Name: "skin-1947", Segments: []damage.Segment{{LnA: 227.9, ThetaK: 75000}}},
			Also:     []damage.Kinetics{{Name: "liver", Segments: []damage.Segment{{LnA: 91, ThetaK: 31000}}}},
		},
		Probes: []thermal.Probe{{Name: "rim", XM: 0.7e-3, ZM: 0.2e-3}},
	}
	if s.pulses != nil {
		c.Drive.PowerW, c.Drive.Pulses, c.Motion.Waits = 60, s.pulses, true
		c.Drive.Limits = drive.Limits{PeakVoltageV: math.Inf(1), LoadLine: []drive.Load{{ResistanceOhm: 50, PowerW: 20}, {ResistanceOhm: 500, PowerW: 60}}}
	}
	if s.cushionMM > 0 {
		c.Layers = slices.Insert(c.Layers, 2, thermal.Layer{Name: "cushion", ThicknessM: s.cushionMM / 1000, Material: mat},
			thermal.Layer{Name: "submucosa-deep", ThicknessM: 0.1 * w, Material: mat})
		c.Layers[1].Name = "submucosa-upper"
	}
	if s.pressedMM > 0 {
		c.Electrode.Press = thermal.Press{ForceN: 0.5, PressurePa: 0.5 / math.Pi / 0.49e-6, IndentationM: s.pressedMM / 1000}
		for i := range 2 {
			c.Layers[i].ThicknessM *= 0.3
		}
	}
	if s.beyond {
		c.Layers = append(c.Layers, thermal.Layer{Name: "fat", ThicknessM: 8e-3, Material: mat, Beyond: true})
	}
	if s.tip != thermal.Ball {
		c.Electrode.TipRadiusM = c.Electrode.ContactRadiusM
	}
	// Borders on faces, as the solver's meshes have them.
	faces := []float64{0}
	for _, l := range c.Layers {
		top := faces[len(faces)-1]
		n := int(math.Max(1, math.Round(l.ThicknessM/1e-4)))
		if l.Beyond {
			n = 30
		}
		for i := 1; i <= n; i++ {
			faces = append(faces, top+l.ThicknessM*float64(i)/float64(n))
		}
	}
	z := mesh.NewAxis(faces)
	var m *mesh.Mesh
	length := 0.0
	if s.track {
		length = 8e-3
		c.Motion.LengthM, c.Motion.SpeedMS = length, 2e-3
		var x []float64
		for v := -5e-3; v <= length+5.01e-3; v += 2e-4 {
			x = append(x, v)
		}
		m = mesh.New(mesh.Track, mesh.NewAxis(x), graded(20, 1.5e-4, 1.2, 7e-3), z)
		c.Drive.OnS = 4
	} else {
		m = mesh.New(mesh.Axisymmetric, graded(40, 1e-4, 1.12, 12e-3), mesh.Axis{}, z)
	}
	r := &thermal.Result{Case: c, Mesh: m, LayerOf: make([]int, m.NZ)}
	n := m.Len()
	f := &r.Fields
	for _, p := range []*[]float64{&f.TemperatureC, &f.PeakC, &f.Omega, &f.CEM43Min, &f.Water, &f.Solid, &f.PotentialV, &f.PowerWM3} {
		*p = make([]float64, n)
	}
	f.OmegaAlso, f.Removed = [][]float64{make([]float64, n)}, make([]bool, n)
	for k := range m.NZ {
		top := 0.0
		for l, lay := range c.Layers {
			if m.Z.Centres[k] > top {
				r.LayerOf[k] = l
			}
			top += lay.ThicknessM
		}
		for j := range m.NY {
			for i := range m.NX {
				p := m.Index(i, j, k)
				x, y := m.X.Centres[i], 0.0
				if s.track {
					y = m.Y.Centres[j]
				}
				x = math.Max(0, math.Max(-x, x-length)) // distance from the track's ends
				if !s.track {
					x = m.X.Centres[i]
				}
				zz := math.Max(0, m.Z.Centres[k]-c.Electrode.InsertionM)
				d2 := (math.Pow(math.Max(0, math.Hypot(x, y)-0.5*c.Electrode.ContactRadiusM), 2) + 1.3*zz*zz) / (s.reachM * s.reachM)
				rise := s.riseC / (1 + d2*d2)
				if s.track {
					rise *= 1 + 0.15*math.Min(1, math.Max(0, m.X.Centres[i]/length))
				}
				t := 37 + rise
				f.PeakC[p], f.TemperatureC[p] = t, 37+rise/4
				f.Water[p], f.Solid[p] = 1, 1
				if s.boils && t > 100 {
					f.Water[p] = 0
				}
				if s.carbonises && t > 350 {
					f.Solid[p] = 0
				}
				f.Omega[p] = math.Exp(0.45 * (t - s.injuryAtC))
				f.OmegaAlso[0][p] = f.Omega[p] / 10
				f.CEM43Min[p] = math.Pow(2, math.Min(t-43, 60)) / 60
				if s.track && s.tip == thermal.Needle && math.Hypot(x, y) < 0.8e-3 && m.Z.Centres[k] < c.Electrode.InsertionM+0.1e-3 {
					f.Removed[p] = true
				}
			}
		}
	}
	sum := &r.Summary
	i, j := deepest(r)
	sum.InjuryDepthM = columnDepth(r, i, j)
	sum.InjuryDepthAlsoM = []float64{0.9 * sum.InjuryDepthM}
	muscle := 0.0
	for _, l := range c.Layers {
		if l.Muscle {
			break
		}
		muscle += l.ThicknessM
	}
	sum.MarginToMuscleM = muscle - sum.InjuryDepthM
	sum.MuscleInjuredShare = math.Max(0, math.Min(1, -sum.MarginToMuscleM/(0.6*w)))
	sum.Transmural = sum.InjuryDepthM >= c.WallM()
	sum.InjuryHalfWidthM = 1.5e-3
	sum.PeakC = 37 + s.riseC
	sum.OuterSurfacePeakC = 41
	sum.MeanPowerW, sum.ResistanceStartOhm, sum.ResistanceEndOhm = 9.9, 420, 690
	sum.PeakVoltageV, sum.CrestFactor = 212, 2
	sum.ResistanceRise, sum.DryOutS = 690./420, math.NaN()
	if cuts(c) {
		sum.RemovedDepthM = c.Electrode.InsertionM + 0.1e-3
		sum.Cut = thermal.Cut{PathM: length, KerfWidthM: 1.6e-3, RemovedM3: 1.6e-3 * length * sum.RemovedDepthM, PartedShare: 0.4, HeatJM3: 0.9e9, EnergyJM3: 3.1e9}
	}
	if s.pulses != nil {
		sum.Cut.PartedShare, sum.Cut.Sustained = 1, true
		sum.SparkShare, sum.LimitedShare, sum.DryOutS = 0.31, 0.02, 0.041
	}
	sum.Cells, sum.Steps, sum.Solves = m.Cells(), 600, 44
	top := 0.0
	for _, l := range c.Layers {
		ls := thermal.LayerSummary{Name: l.Name, TopM: top, BottomM: top + l.ThicknessM, MaxC: 37 + s.riseC/(1+top*1e3), OmegaMax: 3.5, CEM43MaxMin: 1200, InjuredM3: 2.5e-9}
		ls.InjuredShare = math.Max(0, math.Min(1, (sum.InjuryDepthM-top)/l.ThicknessM))
		if ls.InjuredShare > 0 {
			sum.DeepestLayer = l.Name
		} else {
			ls.InjuredM3, ls.OmegaMax = 0, 0.2
		}
		sum.Layers = append(sum.Layers, ls)
		top += l.ThicknessM
	}
	r.Balance = thermal.Balance{ElectricJ: 20, FarJ: 3, StoredJ: 15, SteamJ: 1, ElectrodeJ: 0.5, SurfacesJ: 0.5, EnergyResidual: 3e-14, ChargeResidual: 2e-6}
	r.Notes = []string{"Invented result for tests."}
	borders := c.Borders()
	for n := 0; n <= 120; n++ {
		t := float64(n) / 120 * (c.Drive.OnS + c.AfterS)
		h := thermal.Sample{TimeS: t, ResistanceOhm: math.NaN(), DepthM: sum.InjuryDepthM * math.Min(1, math.Sqrt(t/c.Drive.OnS/1.3))}
		if t <= c.Drive.OnS {
			h.PowerW, h.VoltageV, h.CurrentA, h.ResistanceOhm = 9.9, 64, 0.15, 420*(1+0.5*t*t/4)
			h.PositionM = c.Motion.SpeedMS * t
		} else {
			h.PositionM = length
		}
		warm := math.Min(1, math.Sqrt(t/c.Drive.OnS))
		if t > c.Drive.OnS {
			warm = math.Exp(-(t - c.Drive.OnS))
		}
		for _, b := range borders {
			v := s.riseC * warm / (1 + math.Pow(1.2*b.DepthM/s.reachM, 4))
			if s.boils && v > 63 {
				v = 63
			}
			h.BorderC = append(h.BorderC, 37+v)
		}
		h.ProbeC, h.ProbeOmega = []float64{h.BorderC[0]}, []float64{t}
		r.History = append(r.History, h)
	}
	if s.pulses != nil {
		r.History = pulsed(r.History, c.Drive)
	}
	return r
}

// pulsed puts rows on either side of every switch into a history, up to thermal.MostSwitches.
func pulsed(h []thermal.Sample, d drive.Drive) []thermal.Sample {
	var out []thermal.Sample
	set := func(s thermal.Sample, t, before float64) {
		m, _ := d.At(before)
		s.TimeS = t
		switch {
		case !runs(m):
			s.PowerW, s.VoltageV, s.CurrentA, s.SparkShare, s.ResistanceOhm = 0, 0, 0, 0, math.NaN()
		default:
			s.PowerW, s.SparkShare = m.PowerW, math.Max(0, m.PowerW-40)/40
		}
		out = append(out, s)
	}
	edge := 0.0
	for _, s := range h {
		for ; edge < s.TimeS && d.Edges() <= thermal.MostSwitches; _, edge = d.At(edge) {
			if edge > 0 {
				set(s, edge, edge-1e-6)
				set(s, edge, edge)
			}
		}
		set(s, s.TimeS, math.Max(0, s.TimeS-1e-6))
	}
	return out
}

var synthetics = map[string]synthetic{
	"mild":   {tip: thermal.Disc, stretched: 1, riseC: 23, reachM: 0.9e-3, injuryAtC: 57, beyond: true},
	"hot":    {tip: thermal.Ball, stretched: 1.3, riseC: 400, reachM: 0.8e-3, boils: true, carbonises: true, injuryAtC: 58, beyond: true},
	"thick":  {tip: thermal.Disc, stretched: 3, riseC: 110, reachM: 1.2e-3, boils: true, injuryAtC: 58},
	"needle": {tip: thermal.Needle, stretched: 2, riseC: 160, reachM: 0.8e-3, boils: true, injuryAtC: 58, insertionMM: 1, beyond: true},
	"track":  {tip: thermal.Disc, track: true, stretched: 1.5, riseC: 80, reachM: 1e-3, boils: true, injuryAtC: 58, beyond: true},
	"slot":   {tip: thermal.Needle, track: true, stretched: 2, riseC: 90, reachM: 0.7e-3, boils: true, injuryAtC: 58, insertionMM: 1, beyond: true},
	"pulsed": {tip: thermal.Needle, track: true, stretched: 2, riseC: 300, reachM: 0.6e-3, boils: true, carbonises: true, injuryAtC: 58, insertionMM: 1, beyond: true,
		pulses: &drive.Pulses{LengthS: 0.05, PeriodS: 0.6, Between: drive.Mode{PowerW: 5, DutyCycle: 1}}},
	"paused": {tip: thermal.Needle, track: true, stretched: 2, riseC: 200, reachM: 0.6e-3, boils: true, injuryAtC: 58, insertionMM: 1, beyond: true,
		pulses: &drive.Pulses{LengthS: 0.004, PeriodS: 0.013}},
	"pressed": {tip: thermal.Ball, stretched: 1.5, riseC: 90, reachM: 0.8e-3, boils: true, injuryAtC: 58, beyond: true, pressedMM: 0.3, cushionMM: 2},
	"none":    {tip: thermal.Disc, stretched: 1, riseC: 10, reachM: 0.9e-3, injuryAtC: 57, beyond: true},
}

// testRun is a run of an invented scenario file.
func testRun() *Run {
	return &Run{
		Command: []string{"muralheat", "run", "bench.yaml"}, ScenarioName: "bench.yaml",
		Scenario: []byte("title: bench\n"), Resolved: []byte("title: bench # given\n"),
		Settings: []Setting{{Key: "current.power_W", Value: "10", Unit: "W", Given: true}, {Key: "afterwards_s", Value: "10", Unit: "s", Source: "assumption: invented"}},
		Start:    time.Date(2030, 1, 2, 3, 4, 5, 0, time.UTC), End: time.Date(2030, 1, 2, 3, 4, 7, 0, time.UTC),
	}
}
