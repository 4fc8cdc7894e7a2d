// Package checks runs the solver on problems whose answer is known from outside:
// closed forms, standards and published tables. Each Check carries its source, what
// was expected, what came out and how far apart they may be.
//
// Letters V.. name the rows of the project's list of reference values; the closed
// forms are in package exact.
package checks

import (
	"fmt"
	"math"
	"strings"
)

// Check is one number of ours beside one from outside.
type Check struct {
	ID        string // the group and the place in it: drive-3
	What      string
	Source    string
	Expected  float64
	Ours      float64
	Tolerance float64 // largest |Ours - Expected|, in Unit
	Unit      string  // "1" for a pure number
}

// OK reports whether the two agree within the tolerance.
func (c Check) OK() bool { return math.Abs(c.Ours-c.Expected) <= c.Tolerance }

func (c Check) String() string {
	return fmt.Sprintf("%-22s %-58s expected %.6g, ours %.6g, differ by %.2g of %.2g %s (%s)",
		c.ID, c.What, c.Expected, c.Ours, math.Abs(c.Ours-c.Expected), c.Tolerance, c.Unit, c.Source)
}

// Group is a set of checks that are computed together.
type Group struct {
	Name    string
	Compute func() []Check
}

// Run computes the checks of a group and numbers them.
func (g Group) Run() []Check {
	list := g.Compute()
	for n := range list {
		list[n].ID = fmt.Sprintf("%s-%d", strings.ReplaceAll(g.Name, " ", "-"), n+1)
	}
	return list
}

// Groups returns all groups, cheapest physics first.
func Groups() []Group {
	return []Group{
		{"drive", Drive},
		{"tissue spectra", Spectra},
		{"pressure", Pressure},
		{"damage", Damage},
		{"burn thresholds", Burns},
		{"conduction", Conduction},
		{"perfusion", Perfusion},
		{"layers", Layers},
		{"heat sources", HeatSources},
		{"moving heat sources", MovingSources},
		{"boiling", Boiling},
		{"order of accuracy", Order},
		{"grid convergence", Convergence},
		{"resistance", Resistance},
		{"potential", Potential},
		{"current and heat", Coupled},
		{"whole run", WholeRun},
		{"repeated activations", Repeated},
		{"drying", Drying},
		{"steam", Steam},
		{"sparks", Sparks},
		{"cutting", Cutting},
		{"liquid", Liquid},
		{"metal", Metal},
		{"neutral electrode", Pads},
		{"stalk in a loop", Stalks},
	}
}

// ref is the body most rows are stated for; not a recommendation for tissue.
var ref = material{K: 0.5, RhoC: 3.78e6}

const (
	mm    = 1e-3
	bodyC = 37.0
)

var inf = math.Inf(1)

// Sources named more than once.
const (
	carslaw  = "Carslaw and Jaeger 1959, Conduction of Heat in Solids"
	pennes   = "Pennes 1948, J Appl Physiol 1:93"
	holm     = "Holm, Electric Contacts"
	sneddon  = "Sneddon 1966, Mixed Boundary Value Problems in Potential Theory"
	roache   = "Roache 2002, J Fluids Eng 124:4"
	rosen    = "Rosenthal 1946, Trans ASME 68:849"
	henrique = "Henriques 1947, Arch Pathol 43:489"
	sapareto = "Sapareto and Dewey 1984, Int J Radiat Oncol Biol Phys 10:787"
)
