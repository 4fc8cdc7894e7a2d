package thermal

import "muralheat/mesh"

// Refined returns the case on three meshes, finest first, and which of them is the case as it
// stands: the coarsest, for finer meshes tell more; on a track, where they would take hours,
// the finest, unless its cells cannot grow (a wire or needle has at least two to its radius).
// Steps, tolerances and the growth of the cells outside the lesion go with the cells: what
// stayed as it is would leave an error that three meshes do not show.
func (c *Case) Refined() (cases [3]Case, stated int) {
	grid := c.Grid()
	by := func(factor float64) Case {
		k := *c
		n := c.Numerics
		n.FinestM = factor * grid.FinestM
		k.SetNumerics(n)
		real := k.Grid().FinestM / grid.FinestM
		n.Growth = real * c.Numerics.growth()
		n.MaxStepS *= real
		n.Tolerance *= real
		n.Resolve *= real
		k.SetNumerics(n)
		return k
	}
	const ratio, least = 1.5, 1.2
	if grid.Geometry == mesh.Track {
		middle, coarse := by(ratio), by(ratio*ratio)
		a, b, h := grid.FinestM, middle.Grid().FinestM, coarse.Grid().FinestM
		if b >= least*a && h >= least*b {
			return [3]Case{*c, middle, coarse}, 0
		}
	}
	return [3]Case{by(1 / (ratio * ratio)), by(1 / ratio), *c}, 2
}
