package drive

import "math"

// slack is how far, in periods, an edge reached by adding up steps may be off.
const slack = 1e-9

// At returns the mode in force from time t on, s, and when it ends: at the edge of a
// pulse or when the source is switched off. From OnS on there is none and until is
// +Inf.
func (d *Drive) At(t float64) (m Mode, until float64) {
	pulse, until := d.phase(t)
	switch {
	case t >= d.OnS:
		return Mode{}, until
	case len(d.Course) > 0:
		return d.course(t)
	case pulse:
		return d.Mode, until
	}
	return d.Pulses.Between, until
}

// Pulsing reports whether at time t, s, the source gives its Mode: all the time it is on,
// but for what lies between pulses.
func (d *Drive) Pulsing(t float64) bool {
	pulse, _ := d.phase(t)
	return pulse
}

// phase returns whether Mode is in force from time t on, and when that changes.
func (d *Drive) phase(t float64) (pulse bool, until float64) {
	p := d.Pulses
	switch {
	case t >= d.OnS:
		return false, math.Inf(1)
	case p == nil:
		return true, d.OnS
	}
	n := math.Floor(t/p.PeriodS + slack)
	until = n*p.PeriodS + p.LengthS
	if pulse = t < until-slack*p.PeriodS; !pulse {
		until = (n + 1) * p.PeriodS
	}
	if until > d.OnS-slack*p.PeriodS {
		until = d.OnS
	}
	return pulse, until
}

// Edges returns how many times the mode changes while the source is on, the final
// switching off included.
func (d *Drive) Edges() float64 {
	if d.Pulses == nil {
		return 1
	}
	l, t := d.Pulses.LengthS/d.Pulses.PeriodS, d.OnS/d.Pulses.PeriodS
	n := math.Floor(t + slack)
	switch rest := t - n; {
	case rest <= slack:
		return 2 * n
	case rest <= l+slack:
		return 2*n + 1
	}
	return 2*n + 2
}

// PulseShare returns the share of the time the source is on that pulses take.
func (d *Drive) PulseShare() float64 {
	if d.Pulses == nil || d.OnS == 0 {
		return 1
	}
	l, t := d.Pulses.LengthS, d.Pulses.PeriodS
	whole := math.Floor(d.OnS / t)
	return (whole*l + math.Min(l, d.OnS-whole*t)) / d.OnS
}

// MeanPowerW returns the power into a tissue of the given conductance (siemens), mean
// over the time the source is on.
func (d *Drive) MeanPowerW(conductanceS float64) float64 {
	power := func(m Mode) float64 {
		v, _ := m.VoltageV(conductanceS)
		return v * v * conductanceS
	}
	share := d.PulseShare()
	p := share * power(d.Mode)
	if share < 1 {
		p += (1 - share) * power(d.Pulses.Between)
	}
	return p
}

// HighestPeakV returns the highest peak voltage the source can give to any load, +Inf
// without a limit.
func (d *Drive) HighestPeakV() float64 {
	most := func(m Mode) float64 {
		v := math.Inf(1)
		switch {
		case m.DutyCycle <= 0 || m.PowerW == 0 && m.PeakVoltageV == 0 && m.CurrentA == 0:
			return 0
		case m.PeakVoltageV > 0:
			v = m.PeakVoltageV
		}
		if l := m.Limits.PeakVoltageV; l > 0 {
			v = math.Min(v, l)
		}
		if line := m.Limits.LoadLine; len(line) > 0 {
			v = math.Min(v, mostV(line)*m.CrestFactor())
		}
		return v
	}
	v := most(d.Mode)
	if d.Pulses != nil {
		v = math.Max(v, most(d.Pulses.Between))
	}
	return v
}

// SetPowerW returns the power that the source is set to, W, mean over the time it is on; NaN if it holds a
// voltage or a current at any time.
func (d *Drive) SetPowerW() float64 {
	set := func(m Mode) float64 {
		if m.DutyCycle > 0 && (m.PeakVoltageV > 0 || m.CurrentA > 0) {
			return math.NaN()
		}
		return m.PowerW
	}
	p, share := set(d.Mode), d.PulseShare()
	if d.Pulses != nil {
		p = share*p + (1-share)*set(d.Pulses.Between)
	}
	return p
}
