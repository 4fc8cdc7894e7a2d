package thermal

import (
	"math"
	"strings"

	"muralheat/mesh"
	"muralheat/thermal/drive"
)

// position returns where an electrode whose speed is forced is at time t, m along its
// track.
func (s *simulation) position(t float64) float64 {
	if s.Electrode.Tip == Loop { // the hand stops with the current
		t = math.Min(t, s.Drive.OnS)
	}
	return math.Min(s.Motion.SpeedMS*t, s.Motion.LengthM)
}

// speed returns how fast the electrode goes where nothing is in its way, m/s. Between
// pulses a needle that waits rests: what dries slowly gets tough, only sudden boiling
// parts tissue (Taheri and others 2014, J Am Acad Dermatol).
func (s *simulation) speed() float64 {
	if s.Motion.Waits && !s.Drive.Pulsing(s.t) || s.where() >= s.Motion.LengthM {
		return 0
	}
	if s.Electrode.Tip == Loop && s.Motion.Waits {
		// Its pull over what it holds around: a string around a cylinder presses as 1/radius.
		return math.Min(s.Motion.SpeedMS*s.Electrode.TipRadiusM/s.ringM(), fastestLoopMS)
	}
	return s.Motion.SpeedMS
}

// fastestLoopMS is as fast as a hand closes a loop (assumption).
const fastestLoopMS = 5e-3

// advance moves the electrode to where it is in the middle of the coming step.
func (s *simulation) advance(dt float64) {
	if !s.Motion.Waits {
		s.x = s.position(s.t + dt/2)
		return
	}
	x := math.Min(s.x+s.speed()*(s.lastDt+dt)/2, s.Motion.LengthM)
	s.askedM += x - s.x
	free := s.parted
	if s.Electrode.Tip == Loop {
		free = s.closing
	}
	s.x = math.Max(s.x, math.Min(x, free(x)))
}

// touch keeps the metal off a cell's centre by more than rounding, m.
const touch = 1e-9

// parted returns how far, up to x, a needle can go from where it is without running
// into tissue that has not parted.
func (s *simulation) parted(x float64) float64 {
	m, a := s.m, s.Electrode.ContactRadiusM
	for k := 0; k < m.NZ && m.Z.Centres[k] < s.Electrode.InsertionM; k++ {
		for j := 0; j < m.NY && m.Y.Centres[j] < a; j++ {
			y := m.Y.Centres[j]
			edge := math.Sqrt(a*a - y*y)
			for i := m.X.Find(s.x); i < m.NX && m.X.Centres[i]-edge < x; i++ {
				if p := m.Index(i, j, k); s.whole(p) {
					x = m.X.Centres[i] - edge - touch
					break
				}
			}
		}
	}
	return x
}

// whole reports whether the tissue of cell p holds together before a needle.
func (s *simulation) whole(p int) bool {
	return !s.heat.Gone(p) && s.heat.Water[p] > s.Physics.PartingWater
}

// place puts the electrode where it is during the coming step and takes away what it
// sweeps.
func (s *simulation) place(dt float64) {
	s.advance(dt)
	e, air := &s.Electrode, s.Lumen
	s.contacts, s.feeds = s.contacts[:0], s.feeds[:0]
	switch e.Tip {
	case Needle:
		s.metal, s.contacts = s.m.Needle(s.metal[:0], s.contacts, s.x, e.ContactRadiusM, e.InsertionM)
		if s.t > 0 { // before, it is put in, not swept
			s.swept()
		}
		s.heat.Insert(s.metal, s.contacts, e.HeatTransferWM2K, e.TemperatureC)
		s.withdraw()
		s.heat.SetSurface(air.HeatTransferWM2K, air.TemperatureC, nil, 0, 0)
		s.feed()
	case Loop:
		s.placeLoop()
	case Pad:
		// Its back covers the skin where contact is lost too.
		s.contacts = s.m.Annulus(s.contacts, 0, e.TipRadiusM)
		s.heat.SetSurface(air.HeatTransferWM2K, air.TemperatureC, s.contacts, e.HeatTransferWM2K, e.TemperatureC)
		over := 0.0
		if e.Film.OhmM2 == 0 { // else the current has no singularity at the rim
			over = mesh.RimOverhang * s.finest
		}
		s.feeds = s.m.Annulus(s.feeds, math.Max(0, e.InnerRadiusM-over), e.ContactRadiusM+over)
	default:
		s.contacts = s.m.Disc(s.contacts, s.x, e.ContactRadiusM)
		s.heat.SetSurface(air.HeatTransferWM2K, air.TemperatureC, s.contacts, e.HeatTransferWM2K, e.TemperatureC)
		s.feeds = s.m.Disc(s.feeds, s.x, e.ContactRadiusM+mesh.RimOverhang*s.m.X.Width(s.m.X.Find(s.x+e.ContactRadiusM)))
	}
	if s.bottomLayer() {
		s.heat.SetBottom(math.Inf(1), s.Body.TemperatureC)
	} else {
		s.heat.SetBottom(s.Beyond.HeatTransferWM2K, s.Beyond.TemperatureC)
	}
}

// swept counts the tissue that the metal is about to take away.
func (s *simulation) swept() {
	for _, p := range s.metal {
		if i, j, k := s.m.Cell(p); !s.heat.Gone(p) {
			s.sweptM3 += s.m.Volume(i, j, k)
			if s.whole(p) {
				s.draggedM3 += s.m.Volume(i, j, k)
			}
		}
	}
}

// feed lets current leave the metal wherever there is tissue: what is cut away does not
// conduct.
func (s *simulation) feed() {
	for _, c := range s.contacts {
		if !s.heat.Gone(c.P) {
			s.feeds = append(s.feeds, c)
		}
	}
}

// where returns the place of the electrode now, m along its track.
func (s *simulation) where() float64 {
	if s.Motion.Waits {
		return s.x
	}
	return s.position(s.t)
}

// sustainedShare is the share of the swept tissue that must have parted for a cut to
// count as sustained; assumption: the rest tears.
const sustainedShare = 0.9

// cut reads off what a moving needle did.
func (s *simulation) cut() Cut {
	c := Cut{PathM: s.travelM, RemovedM3: s.sweptM3, PartedShare: math.NaN()}
	if s.askedM > 0 {
		c.HeldShare = 1 - s.x/s.askedM
	}
	if s.sweptM3 == 0 {
		return c
	}
	m := s.m
	for k := range m.NZ {
		for j := range m.NY {
			for i := range m.NX {
				if s.heat.Gone(m.Index(i, j, k)) {
					c.KerfWidthM = math.Max(c.KerfWidthM, 2*m.Y.Faces[j+1])
				}
			}
		}
	}
	// Its ends tell of how the needle came and went: the middle half counts.
	i0, i1 := m.X.Find(c.PathM/4), m.X.Find(3*c.PathM/4)+1
	burnt, kerf := s.surface(s.omega.Sum).volume(i0, i1), 0.0
	for k := range m.NZ {
		for j := range m.NY {
			for i := i0; i < i1; i++ {
				if s.heat.Gone(m.Index(i, j, k)) {
					kerf += m.Volume(i, j, k)
				}
			}
		}
	}
	c.BurntM2 = (burnt - kerf) / (m.X.Faces[i1] - m.X.Faces[i0])
	c.PartedShare = 1 - s.draggedM3/s.sweptM3
	c.Sustained = c.PartedShare >= sustainedShare
	c.HeatJM3 = s.heat.IntoRemovedJ() / s.sweptM3
	c.EnergyJM3 = s.res.Balance.ElectricJ / s.sweptM3
	return c
}

func joined(limits []drive.Limit) string {
	var names []string
	for _, l := range limits {
		names = append(names, string(l))
	}
	return strings.Join(names, ", ")
}
