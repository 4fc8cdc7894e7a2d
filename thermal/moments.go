package thermal

import (
	"math"
	"slices"

	"muralheat/mesh"
	"muralheat/thermal/damage"
)

// Moment is what is drawn as it was at one row of history: radius and depth of an axisymmetric case; the plane of the
// track of a 3-D one, and behind it the plane across its middle. Values are those of the cells, depth slowest; they are
// rounded for a picture, which keeps files small: temperatures and logarithms to 1/64, shares to 1/256.
type Moment struct {
	Row                    int       // of Result.History
	TemperatureC           []float32 // now
	LnOmega, LnOmegaAtOnce []float32 // of the Arrhenius integrals, as far as integrated, within LnSeen of 0; nil: not computed
	Water, Solid           []float32 // shares left
	Removed                []bool
}

// LnSeen is how far from 0 a Moment keeps the logarithm of an Arrhenius integral.
const LnSeen = -quietLn

// Bytes of a cell in a Moment.
const momentBytes = 5*4 + 1

// MomentBytes returns the memory that n moments take.
func (g Grid) MomentBytes(n int) float64 {
	cells := g.NX
	if g.Geometry == mesh.Track {
		cells += g.NY
	}
	return float64(n) * float64(cells) * float64(g.NZ) * momentBytes
}

// MiddleColumn returns the column of a track's mesh whose plane across it moments keep: halfway.
func (c *Case) MiddleColumn(m *mesh.Mesh) int {
	column := 0
	for i, x := range m.X.Centres {
		if math.Abs(x-c.Motion.LengthM/2) < math.Abs(m.X.Centres[column]-c.Motion.LengthM/2) {
			column = i
		}
	}
	return column
}

// moments keeps some of the rows of history with the plane that is drawn.
type moments struct {
	*state
	atOnce *damage.Integral
	dueS   []float64 // when the next ones are, s of the clock
}

// leastMomentsOn is the share of the moments that fall into the time with current, at least.
const leastMomentsOn = 2. / 3

// momentsS returns n times, the first at the start, one when the current ends and the last at the end. They are
// closer together while current flows, or evenly spread if there is little time after it.
func (c *Case) momentsS(n int) []float64 {
	if n < 2 {
		return nil
	}
	total, spaces := c.TotalS(), float64(n-1)
	on := math.Round(spaces * math.Max(leastMomentsOn, c.Drive.OnS/total))
	if c.AfterS > 0 && n > 2 {
		on = math.Min(on, spaces-1)
	}
	var dueS []float64
	for i := range n {
		switch at := float64(i); {
		case i == n-1:
			dueS = append(dueS, total)
		case at <= on:
			dueS = append(dueS, c.Drive.OnS*at/on)
		default:
			dueS = append(dueS, c.Drive.OnS+c.AfterS*(at-on)/(spaces-on))
		}
	}
	return dueS
}

// momentsS returns n times of the last case of a sequence, s of the clock: evenly spread if it has several activations.
func (s Sequence) momentsS(n int) []float64 {
	last, startS := s[len(s)-1], 0.0
	for _, c := range s[:len(s)-1] {
		startS += c.TotalS()
	}
	dueS := last.momentsS(n)
	for i := range dueS {
		if last.Activations() > 1 {
			dueS[i] = last.TotalS() * float64(i) / float64(n-1)
		}
		dueS[i] += startS
	}
	return dueS
}

// keep keeps the row of history just written if it is the first at or after a time that is due.
func (m *moments) keep() {
	due := len(m.dueS)
	m.dueS = slices.DeleteFunc(m.dueS, func(s float64) bool { return s <= m.clockS })
	if len(m.dueS) == due {
		return
	}
	now := Moment{
		Row: len(m.res.History) - 1, TemperatureC: m.plane(m.heat.T, 64), LnOmega: m.ln(m.omega),
		Water: m.plane(m.heat.Water, 256), Solid: m.plane(m.heat.Solid, 256),
	}
	if m.atOnce != nil {
		now.LnOmegaAtOnce = m.ln(m.atOnce)
	}
	now.Removed = make([]bool, 0, m.cells())
	m.each(func(p int) { now.Removed = append(now.Removed, m.heat.Gone(p)) })
	m.res.Moments = append(m.res.Moments, now)
}

// cells is how many a moment has.
func (m *moments) cells() int {
	if m.m.Geometry == mesh.Track {
		return (m.m.NX + m.m.NY) * m.m.NZ
	}
	return m.m.NX * m.m.NZ
}

// each calls do for the cells that are drawn, plane by plane, depth slowest.
func (m *moments) each(do func(p int)) {
	for k := range m.m.NZ {
		for i := range m.m.NX {
			do(m.m.Index(i, 0, k))
		}
	}
	if m.m.Geometry != mesh.Track {
		return
	}
	middle := m.MiddleColumn(m.m)
	for k := range m.m.NZ {
		for j := range m.m.NY {
			do(m.m.Index(middle, j, k))
		}
	}
}

// plane returns v in the plane that is drawn, rounded to 1/parts.
func (m *moments) plane(v []float64, parts float64) []float32 {
	out := make([]float32, 0, m.cells())
	m.each(func(p int) { out = append(out, float32(math.Round(v[p]*parts)/parts)) })
	return out
}

// ln returns the logarithm of an Arrhenius integral there.
func (m *moments) ln(g *damage.Integral) []float32 {
	out := make([]float32, 0, m.cells())
	m.each(func(p int) {
		out = append(out, float32(math.Round(64*math.Min(math.Max(math.Log(g.Sum[p]), quietLn), LnSeen))/64))
	})
	return out
}
