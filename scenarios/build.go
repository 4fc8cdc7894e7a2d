package scenarios

import (
	"math"

	"muralheat/scenarios/keys"
	"muralheat/scenarios/source"
	"muralheat/thermal"
	"muralheat/thermal/damage"
	"muralheat/thermal/drive"
	"muralheat/thermal/heat"
	"muralheat/thermal/tissue"
)

// build turns a resolved file into the case, in SI units. Millimetres are divided
// by 1000 rather than multiplied by 0.001, which would round twice.
func build(f *keys.File) thermal.Case {
	c := thermal.Case{
		Title: *f.Title, Invented: f.Invented != nil && *f.Invented,
		Lumen:  thermal.Surface{HeatTransferWM2K: *f.Wall.Lumen.HeatTransferWM2K, TemperatureC: *f.Wall.Lumen.TemperatureC},
		AfterS: *f.AfterwardsS,
		Body:   thermal.Body{TemperatureC: *f.Body.TemperatureC, BloodHeatCapacityJKgK: *f.Body.BloodHeatCapacityJKgK},
		Drive: drive.Drive{
			Mode:        source.Mode(&f.Current.Mode, source.Path(&f.Current.Output)),
			FrequencyHz: *f.Current.FrequencyKHz * 1000,
			OnS:         *f.Current.OnS,
			Pulses:      source.Pulses(&f.Current.Output),
		},
		Physics: physics(f.Physics, *f.Current.FrequencyKHz*1000),
		Domain: thermal.Domain{
			RadiusM: *f.Domain.RadiusMM / 1000,
			Side:    thermal.Edge(*f.Domain.Side),
			Bottom:  thermal.Edge(*f.Domain.Bottom),
			ThreeD:  threeD(f),
		},
		Numerics: thermal.Numerics{
			Quality:   *f.Numerics.Quality,
			FinestM:   *f.Numerics.FinestUM / 1e6,
			Growth:    *f.Numerics.GrowthPercent / 100,
			Tolerance: *f.Numerics.Tolerance,
			Resolve:   *f.Numerics.ResolvePercent / 100,
			MaxStepS:  *f.Numerics.MaxStepMS / 1000,
		},
	}
	if l := f.Wall.Liquid; stirred(f) {
		warmer := *f.Wall.Lumen.TemperatureC - tissue.BodyTemperature.Value
		c.Bath = thermal.Bath{SigmaSM: *l.Material.SigmaSM * (1 + c.Physics.SigmaPerK*warmer), DepthM: *l.DepthMM / 1000}
	}
	if l := f.Wall.Liquid; l != nil && scene(f) == sceneWall {
		c.Layers = append(c.Layers, thermal.Layer{Name: liquidName, ThicknessM: *l.DepthMM / 1000, Material: material(l.Material), Above: true, Liquid: true, RenewalPerS: keys.OrNone(l.RenewalPerS)})
	}
	for _, l := range above(f) {
		c.Layers = append(c.Layers, thermal.Layer{Name: l.name, ThicknessM: l.mm / 1000, Material: material(l.material), Above: true, RadiusM: l.radiusMM / 1000})
	}
	for _, s := range sheets(f) {
		c.Layers = append(c.Layers, thermal.Layer{Name: s.name, ThicknessM: s.mm / 1000, Material: material(s.material), Muscle: s.muscle})
	}
	if b := f.Wall.Beyond; solidBeyond(f) {
		c.Layers = append(c.Layers, thermal.Layer{Name: *b.Name, ThicknessM: *b.ThicknessMM / 1000, Material: material(b.Material), Beyond: true})
	} else {
		c.Beyond = thermal.Surface{HeatTransferWM2K: *b.HeatTransferWM2K, TemperatureC: *b.TemperatureC}
	}
	if f.Motion != nil {
		c.Motion = thermal.Motion{LengthM: *f.Motion.LengthMM / 1000, SpeedMS: speedMMS(f) / 1000, Waits: fromPressure(f)}
	}
	c.Repeat = repeat(f)
	c.Before = casesBefore(f)
	sceneOf(f).build(f, &c)
	if f.Domain.HalfWidthMM != nil {
		c.Domain.HalfWidthM = *f.Domain.HalfWidthMM / 1000
	}
	if c.Damage.Kinetics = lawByHand(f.Damage); f.Damage.Kinetics != nil {
		c.Damage.Kinetics = kinetics(*f.Damage.Kinetics)
	}
	if f.Damage.AtOnce != nil {
		k := kinetics(*f.Damage.AtOnce)
		c.Damage.AtOnce = &k
	}
	for _, name := range f.Damage.Also {
		c.Damage.Also = append(c.Damage.Also, kinetics(name))
	}
	for _, p := range f.Probes {
		probe := thermal.Probe{Name: *p.Name, ZM: *p.ZMM / 1000}
		if threeD(f) {
			probe.XM, probe.YM = *p.XMM/1000, *p.YMM/1000
		} else {
			probe.XM = *p.RMM / 1000
		}
		c.Probes = append(c.Probes, probe)
	}
	return c
}

// physics leaves at zero what is not used.
func physics(p *keys.Physics, frequencyHz float64) thermal.Physics {
	return thermal.Physics{
		SigmaPerK:      *p.ConductivityPerK,
		Boiling:        *p.Boiling,
		BoilC:          keys.OrNone(p.BoilC),
		LatentJKg:      keys.OrNone(p.LatentHeatJKg),
		DrySigmaShare:  keys.OrNone(p.DryConductivityPart),
		Drying:         thermal.Drying(keys.Word(p.Drying)),
		SigmaExponent:  keys.OrNone(p.SigmaExponent),
		SigmaThreshold: keys.OrNone(p.SigmaThreshold),
		DryLeakSM:      tissue.DisplacementSM(frequencyHz, keys.OrNone(p.DryPermittivity)),
		WaterM2S:       keys.OrNone(p.WaterM2S),
		Steam: heat.Steam{
			PermeabilityM2: keys.OrNone(p.SteamM2), WetShare: keys.OrNone(p.SteamWetShare),
			TearPa: keys.OrNone(p.SteamTearKPa) * 1000, VentShare: keys.OrNone(p.SteamVentShare),
		},
		CoagulatedSigmaRise: keys.OrNone(p.CoagulatedRise) / 100,
		DryKWMK:             keys.OrNone(p.DryKWMK),
		Carbonisation:       keys.On(p.Carbonisation),
		CarbonC:             keys.OrNone(p.CarbonC),
		CarbonJKg:           keys.OrNone(p.CarbonJKg),
		CarbonCeilingC:      keys.OrNone(p.CarbonCeilingC),
		SparkOnsetV:         keys.OrNone(p.SparkOnsetV),
		SparkVM:             keys.OrNone(p.SparkKVMM) * 1e6,
		VaporisedShare:      keys.OrNone(p.VaporisedShare),
		PerfusionStops:      thermal.PerfusionStop(*p.PerfusionStops),
		MetabolicHeat:       *p.MetabolicHeat,
	}
}

func material(m *keys.Material) tissue.Material {
	return tissue.Material{
		SigmaSM:          *m.SigmaSM,
		KWMK:             *m.KWMK,
		DensityKgM3:      *m.DensityKgM3,
		HeatCapacityJKgK: *m.HeatCapacityJKgK,
		PerfusionKgM3S:   *m.PerfusionKgM3S,
		WaterFraction:    *m.WaterFraction,
		MetabolicWM3:     *m.MetabolicWM3,
	}
}

// lawByHand returns the damage law of A and Ea or Ea/R; empty if none was given.
func lawByHand(d *keys.Damage) damage.Kinetics {
	if d.APerS == nil {
		return damage.Kinetics{}
	}
	s := damage.Segment{LnA: math.Log(*d.APerS)}
	if d.EOverRK != nil {
		s.ThetaK = *d.EOverRK
	} else {
		s.ThetaK = *d.EaJMol / damage.GasConstant
	}
	return damage.Kinetics{Name: "by-hand", Segments: []damage.Segment{s}}
}
