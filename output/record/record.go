package record

import (
	"archive/zip"
	"bytes"
	"fmt"

	"go.yaml.in/yaml/v4"

	"muralheat/mesh"
	"muralheat/output/phrase"
	"muralheat/thermal"
)

// The record, result.npz, is the whole result: every table and figure can be made
// from it again without computing. It holds
//
//	x_faces_m, y_faces_m, z_faces_m   the mesh; axisymmetric: x is the radius, no y
//	layer                             index of the layer at each depth
//	temperature_C, peak_C, omega, ... the fields, shape (depth, y, x)
//	history                           the time course, one row per sample, SI units
//	result.yaml                       case, summary, balance and notes
const RecordName = "result.npz"

// told is the part of a result that is not arrays.
type told struct {
	Caution string
	Case    *thermal.Case
	Summary thermal.Summary
	Balance thermal.Balance
	Notes   []string
	History []string // names of the columns
}

// EncodeResult returns a result as the bytes of result.npz.
func EncodeResult(r *thermal.Result) ([]byte, error) {
	m := r.Mesh
	var b bytes.Buffer
	w := npzWriter{zip.NewWriter(&b)}
	text, err := yaml.Dump(told{phrase.Caution, r.Case, r.Summary, r.Balance, r.Notes, sampleColumns(r.Case)})
	if err != nil {
		return nil, err
	}
	if err := w.bytes("result.yaml", text); err != nil {
		return nil, err
	}
	if err := w.array("x_faces_m", m.X.Faces, len(m.X.Faces)); err != nil {
		return nil, err
	}
	if m.Geometry == mesh.Track {
		if err := w.array("y_faces_m", m.Y.Faces, len(m.Y.Faces)); err != nil {
			return nil, err
		}
	}
	if err := w.array("z_faces_m", m.Z.Faces, len(m.Z.Faces)); err != nil {
		return nil, err
	}
	layer := make([]float64, len(r.LayerOf))
	for k, l := range r.LayerOf {
		layer[k] = float64(l)
	}
	if err := w.array("layer", layer, len(layer)); err != nil {
		return nil, err
	}
	for _, f := range fields(r) {
		if err := w.array(f.name, f.cells(r), m.NZ, m.NY, m.NX); err != nil {
			return nil, err
		}
	}
	var rows []float64
	for i := range r.History {
		for _, p := range numbers(r.Case, &r.History[i]) {
			rows = append(rows, *p)
		}
	}
	if err := w.array("history", rows, len(r.History), len(sampleColumns(r.Case))); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// DecodeResult returns the result that EncodeResult wrote. It is an error if it is not one, or is larger than it may be.
func DecodeResult(b []byte) (*thermal.Result, error) {
	z, err := readNPZ(b)
	if err != nil {
		return nil, err
	}
	var t told
	if err := yaml.Load(z.other["result.yaml"], &t); err != nil {
		return nil, fmt.Errorf("result.yaml: %w", err)
	}
	if t.Case == nil || len(t.Case.Layers) == 0 || len(t.Summary.Layers) != len(t.Case.Layers) {
		return nil, fmt.Errorf("result.yaml: no case in it")
	}
	x, y, depth := z.arrays["x_faces_m"].values, z.arrays["y_faces_m"].values, z.arrays["z_faces_m"].values
	if !ascending(x) || !ascending(depth) || y != nil && !ascending(y) || y == nil && x[0] != 0 {
		return nil, fmt.Errorf("the axes of the mesh are missing or broken")
	}
	r := &thermal.Result{Case: t.Case, Summary: t.Summary, Balance: t.Balance, Notes: t.Notes}
	if y == nil {
		r.Mesh = mesh.New(mesh.Axisymmetric, mesh.NewAxis(x), mesh.Axis{}, mesh.NewAxis(depth))
	} else {
		r.Mesh = mesh.New(mesh.Track, mesh.NewAxis(x), mesh.NewAxis(y), mesh.NewAxis(depth))
	}
	m := r.Mesh
	if len(z.arrays["layer"].values) != m.NZ {
		return nil, fmt.Errorf("layer: wrong length")
	}
	for _, l := range z.arrays["layer"].values {
		r.LayerOf = append(r.LayerOf, int(l))
	}

	broken := "" // the first array that does not fit the mesh
	cells := func(name string) []float64 {
		v := make([]float64, m.Len())
		if len(z.arrays[name].values) != m.Cells() && broken == "" {
			broken = name
		}
		copy(v[m.Index(0, 0, 0):], z.arrays[name].values)
		return v
	}
	f := &r.Fields
	f.TemperatureC, f.PeakC, f.Omega = cells("temperature_C"), cells("peak_C"), cells("omega")
	if t.Case.Damage.AtOnce != nil {
		f.OmegaAtOnce = cells("omega_at_once")
	}
	for _, k := range t.Case.Damage.Also {
		f.OmegaAlso = append(f.OmegaAlso, cells("omega_"+k.Name))
	}
	if z.arrays["rest_C"].values != nil {
		f.RestC = cells("rest_C")
	}
	f.CEM43Min, f.Water, f.Solid = cells("cem43_min"), cells("water"), cells("solid")
	f.PotentialV, f.PowerWM3 = cells("potential_V"), cells("power_W_m3")
	f.Removed = make([]bool, m.Len())
	for n, v := range cells("removed") {
		f.Removed[n] = v != 0
	}
	if broken != "" {
		return nil, fmt.Errorf("%s: missing or not on the mesh", broken)
	}

	h, width := z.arrays["history"], len(sampleColumns(t.Case))
	if len(h.shape) != 2 || h.shape[1] != width {
		return nil, fmt.Errorf("history: missing or not of %d columns", width)
	}
	for n := range h.shape[0] {
		s := thermal.Sample{
			BorderC:    make([]float64, len(t.Case.Borders())),
			ProbeC:     make([]float64, len(t.Case.Probes)),
			ProbeOmega: make([]float64, len(t.Case.Probes)),
		}
		for i, p := range numbers(t.Case, &s) {
			*p = h.values[n*width+i]
		}
		r.History = append(r.History, s)
	}
	return r, nil
}

// numbers lists the numbers of a sample in the order of sampleColumns.
func numbers(c *thermal.Case, s *thermal.Sample) []*float64 {
	p := []*float64{&s.TimeS, &s.PowerW, &s.VoltageV, &s.CurrentA, &s.ResistanceOhm, &s.SparkShare, &s.PositionM, &s.DepthM, &s.MeanRiseK}
	if c.Drive.Path.Loses() {
		p = append(p, &s.TerminalW)
	}
	for _, v := range [][]float64{s.BorderC, s.ProbeC, s.ProbeOmega} {
		for i := range v {
			p = append(p, &v[i])
		}
	}
	return p
}

func sampleColumns(c *thermal.Case) []string {
	cols := []string{"time_s", "power_W", "voltage_V", "current_A", "resistance_ohm", "spark_share", "position_m", "depth_m", "mean_rise_K"}
	if c.Drive.Path.Loses() {
		cols = append(cols, "terminal_power_W")
	}
	for _, b := range c.Borders() {
		cols = append(cols, "T_"+b.Name+"_C")
	}
	for _, p := range c.Probes {
		cols = append(cols, "T_"+p.Name+"_C")
	}
	for _, p := range c.Probes {
		cols = append(cols, "omega_"+p.Name)
	}
	return cols
}

func ascending(v []float64) bool {
	for i := 1; i < len(v); i++ {
		if !(v[i] > v[i-1]) {
			return false
		}
	}
	return len(v) > 1
}
