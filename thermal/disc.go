package thermal

import "muralheat/mesh"

const (
	Disc Tip = "disc" // flat face on the surface
	Ball Tip = "ball" // sphere touching the surface with a round contact
)

func init() {
	shapes[Disc] = shape{tip: func(e *electrode) tip { return disc{plain{e}} }}
	shapes[Ball] = shapes[Disc] // its contact is round and flat
}

// disc is a round contact on the surface.
type disc struct{ plain }

func (t disc) place() {
	e, air := &t.Electrode, t.Lumen
	t.contacts = t.m.Disc(t.contacts, t.xM, e.ContactRadiusM)
	t.heat.SetSurface(air.HeatTransferWM2K, air.TemperatureC, t.contacts, e.HeatTransferWM2K, e.TemperatureC)
	t.feeds = t.m.Disc(t.feeds, t.xM, e.ContactRadiusM+mesh.RimOverhang*t.m.X.Width(t.m.X.Find(t.xM+e.ContactRadiusM)))
}
