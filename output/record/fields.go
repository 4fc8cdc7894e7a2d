package record

import "muralheat/thermal"

// A field is one value per cell as written to field files.
type field struct {
	name  string // with its unit
	value func(cell int) float64
}

// fields lists the fields of a result, in order. The value of a cell without
// tissue is what the solver left there; the field "removed" tells.
func fields(r *thermal.Result) []field {
	f := &r.Fields
	from := func(v []float64) func(int) float64 { return func(c int) float64 { return v[c] } }
	list := []field{
		{"temperature_C", from(f.TemperatureC)},
		{"peak_C", from(f.PeakC)},
		{"omega", from(f.Omega)},
	}
	if f.OmegaAtOnce != nil {
		list = append(list, field{"omega_at_once", from(f.OmegaAtOnce)})
	}
	for i, k := range r.Case.Damage.Also {
		list = append(list, field{"omega_" + k.Name, from(f.OmegaAlso[i])})
	}
	if f.RestC != nil {
		list = append(list, field{"rest_C", from(f.RestC)})
	}
	return append(list,
		field{"cem43_min", from(f.CEM43Min)},
		field{"water", from(f.Water)},
		field{"solid", from(f.Solid)},
		field{"removed", func(c int) float64 {
			if f.Removed[c] {
				return 1
			}
			return 0
		}},
		field{"potential_V", from(f.PotentialV)},
		field{"power_W_m3", from(f.PowerWM3)},
	)
}

// cells returns the values of all cells, x fastest, then y, then depth.
func (f field) cells(r *thermal.Result) []float64 {
	first := r.Mesh.Index(0, 0, 0) // real cells are contiguous
	out := make([]float64, r.Mesh.Cells())
	for n := range out {
		out[n] = f.value(first + n)
	}
	return out
}
