package mesh

// Axis is a line cut into cells: n+1 face positions in metres, ascending, and
// the n cell centres midway between them.
type Axis struct {
	Faces   []float64
	Centres []float64
}

// NewAxis returns the axis with the given faces, in metres, ascending.
func NewAxis(faces []float64) Axis {
	a := Axis{Faces: faces, Centres: make([]float64, len(faces)-1)}
	for i := range a.Centres {
		if !(faces[i+1] > faces[i]) {
			panic("mesh: axis faces not ascending")
		}
		a.Centres[i] = (faces[i] + faces[i+1]) / 2
	}
	return a
}

// Len returns the number of cells.
func (a Axis) Len() int { return len(a.Centres) }

// Width returns the width of cell i in metres.
func (a Axis) Width(i int) float64 { return a.Faces[i+1] - a.Faces[i] }

// Find returns the cell that holds position x, clamped to the ends.
func (a Axis) Find(x float64) int {
	lo, hi := 0, a.Len()-1
	for lo < hi {
		mid := (lo + hi) / 2
		if x < a.Faces[mid+1] {
			hi = mid
		} else {
			lo = mid + 1
		}
	}
	return lo
}
