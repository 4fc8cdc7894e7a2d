package exact

import "math"

// Manufactured solutions: a temperature is chosen and the heating Q that makes it
// solve
//
//	rho c dT/dt = div(k grad T) - G T + Q
//
// is worked out (Roache 2002, J Fluids Eng 124:4). All start at zero rise.

// ManufacturedSlab is one-dimensional between held faces:
//
//	T = Rise sin(pi z/d) (1 - e^(-t/tau))
//	Q = Rise sin(pi z/d) [rho c e^(-t/tau)/tau + (k (pi/d)^2 + G)(1 - e^(-t/tau))]
type ManufacturedSlab struct {
	Solid
	RiseK, ThicknessM, TauS float64
}

// Rise returns T in K at depth z.
func (m ManufacturedSlab) Rise(z, t float64) float64 {
	return m.RiseK * math.Sin(math.Pi*z/m.ThicknessM) * -math.Expm1(-t/m.TauS)
}

// Heating returns Q in W/m3 at depth z.
func (m ManufacturedSlab) Heating(z, t float64) float64 {
	b, e := math.Pi/m.ThicknessM, math.Exp(-t/m.TauS)
	return m.RiseK * math.Sin(b*z) * (m.RhoC*e/m.TauS + (m.K*b*b+m.G)*(1-e))
}

// Box is the body of the manufactured solutions below: x in [0, XM], y in [0, YM],
// z in [0, ZM] with insulated sides; or, Round, the cylinder of radius XM in which
// x is the radius and y means nothing. The bottom z = ZM is held at zero rise. The
// top is insulated, or held too if HeldTop.
type Box struct {
	XM, YM, ZM float64
	Round      bool
	HeldTop    bool
}

// wave is a factor of a product solution along one axis: value, first derivative
// and its share of the Laplacian.
type wave struct{ v, d, lap float64 }

// across returns the factors along x and y, both insulated at both ends:
// cos(pi x/X), and cos(pi y/Y) or 1.
func (b Box) across(x, y float64) (fx, fy wave) {
	p := math.Pi / b.XM
	sin, cos := math.Sincos(p * x)
	fx = wave{cos, -p * sin, -p * p * cos}
	if b.Round {
		if x == 0 {
			fx.lap -= p * p
		} else {
			fx.lap -= p * sin / x
		}
		return fx, wave{1, 0, 0}
	}
	q := math.Pi / b.YM
	sin, cos = math.Sincos(q * y)
	return fx, wave{cos, -q * sin, -q * q * cos}
}

// down returns the factor along a coordinate w that runs from 0 at the top to 1
// at the bottom, with derivatives by w.
func (b Box) down(w float64) wave {
	if b.HeldTop {
		sin, cos := math.Sincos(math.Pi * w)
		return wave{sin, math.Pi * cos, -math.Pi * math.Pi * sin}
	}
	sin, cos := math.Sincos(math.Pi / 2 * w)
	return wave{cos, -math.Pi / 2 * sin, -math.Pi * math.Pi / 4 * cos}
}

// Manufactured lives in a Box with smoothly varying conductivity and perfusion:
//
//	T = Rise f(x) f(y) g(z) (1 - e^(-t/tau))
//	k = K [1 + KAcross cos(pi x/X) + KDown sin(pi z/Z)],   G = G (1 + GDown z/Z)
//
// with f, g of the Box: f = cos(pi x/X), g = cos(pi z/2Z) or sin(pi z/Z).
type Manufactured struct {
	Solid
	Box
	RiseK, TauS           float64
	KAcross, KDown, GDown float64 // relative variation; |KAcross| + |KDown| < 1
}

// Rise returns T in K.
func (m Manufactured) Rise(x, y, z, t float64) float64 {
	fx, fy := m.across(x, y)
	return m.RiseK * fx.v * fy.v * m.down(z/m.ZM).v * -math.Expm1(-t/m.TauS)
}

// Conductivity returns k in W/(m K).
func (m Manufactured) Conductivity(x, z float64) float64 {
	return m.K * (1 + m.KAcross*math.Cos(math.Pi*x/m.XM) + m.KDown*math.Sin(math.Pi*z/m.ZM))
}

// Perfusion returns G in W/(m3 K).
func (m Manufactured) Perfusion(z float64) float64 { return m.G * (1 + m.GDown*z/m.ZM) }

// Heating returns Q in W/m3.
func (m Manufactured) Heating(x, y, z, t float64) float64 {
	fx, fy := m.across(x, y)
	g := m.down(z / m.ZM)
	g.d, g.lap = g.d/m.ZM, g.lap/(m.ZM*m.ZM)
	// k' is proportional to f' along x, since both are the same cosine.
	kx := m.K * m.KAcross * fx.d
	kz := m.K * m.KDown * math.Pi / m.ZM * math.Cos(math.Pi*z/m.ZM)

	value := fx.v * fy.v * g.v
	conduction := m.Conductivity(x, z)*(fx.lap*fy.v*g.v+fx.v*fy.lap*g.v+fx.v*fy.v*g.lap) +
		kx*fx.d*fy.v*g.v + kz*fx.v*fy.v*g.d
	e := math.Exp(-t / m.TauS)
	return m.RiseK * (m.RhoC*value*e/m.TauS + (m.Perfusion(z)*value-conduction)*(1-e))
}

// ManufacturedLayers lives in a Box of layers, top first, each uniform (their Q is
// not used; Box.ZM is the sum of their thicknesses):
//
//	T = Rise f(x) f(y) g(w) (1 - e^(-t/tau)),   w(z) = Int_0^z dz/k / Int_0^Z dz/k
//
// In the resistance coordinate w both T and k dT/dz run smoothly through the
// borders, as they must, while dT/dz and Q jump.
type ManufacturedLayers struct {
	Box
	Layers      []Layer
	RiseK, TauS float64
}

// at returns the layer at depth z, w there, and the resistance Int dz/k of the stack.
func (m ManufacturedLayers) at(z float64) (l Layer, w, total float64) {
	top := 0.0
	found := false
	for _, next := range m.Layers {
		if !found {
			l = next
			if z < top+l.ThicknessM {
				found = true
			}
			w = total + (z-top)/l.K
			top += l.ThicknessM
		}
		total += next.ThicknessM / next.K
	}
	return l, w / total, total
}

// Rise returns T in K.
func (m ManufacturedLayers) Rise(x, y, z, t float64) float64 {
	_, w, _ := m.at(z)
	fx, fy := m.across(x, y)
	return m.RiseK * fx.v * fy.v * m.down(w).v * -math.Expm1(-t/m.TauS)
}

// Heating returns Q in W/m3; at a border that of the layer below.
func (m ManufacturedLayers) Heating(x, y, z, t float64) float64 {
	l, w, total := m.at(z)
	fx, fy := m.across(x, y)
	g := m.down(w)
	// d/dz(k dg/dz) = g''(w)/(k total^2)
	conduction := l.K*(fx.lap*fy.v+fx.v*fy.lap)*g.v + fx.v*fy.v*g.lap/(l.K*total*total)
	value := fx.v * fy.v * g.v
	e := math.Exp(-t / m.TauS)
	return m.RiseK * (l.RhoC*value*e/m.TauS + (l.G*value-conduction)*(1-e))
}
