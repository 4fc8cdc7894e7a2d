package exact

import (
	"math"
	"testing"
)

// V47. Roache 2002, J Fluids Eng 124:4.
func TestManufacturedSlab(t *testing.T) {
	m := ManufacturedSlab{refG(2e4), 20, 10 * mm, 5}
	same(t, "V47 Q(L/2, 0)", m.Heating(5*mm, 0), "1.512e7")
	same(t, "V47 Q(L/2, 10)", m.Heating(5*mm, 10), "3245525.24")
	same(t, "V47 T(L/2, 10)", 37+m.Rise(5*mm, 10), "54.2932943")
}

// residual is what the heat equation leaves at a point, by central differences,
// over the largest of its terms.
func residual(rise, heating func(x, y, z, t float64) float64, k func(x, z float64) float64, rhoC, g float64, round bool, x, y, z, t float64) float64 {
	const h, dt = 2e-5, 1e-3
	flux := func(x, y, z, dx, dy, dz float64) float64 {
		return k(x, z) * (rise(x+dx/2, y+dy/2, z+dz/2, t) - rise(x-dx/2, y-dy/2, z-dz/2, t)) / h
	}
	w, e := 1.0, 1.0
	if round {
		w, e = 1-h/(2*x), 1+h/(2*x)
	}
	conduction := (e*flux(x+h/2, y, z, h, 0, 0) - w*flux(x-h/2, y, z, h, 0, 0) +
		flux(x, y, z+h/2, 0, 0, h) - flux(x, y, z-h/2, 0, 0, h)) / h
	if !round {
		conduction += (flux(x, y+h/2, z, 0, h, 0) - flux(x, y-h/2, z, 0, h, 0)) / h
	}
	storage := rhoC * (rise(x, y, z, t+dt) - rise(x, y, z, t-dt)) / (2 * dt)
	sink, q := g*rise(x, y, z, t), heating(x, y, z, t)
	scale := math.Max(math.Max(math.Abs(storage), math.Abs(conduction)), math.Abs(q))
	return (storage - conduction + sink - q) / scale
}

func TestManufactured(t *testing.T) {
	for _, round := range []bool{true, false} {
		for _, held := range []bool{true, false} {
			box := Box{XM: 8 * mm, YM: 6 * mm, ZM: 5 * mm, Round: round, HeldTop: held}
			m := Manufactured{refG(2e4), box, 30, 4, 0.3, 0.4, 0.5}
			layers := ManufacturedLayers{box, []Layer{
				{Solid{0.5, 3.78e6, 4e4}, 1 * mm, 0}, {Solid{0.2, 3.0e6, 1e4}, 1.5 * mm, 0}, {Solid{0.6, 3.5e6, 0}, 2.5 * mm, 0},
			}, 30, 4}
			for _, p := range []place{{1, 2, 0.5}, {3, 1, 1.7}, {6.5, 5, 4}, {0.5, 0.1, 2.2}} {
				x, y, z := p.xi*mm, p.y*mm, p.z*mm
				if r := residual(m.Rise, m.Heating, m.Conductivity, m.RhoC, m.Perfusion(z), round, x, y, z, 3); math.Abs(r) > 2e-4 {
					t.Errorf("smooth, round %v, held %v, %v: residual %g", round, held, p, r)
				}
				l, _, _ := layers.at(z)
				k := func(_, z float64) float64 { l, _, _ := layers.at(z); return l.K }
				if r := residual(layers.Rise, layers.Heating, k, l.RhoC, l.G, round, x, y, z, 3); math.Abs(r) > 2e-4 {
					t.Errorf("layers, round %v, held %v, %v: residual %g", round, held, p, r)
				}
			}
			// Boundaries: insulated sides, held bottom, top as asked.
			const h = 1e-7
			for _, f := range []func(x, y, z, t float64) float64{m.Rise, layers.Rise} {
				side := (f(box.XM, mm, mm, 3) - f(box.XM-h, mm, mm, 3)) / h
				top := (f(mm, mm, h, 3) - f(mm, mm, 0, 3)) / h
				if held {
					top = f(mm, mm, 0, 3) / mm
				}
				bottom := f(mm, mm, box.ZM, 3)
				if math.Abs(side) > 1 || math.Abs(top) > 1 || math.Abs(bottom) > 1e-12 {
					t.Errorf("round %v, held %v: side %g K/m, top %g K/m, bottom %g K", round, held, side, top, bottom)
				}
			}
			// Flux through the layers' borders.
			for _, b := range []float64{1 * mm, 2.5 * mm} {
				above, _, _ := layers.at(b - h)
				below, _, _ := layers.at(b + h)
				in := above.K * (layers.Rise(mm, mm, b, 3) - layers.Rise(mm, mm, b-h, 3))
				out := below.K * (layers.Rise(mm, mm, b+h, 3) - layers.Rise(mm, mm, b, 3))
				within(t, "flux at a border", out, in, 1e-3)
			}
		}
	}
}
