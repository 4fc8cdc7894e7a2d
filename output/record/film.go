package record

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"muralheat/mesh"
	"muralheat/thermal"
)

// The film, film.npz, holds the moments of a run in the plane that is drawn, beside result.npz. Its time course is the
// rows of history there. It holds
//
//	row                          row of history of each moment, counted from 0
//	time_s                       the time of that row
//	x_faces_m, z_faces_m         the plane, as in result.npz: x is the radius, or the distance along the track in the
//	                             first cells beside y = 0
//	temperature_C                the fields in single precision, shape (moment, depth, x): temperature then,
//	ln_omega, ln_omega_at_once   logarithm of the Arrhenius integrals so far, -14 to 14: the injury line is at 0,
//	water, solid                 shares left,
//	removed                      1 where no tissue is
//
// Of a track it holds y_faces_m and across_x_m too, and each field a second time as across_FIELD, shape (moment, depth, y):
// in the plane across the track at across_x_m, its middle.
//
// Temperatures and logarithms are rounded to 1/64, shares to 1/256: that is enough for a picture, and packs. Where the
// electrode is, power and sparks are in the row of history; ln_omega_at_once is missing where it was not computed.
const FilmName = "film.npz"

// plane is one field of a film.
type plane struct {
	name string
	of   func(*thermal.Moment) *[]float32
}

func planes(r *thermal.Result) []plane {
	list := []plane{
		{"temperature_C", func(m *thermal.Moment) *[]float32 { return &m.TemperatureC }},
		{"ln_omega", func(m *thermal.Moment) *[]float32 { return &m.LnOmega }},
		{"water", func(m *thermal.Moment) *[]float32 { return &m.Water }},
		{"solid", func(m *thermal.Moment) *[]float32 { return &m.Solid }},
	}
	if r.Case.Damage.AtOnce != nil {
		list = append(list, plane{"ln_omega_at_once", func(m *thermal.Moment) *[]float32 { return &m.LnOmegaAtOnce }})
	}
	return list
}

// section is a plane that moments hold: where its values begin, and how many columns it has.
type section struct {
	prefix        string // of its arrays
	from, columns int
}

func sections(r *thermal.Result) []section {
	list := []section{{"", 0, r.Mesh.NX}}
	if r.Mesh.Geometry == mesh.Track {
		list = append(list, section{"across_", r.Mesh.NX * r.Mesh.NZ, r.Mesh.NY})
	}
	return list
}

// EncodeFilm returns the moments of a result as the bytes of film.npz.
func EncodeFilm(r *thermal.Result) ([]byte, error) {
	var b bytes.Buffer
	w, m, n := npzWriter{zip.NewWriter(&b)}, r.Mesh, len(r.Moments)
	var row, timeS []float64
	for _, now := range r.Moments {
		row, timeS = append(row, float64(now.Row)), append(timeS, r.History[now.Row].TimeS)
	}
	err := errors.Join(w.array("row", row, n), w.array("time_s", timeS, n),
		w.array("x_faces_m", m.X.Faces, len(m.X.Faces)), w.array("z_faces_m", m.Z.Faces, len(m.Z.Faces)))
	if m.Geometry == mesh.Track {
		err = errors.Join(err, w.array("y_faces_m", m.Y.Faces, len(m.Y.Faces)), w.array("across_x_m", []float64{m.X.Centres[r.Case.MiddleColumn(m)]}, 1))
	}
	for _, s := range sections(r) {
		for _, f := range planes(r) {
			var all []float32
			for i := range r.Moments {
				all = append(all, (*f.of(&r.Moments[i]))[s.from:s.from+s.columns*m.NZ]...)
			}
			err = errors.Join(err, w.single(s.prefix+f.name, all, n, m.NZ, s.columns))
		}
		var removed []float32
		for _, now := range r.Moments {
			for _, is := range now.Removed[s.from : s.from+s.columns*m.NZ] {
				removed = append(removed, float32(Yes(is)))
			}
		}
		err = errors.Join(err, w.single(s.prefix+"removed", removed, n, m.NZ, s.columns))
	}
	if err := errors.Join(err, w.Close()); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// LoadFilm reads the moments of the run in dir into its result. A run without a film keeps none.
func LoadFilm(dir string, r *thermal.Result) error {
	name := filepath.Join(dir, FilmName)
	b, err := os.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err == nil {
		r.Moments, err = decodeFilm(b, r)
	}
	if err != nil {
		return fmt.Errorf("output: %s: %w", name, err)
	}
	return nil
}

// decodeFilm returns the moments that EncodeFilm wrote of the same result.
func decodeFilm(b []byte, r *thermal.Result) ([]thermal.Moment, error) {
	z, err := readNPZ(b)
	if err != nil {
		return nil, err
	}
	row, timeS := z.arrays["row"].values, z.arrays["time_s"].values
	if len(row) == 0 || len(row) > len(r.History) || len(timeS) != len(row) {
		return nil, errors.New("row: missing or of another run")
	}
	moments := make([]thermal.Moment, len(row))
	for n, at := range row {
		if !(at >= 0 && at < float64(len(r.History))) || r.History[int(at)].TimeS != timeS[n] || n > 0 && at <= row[n-1] {
			return nil, fmt.Errorf("moment %d is at no row of the history in %s: one of them is of another run", n, RecordName)
		}
		moments[n].Row = int(at)
	}
	for _, section := range sections(r) {
		cells := section.columns * r.Mesh.NZ
		of := func(name string, keep func(m *thermal.Moment, v []float64)) {
			v := z.arrays[section.prefix+name].values
			if err != nil || len(v) != len(moments)*cells {
				if err == nil {
					err = fmt.Errorf("%s: missing or not on the mesh of %s", section.prefix+name, RecordName)
				}
				return
			}
			for n := range moments {
				keep(&moments[n], v[n*cells:(n+1)*cells])
			}
		}
		for _, f := range planes(r) {
			of(f.name, func(m *thermal.Moment, v []float64) {
				for _, x := range v {
					*f.of(m) = append(*f.of(m), float32(x))
				}
			})
		}
		of("removed", func(m *thermal.Moment, v []float64) {
			for _, x := range v {
				m.Removed = append(m.Removed, x != 0)
			}
		})
	}
	return moments, err
}
