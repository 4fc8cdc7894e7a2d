package record

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"html"
	"math"

	"muralheat/mesh"
	"muralheat/output/phrase"
	"muralheat/thermal"
)

// vtr returns the fields as a VTK rectilinear grid (VTK XML format, cell data,
// appended raw binary, little endian). Coordinates are in metres; z is the depth.
// An axisymmetric case is a flat sheet: x is the radius.
func vtr(r *thermal.Result) []byte {
	m := r.Mesh
	y, ny := m.Y.Faces, m.NY
	if m.Geometry == mesh.Axisymmetric {
		y, ny = []float64{0}, 0
	}
	layer := make([]float64, 0, m.Cells())
	for k := range m.NZ {
		for range m.Plane() {
			layer = append(layer, float64(r.LayerOf[k]))
		}
	}
	var head, data bytes.Buffer
	array := func(name string, v []float64) {
		fmt.Fprintf(&head, "<DataArray type=\"Float64\" Name=\"%s\" format=\"appended\" offset=\"%d\"/>\n", html.EscapeString(name), data.Len())
		data.Write(binary.LittleEndian.AppendUint64(nil, uint64(8*len(v))))
		data.Write(float64s(v))
	}
	extent := fmt.Sprintf("0 %d 0 %d 0 %d", m.NX, ny, m.NZ)
	fmt.Fprintf(&head, "<?xml version=\"1.0\"?>\n<!-- %s -->\n", phrase.Caution)
	fmt.Fprintf(&head, "<VTKFile type=\"RectilinearGrid\" version=\"1.0\" byte_order=\"LittleEndian\" header_type=\"UInt64\">\n")
	fmt.Fprintf(&head, "<RectilinearGrid WholeExtent=\"%s\">\n<Piece Extent=\"%s\">\n<CellData Scalars=\"peak_C\">\n", extent, extent)
	for _, f := range fields(r) {
		array(f.name, f.cells(r))
	}
	array("layer", layer)
	head.WriteString("</CellData>\n<Coordinates>\n")
	array("x_m", m.X.Faces)
	array("y_m", y)
	array("z_m", m.Z.Faces)
	head.WriteString("</Coordinates>\n</Piece>\n</RectilinearGrid>\n<AppendedData encoding=\"raw\">\n_")
	head.Write(data.Bytes())
	head.WriteString("\n</AppendedData>\n</VTKFile>\n")
	return head.Bytes()
}

// float64s returns v as little-endian bytes.
func float64s(v []float64) []byte {
	b := make([]byte, 0, 8*len(v))
	for _, x := range v {
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(x))
	}
	return b
}
