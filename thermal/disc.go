package thermal

import (
	"math"
	"slices"

	"muralheat/mesh"
)

const (
	Disc Tip = "disc" // flat face on the surface
	Ball Tip = "ball" // sphere touching the surface with a round contact
)

func init() {
	place := func(e *electrode) tip { return disc{plain{e}} } // the contact of a ball is round and flat too
	enter(Disc, shape{
		scene: OnWall, about: "a flat face on the surface",
		tip:     place,
		sizes:   func(e Electrode) []Length { return []Length{{"radius", e.ContactRadiusM}} },
		outline: func(e Electrode, upM float64, _ bool) []Point { return bar(e.ContactRadiusM, 0, upM) },
	})
	enter(Ball, shape{
		scene: OnWall, about: "a sphere that touches it",
		tip:     place,
		sizes:   func(e Electrode) []Length { return []Length{{"radius", e.TipRadiusM}, {"contact", e.ContactRadiusM}} },
		outline: func(e Electrode, _ float64, _ bool) []Point { return sphere(e.ContactRadiusM, e.TipRadiusM) },
	})
}

// sphere is the outline of a ball of radius r that touches the surface with a contact of radius a.
func sphere(a, r float64) []Point {
	const parts = 120
	r = math.Max(r, a)
	up := math.Sqrt(r*r - a*a) // height of the centre above the surface
	from := math.Asin(math.Min(a/r, 1))
	var line []Point
	for n := 0; n <= parts; n++ {
		t := from + (2*math.Pi-2*from)*float64(n)/parts // from the lowest point
		line = append(line, Point{r * math.Sin(t), -up + r*math.Cos(t)})
	}
	return line
}

// disc is a round contact on the surface.
type disc struct{ plain }

func (t disc) place() {
	e, air := &t.Electrode, t.Lumen
	switch {
	case t.Bath.SigmaSM > 0:
		t.wade()
		return
	case t.liquidPlanes() > 0:
		t.standInLiquid()
		return
	}
	t.contacts = t.m.Disc(t.contacts, t.xM, e.ContactRadiusM)
	t.heat.SetSurface(air.HeatTransferWM2K, air.TemperatureC, t.contacts, e.HeatTransferWM2K, t.body.tC)
	t.feeds = t.m.Disc(t.feeds, t.xM+t.leadM, t.carriesM())
}

// carriesM is the radius with which the face carries current: its own and a part of the cell at the rim.
func (t disc) carriesM() float64 {
	a, across := t.Electrode.ContactRadiusM, t.m.X
	if t.m.Geometry == mesh.Track { // along it the cell at the rim is another with each step
		across = t.m.Y
	}
	return a + mesh.RimOverhang*across.Width(across.Find(a))
}

// standInLiquid puts the metal into the liquid on the mucosa: a cylinder down to its face, or the sphere of a ball.
func (t disc) standInLiquid() {
	a, r := t.Electrode.ContactRadiusM, t.Electrode.TipRadiusM
	up := math.Sqrt(math.Max(0, r*r-a*a)) // height of the centre of a ball
	t.metal, t.contacts = t.m.Solid(t.metal[:0], t.contacts, func(x, z float64) bool {
		switch {
		case z > 0:
			return false
		case t.Electrode.Tip == Ball:
			return x < a && z > -up || x*x+(z+up)*(z+up) < r*r
		}
		return x < a
	})
	t.insert()
	t.heat.SetSurface(t.Lumen.HeatTransferWM2K, t.Lumen.TemperatureC, nil, 0, 0)
}

// wade moves the metal, a cylinder down to its face, through a stirred bath.
func (t disc) wade() {
	a, base := t.Electrode.ContactRadiusM, t.liquidPlanes()
	var shaft []mesh.Contact
	t.metal, shaft = t.m.Needle(t.metal[:0], nil, t.xM, a, 0)
	shaft = slices.DeleteFunc(t.bared(shaft), func(c mesh.Contact) bool { return c.Step == t.m.Plane() }) // its face is followed closer
	face := func(radiusM float64) []mesh.Contact { return t.m.Lower(t.m.Disc(nil, t.xM, radiusM), base) }
	t.contacts = append(append(t.contacts, shaft...), face(a)...)
	t.insert()
	t.feeds = append(shaft, face(t.carriesM())...)
	t.heat.SetSurface(t.Lumen.HeatTransferWM2K, t.Lumen.TemperatureC, nil, 0, 0)
}
