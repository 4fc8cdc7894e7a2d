package thermal

// Refined returns the case on three meshes, finest first, and which of them is the case as it
// stands: the finest if its cells can grow, else the coarsest (a wire or needle has at least
// two cells to its radius). Steps and tolerances go with the cells.
func (c *Case) Refined() (cases [3]Case, stated int) {
	by := func(factor float64) Case {
		k := *c
		k.Numerics.FinestM = factor * c.Grid().FinestM
		real := k.Grid().FinestM / c.Grid().FinestM
		k.Numerics.MaxStepS *= real
		k.Numerics.Tolerance *= real
		k.Numerics.Resolve *= real
		return k
	}
	const ratio, least = 1.5, 1.2
	middle, coarse := by(ratio), by(ratio*ratio)
	a, b, h := c.Grid().FinestM, middle.Grid().FinestM, coarse.Grid().FinestM
	if b >= least*a && h >= least*b {
		return [3]Case{*c, middle, coarse}, 0
	}
	return [3]Case{by(1 / (ratio * ratio)), by(1 / ratio), *c}, 2
}
