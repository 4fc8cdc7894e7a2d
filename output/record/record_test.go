package record

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"muralheat/mesh"
	"muralheat/output/internal/fixture"
)

func TestRecordReadsBackTheSameResult(t *testing.T) {
	for name, s := range fixture.Synthetics {
		r := s.Result()
		b, err := EncodeResult(r)
		if err != nil {
			t.Fatal(err)
		}
		got, err := DecodeResult(b)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		same := []cmp.Option{cmpopts.EquateNaNs(), cmpopts.EquateEmpty(), cmp.AllowUnexported(mesh.Mesh{})}
		// Guard planes are no data.
		if d := cmp.Diff(r, got, append(same, cmp.FilterPath(func(p cmp.Path) bool { return strings.HasPrefix(p.String(), "Fields") }, cmp.Ignore()))...); d != "" {
			t.Errorf("%s (-written +read):\n%s", name, d)
		}
		for i, f := range fields(r) {
			if !sameNumbers(f.cells(r), fields(got)[i].cells(got)) {
				t.Errorf("%s: %s differs", name, f.name)
			}
		}
		again, err := EncodeResult(got)
		if err != nil || !bytes.Equal(b, again) {
			t.Errorf("%s: written again, the bytes differ (%v)", name, err)
		}
	}
}

// The power at the terminals is stored where something is lost on its way.
func TestTerminalPowerIsKept(t *testing.T) {
	r := fixture.Synthetics["mild"].Result()
	r.Case.Drive.Path.SeriesOhm = 20
	for n := range r.History {
		r.History[n].TerminalW = 1.25 * r.History[n].PowerW
	}
	b, err := EncodeResult(r)
	if err != nil {
		t.Fatal(err)
	}
	got, err := DecodeResult(b)
	if err != nil || got.History[3].TerminalW != r.History[3].TerminalW || r.History[3].TerminalW == 0 || got.Case.Drive.Path != r.Case.Drive.Path {
		t.Errorf("%v; %+v, want %+v", err, got.History[3], r.History[3])
	}
}

// The columns of the stored history are named for whoever reads it without this program.
func TestHistoryColumnsAreNamedRight(t *testing.T) {
	s := fixture.Synthetics["pulsed"].Result().History[7]
	want := map[string]float64{"time_s": s.TimeS, "power_W": s.PowerW, "voltage_V": s.VoltageV, "current_A": s.CurrentA,
		"resistance_ohm": s.ResistanceOhm, "spark_share": s.SparkShare, "position_m": s.PositionM, "depth_m": s.DepthM,
		"T_surface_C": s.BorderC[0], "T_outer-surface_C": s.BorderC[4], "T_rim_C": s.ProbeC[0], "omega_rim": s.ProbeOmega[0]}
	for i, name := range sampleColumns(fixture.Synthetics["pulsed"].Result().Case) {
		if v, ok := want[name]; ok && *numbers(fixture.Synthetics["pulsed"].Result().Case, &s)[i] != v {
			t.Errorf("%s holds %g, want %g", name, *numbers(fixture.Synthetics["pulsed"].Result().Case, &s)[i], v)
		}
		delete(want, name)
	}
	if len(want) > 0 {
		t.Errorf("not stored: %v", want)
	}
}

// TestNPYBytes checks an array against the layout of the NPY format, version 1.0
// (NumPy Enhancement Proposal 1), independently of the reader here.
func TestNPYBytes(t *testing.T) {
	r := fixture.Synthetics["track"].Result()
	b, err := EncodeResult(r)
	if err != nil {
		t.Fatal(err)
	}
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	f, err := z.Open("peak_C.npy")
	if err != nil {
		t.Fatal(err)
	}
	npy, err := io.ReadAll(f)
	if err != nil {
		t.Fatal(err)
	}
	if string(npy[:8]) != "\x93NUMPY\x01\x00" {
		t.Fatalf("magic %q", npy[:8])
	}
	data := 10 + int(npy[8]) + 256*int(npy[9])
	if data%64 != 0 || npy[data-1] != '\n' {
		t.Errorf("data start at byte %d after %q", data, npy[data-1])
	}
	m := r.Mesh
	want := fmt.Sprintf("{'descr': '<f8', 'fortran_order': False, 'shape': (%d, %d, %d), }", m.NZ, m.NY, m.NX)
	if got := strings.TrimRight(string(npy[10:data]), " \n"); got != want {
		t.Errorf("header %s, want %s", got, want)
	}
	k, j, i := 3, 5, 17
	at := data + 8*((k*m.NY+j)*m.NX+i)
	if got := math.Float64frombits(binary.LittleEndian.Uint64(npy[at:])); got != r.Fields.PeakC[m.Index(i, j, k)] {
		t.Errorf("peak_C[%d,%d,%d] = %g, want %g", k, j, i, got, r.Fields.PeakC[m.Index(i, j, k)])
	}
	for _, e := range z.File {
		if e.ModifiedDate != 0 || e.ModifiedTime != 0 || len(e.Extra) != 0 {
			t.Errorf("%s carries a time", e.Name)
		}
	}
}

func TestBrokenRecordsAreRefused(t *testing.T) {
	b, err := EncodeResult(fixture.Synthetics["mild"].Result())
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range []int{0, 1, 100, len(b) / 2, len(b) - 1} {
		if _, err := DecodeResult(b[:n]); err == nil {
			t.Errorf("cut to %d bytes: accepted", n)
		}
	}
	for n := 0; n < len(b); n += len(b)/40 + 1 {
		bad := bytes.Clone(b)
		bad[n] ^= 0xff
		_, _ = DecodeResult(bad) // must not panic; a changed value may go unnoticed where there is no checksum
	}
	for _, npy := range []string{"", "\x93NUMPY\x01\x00\xff\xff", "\x93NUMPY\x01\x00\x40\x00{'descr': '<f8', 'fortran_order': False, 'shape': (-1,), }          \n"} {
		if _, err := readNPY([]byte(npy)); err == nil {
			t.Errorf("%q accepted", npy)
		}
	}
}

// TestVTR reads the file as VTK does: the XML up to the appended data, then each
// array by its offset, a count of bytes before the values.
func TestVTR(t *testing.T) {
	for _, name := range []string{"hot", "track"} {
		r := fixture.Synthetics[name].Result()
		b := vtr(r)
		const mark = "<AppendedData encoding=\"raw\">\n_"
		start := bytes.Index(b, []byte(mark))
		if start < 0 || !bytes.HasSuffix(b, []byte("\n</AppendedData>\n</VTKFile>\n")) {
			t.Fatalf("%s: no appended data", name)
		}
		var doc struct {
			Type      string `xml:"type,attr"`
			ByteOrder string `xml:"byte_order,attr"`
			Header    string `xml:"header_type,attr"`
			Grid      struct {
				Extent string `xml:"WholeExtent,attr"`
				Piece  struct {
					Cells  []vtrArray `xml:"CellData>DataArray"`
					Coords []vtrArray `xml:"Coordinates>DataArray"`
				}
			} `xml:"RectilinearGrid"`
		}
		if err := xml.Unmarshal(append(bytes.Clone(b[:start]), "</VTKFile>"...), &doc); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if doc.Type != "RectilinearGrid" || doc.ByteOrder != "LittleEndian" || doc.Header != "UInt64" {
			t.Errorf("%s: %+v", name, doc)
		}
		read := func(a vtrArray) []float64 {
			at := start + len(mark) + a.Offset
			n := int(binary.LittleEndian.Uint64(b[at:])) / 8
			v := make([]float64, n)
			for i := range v {
				v[i] = math.Float64frombits(binary.LittleEndian.Uint64(b[at+8+8*i:]))
			}
			return v
		}
		m := r.Mesh
		y, ny := []float64{0}, 0
		if m.Geometry == mesh.Track {
			y, ny = m.Y.Faces, m.NY
		}
		if want := fmt.Sprintf("0 %d 0 %d 0 %d", m.NX, ny, m.NZ); doc.Grid.Extent != want {
			t.Errorf("%s: extent %s, want %s", name, doc.Grid.Extent, want)
		}
		for i, want := range [][]float64{m.X.Faces, y, m.Z.Faces} {
			if d := cmp.Diff(want, read(doc.Grid.Piece.Coords[i])); d != "" {
				t.Errorf("%s: coordinates %d: %s", name, i, d)
			}
		}
		list := fields(r)
		if len(doc.Grid.Piece.Cells) != len(list)+1 {
			t.Fatalf("%s: %d arrays of %d fields and the layer", name, len(doc.Grid.Piece.Cells), len(list))
		}
		for i, f := range list {
			a := doc.Grid.Piece.Cells[i]
			if a.Name != f.name || !sameNumbers(f.cells(r), read(a)) {
				t.Errorf("%s: %s differs from %s", name, a.Name, f.name)
			}
		}
	}
}

type vtrArray struct {
	Name   string `xml:",attr"`
	Offset int    `xml:"offset,attr"`
}

// sameNumbers compares bit for bit, so that not a number equals itself.
func sameNumbers(a, b []float64) bool {
	return slices.EqualFunc(a, b, func(x, y float64) bool { return math.Float64bits(x) == math.Float64bits(y) })
}
