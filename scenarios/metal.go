package scenarios

import (
	"fmt"
	"math"

	"muralheat/scenarios/keys"
	"muralheat/thermal/tissue"
)

// metalJK is the heat capacity of so much metal, J/K.
func metalJK(mm3 float64) float64 { return rounded(tissue.MetalHeatCapacity.Value * mm3 * 1e-9 * 1e6) }

// wireLoss is the rule for what leaves along the wires of an electrode: long fins in gas,
//
//	G = n sqrt(h P k A),   P = 2 pi r,  A = pi r^2
func wireLoss(scene string, capacity func(*keys.File) *float64, radiusMM func(*keys.File) float64, wires float64) rule {
	capped := scene + ".heat_capacity_J_K"
	return rule{key: scene + ".wire_loss_W_K", hangs: []string{capped}, when: func(f *keys.File) bool { return keys.Num(capacity(f)) > 0 },
		unless: "belongs to metal that warms", right: "leave it out, or give heat_capacity_J_K",
		fill: func(f *keys.File) (any, string) {
			r := radiusMM(f) / 1000
			h, k := tissue.LumenGasHeatTransfer, tissue.MetalConductivity
			g := wires * math.Sqrt(h.Value*2*math.Pi*r*k.Value*math.Pi*r*r)
			return rounded(g), fmt.Sprintf("a long fin in gas, sqrt(h P k A) with h = %g W/(m2 K); k: %s", h.Value, k.Cited())
		}}
}

// rounded keeps three digits of what a rule works out.
func rounded(v float64) float64 {
	if v == 0 {
		return 0
	}
	unit := math.Pow(10, math.Floor(math.Log10(v))-2)
	return math.Round(v/unit) * unit
}
