package record

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// An npz archive is what numpy.load reads: a zip of arrays in the NPY format 1.0
// (NumPy Enhancement Proposal 1), here of float64 or float32, little endian, C order. Other
// members are handed out by numpy as bytes. Equal contents are equal bytes: the
// members carry no time.

// array is an n-dimensional array, the last index fastest.
type array struct {
	shape  []int
	values []float64
}

type npzWriter struct{ *zip.Writer }

func (w npzWriter) bytes(name string, b []byte) error {
	f, err := w.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate})
	if err != nil {
		return err
	}
	_, err = f.Write(b)
	return err
}

func (w npzWriter) array(name string, values []float64, shape ...int) error {
	return w.npy(name, float64Type, float64s(values), shape)
}

// single writes values in single precision.
func (w npzWriter) single(name string, values []float32, shape ...int) error {
	b := make([]byte, 0, 4*len(values))
	for _, x := range values {
		b = binary.LittleEndian.AppendUint32(b, math.Float32bits(x))
	}
	return w.npy(name, float32Type, b, shape)
}

// The types of NPY arrays.
const (
	float64Type = "'<f8'"
	float32Type = "'<f4'"
)

func (w npzWriter) npy(name, kind string, data []byte, shape []int) error {
	dims := make([]string, len(shape))
	for i, n := range shape {
		dims[i] = strconv.Itoa(n)
	}
	tuple := strings.Join(dims, ", ")
	if len(shape) == 1 {
		tuple += ","
	}
	head := fmt.Sprintf("{'descr': %s, 'fortran_order': False, 'shape': (%s), }", kind, tuple)
	const preamble = 10                                     // magic, version, length of the header
	pad := 63 - (preamble+len(head))%64                     // the data start at a multiple of 64
	head += strings.Repeat(" ", pad) + "\n"                 // which ends the header
	b := append([]byte("\x93NUMPY\x01\x00"), 0, 0)          // version 1.0
	binary.LittleEndian.PutUint16(b[8:], uint16(len(head))) //
	return w.bytes(name+".npy", append(append(b, head...), data...))
}

// npz holds the members of an archive that was read.
type npz struct {
	arrays map[string]array
	other  map[string][]byte
}

// Bounds of what is unpacked from an archive somebody hands us: of an array, and of text.
const (
	largestMember = 4 << 30
	LargestText   = 16 << 20
)

func readNPZ(b []byte) (npz, error) {
	z, err := zip.NewReader(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		return npz{}, err
	}
	out := npz{map[string]array{}, map[string][]byte{}}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			return npz{}, err
		}
		name, isArray := strings.CutSuffix(f.Name, ".npy")
		most := int64(LargestText)
		if isArray {
			most = largestMember
		}
		data, err := io.ReadAll(io.LimitReader(r, most+1))
		r.Close()
		if err == nil && int64(len(data)) > most {
			err = fmt.Errorf("larger than %d MB", most>>20)
		}
		if err != nil {
			return npz{}, fmt.Errorf("%s: %w", f.Name, err)
		}
		if !isArray {
			out.other[f.Name] = data
			continue
		}
		if out.arrays[name], err = readNPY(data); err != nil {
			return npz{}, fmt.Errorf("%s: %w", f.Name, err)
		}
	}
	return out, nil
}

// readNPY reads an array as this package writes them.
func readNPY(b []byte) (array, error) {
	if len(b) < 10 || string(b[:8]) != "\x93NUMPY\x01\x00" {
		return array{}, fmt.Errorf("not an NPY 1.0 array")
	}
	end := 10 + int(binary.LittleEndian.Uint16(b[8:]))
	if len(b) < end {
		return array{}, fmt.Errorf("header cut short")
	}
	head := string(b[10:end])
	size := 8
	switch {
	case !strings.Contains(head, "'fortran_order': False"):
		size = 0
	case strings.Contains(head, "'descr': "+float32Type):
		size = 4
	case !strings.Contains(head, "'descr': "+float64Type):
		size = 0
	}
	if size == 0 {
		return array{}, fmt.Errorf("not float64 or float32 in C order")
	}
	_, tuple, _ := strings.Cut(head, "'shape': (")
	tuple, _, ok := strings.Cut(tuple, ")")
	a, n := array{}, 1
	for d := range strings.SplitSeq(tuple, ",") {
		if d = strings.TrimSpace(d); d == "" {
			continue
		}
		long, err := strconv.Atoi(d)
		if err != nil || long < 0 || long > largestMember {
			return array{}, fmt.Errorf("bad shape %q", tuple)
		}
		a.shape, n = append(a.shape, long), n*long
	}
	if !ok || len(b)-end != size*n {
		return array{}, fmt.Errorf("data do not fill the shape %q", tuple)
	}
	a.values = make([]float64, n)
	for i := range a.values {
		if at := b[end+size*i:]; size == 4 {
			a.values[i] = float64(math.Float32frombits(binary.LittleEndian.Uint32(at)))
		} else {
			a.values[i] = math.Float64frombits(binary.LittleEndian.Uint64(at))
		}
	}
	return a, nil
}
