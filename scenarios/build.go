package scenarios

import (
	"math"

	"muralheat/thermal"
	"muralheat/thermal/damage"
	"muralheat/thermal/drive"
	"muralheat/thermal/tissue"
)

// build turns a resolved file into the case, in SI units. Millimetres are divided
// by 1000 rather than multiplied by 0.001, which would round twice.
func build(f *File) thermal.Case {
	c := thermal.Case{
		Title:  *f.Title,
		Lumen:  thermal.Surface{HeatTransferWM2K: *f.Wall.Lumen.HeatTransferWM2K, TemperatureC: *f.Wall.Lumen.TemperatureC},
		AfterS: *f.AfterwardsS,
		Body:   thermal.Body{TemperatureC: *f.Body.TemperatureC, BloodHeatCapacityJKgK: *f.Body.BloodHeatCapacityJKgK},
		Drive: drive.Drive{
			Mode:        mode(&f.Current.Mode),
			FrequencyHz: *f.Current.FrequencyKHz * 1000,
			OnS:         *f.Current.OnS,
			Pulses:      pulses(f.Current.Pulses),
		},
		Physics: physics(f.Physics),
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
	switch scene(f) {
	case scenePad:
		c.Electrode, c.Rest = pad(f), true
	case sceneStalk:
		c.Electrode, c.Motion = loop(f)
		c.Physics.TearPa = orNone(f.Loop.StrengthMPa) * 1e6
	default:
		c.Electrode = electrode(f)
	}
	if f.Domain.HalfWidthMM != nil {
		c.Domain.HalfWidthM = *f.Domain.HalfWidthMM / 1000
	}
	if c.Damage.Kinetics = lawByHand(f.Damage); f.Damage.Kinetics != nil {
		c.Damage.Kinetics = kinetics(*f.Damage.Kinetics)
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

// mode leaves at zero what is not held and what does not limit.
func mode(m *Mode) drive.Mode {
	l := m.Limits
	d := drive.Mode{
		DutyCycle:    *m.DutyCyclePercent / 100,
		PowerW:       orNone(m.PowerW),
		PeakVoltageV: orNone(m.PeakVoltageV),
		CurrentA:     orNone(m.CurrentA),
		Limits:       drive.Limits{PeakVoltageV: orNone(l.PeakVoltageV), CurrentA: *l.CurrentA, PowerW: *l.PowerW},
	}
	if m.BurstPowerW != nil {
		d.PowerW = d.DutyCycle * *m.BurstPowerW
	}
	for _, p := range l.LoadLine {
		d.Limits.LoadLine = append(d.Limits.LoadLine, drive.Load{ResistanceOhm: *p.ResistanceOhm, PowerW: *p.PowerW})
	}
	return d
}

func pulses(p *Pulses) *drive.Pulses {
	if p == nil {
		return nil
	}
	d := &drive.Pulses{LengthS: *p.LengthMS / 1000, PeriodS: *p.PeriodMS / 1000}
	if flows(p.Between) {
		d.Between = mode(p.Between)
	}
	return d
}

func electrode(f *File) thermal.Electrode {
	e := f.Electrode
	t := thermal.Electrode{
		Tip:            thermal.Tip(*e.Tip),
		ContactRadiusM: contactMM(f) / 1000,
		TipRadiusM:     *e.RadiusMM / 1000,
		Surface:        thermal.Surface{HeatTransferWM2K: *e.HeatTransferWM2K, TemperatureC: *e.TemperatureC},
	}
	if e.InsertionMM != nil {
		t.InsertionM = *e.InsertionMM / 1000
	}
	if e.ForceN != nil || e.PressureKPa != nil {
		h := hold(f)
		t.Press = thermal.Press{ForceN: h.ForceN, PressurePa: h.PressurePa, IndentationM: h.IndentationM}
	}
	return t
}

// physics leaves at zero what is not used.
func physics(p *Physics) thermal.Physics {
	return thermal.Physics{
		SigmaPerK:      *p.ConductivityPerK,
		Boiling:        *p.Boiling,
		BoilC:          orNone(p.BoilC),
		LatentJKg:      orNone(p.LatentHeatJKg),
		DrySigmaShare:  orNone(p.DryConductivityPart),
		DryKWMK:        orNone(p.DryKWMK),
		Carbonisation:  on(p.Carbonisation),
		CarbonC:        orNone(p.CarbonC),
		CarbonJKg:      orNone(p.CarbonJKg),
		CarbonCeilingC: orNone(p.CarbonCeilingC),
		SparkOnsetV:    orNone(p.SparkOnsetV),
		SparkVM:        orNone(p.SparkKVMM) * 1e6,
		PartingWater:   orNone(p.PartingWaterShare),
		PerfusionStops: thermal.PerfusionStop(*p.PerfusionStops),
		MetabolicHeat:  *p.MetabolicHeat,
	}
}

func material(m *Material) tissue.Material {
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
func lawByHand(d *Damage) damage.Kinetics {
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
