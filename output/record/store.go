package record

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"muralheat/scenarios/disk"
	"muralheat/thermal"
)

// File is one output before it is on disk.
type File struct {
	Name string
	Data []byte
}

// A Folder is an output folder in the making. Its files are written into a folder
// beside it that takes the final name in one step, when all are there: whatever
// interrupts a run, there is a whole folder or none.
type Folder struct {
	want string
	part *part
	made []string // folders above it that were made for it, innermost first
	put  []File   // written before the result is there
}

// Put writes a file at once, before there is a result. Save lists it with the others.
func (f *Folder) Put(o File) error {
	if err := write(filepath.Join(f.part.dir, o.Name), o.Data); err != nil {
		return fmt.Errorf("output: %w", err)
	}
	f.put = append(f.put, o)
	return nil
}

// Open makes ready to write the folder dir and so finds out, before anything is
// computed, whether that is possible. An existing dir is never overwritten: a free
// name dir-2, dir-3, ... is taken.
func Open(dir string) (*Folder, error) {
	dir = filepath.Clean(dir)
	switch filepath.Base(dir) {
	case ".", "..", string(filepath.Separator):
		return nil, fmt.Errorf("output: %s is a folder that exists; name a new one", dir)
	}
	parent := filepath.Dir(dir)
	var made []string
	for up := parent; ; up = filepath.Dir(up) {
		if _, err := os.Stat(up); !errors.Is(err, fs.ErrNotExist) || up == filepath.Dir(up) {
			break
		}
		made = append(made, up)
	}
	if err := os.MkdirAll(parent, 0o777); err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	clearParts(parent, filepath.Base(dir))
	p, err := newPart(parent, filepath.Base(dir))
	if err != nil {
		return nil, fmt.Errorf("output: cannot write in %s: %w", parent, errors.Unwrap(err))
	}
	return &Folder{want: dir, part: p, made: made}, nil
}

// Discard removes what was written so far. It is safe after Save.
func (f *Folder) Discard() {
	if f.part != nil {
		f.part.remove()
		f.part = nil
		for _, up := range f.made {
			os.Remove(up) // fails, as it should, once something else is in it
		}
	}
}

// Undrawn is why figures are missing from a folder whose results are whole.
type Undrawn struct{ Err error }

func (e Undrawn) Error() string {
	return strings.ReplaceAll(strings.ReplaceAll(e.Err.Error(), "output: ", ""), "\n", "; ")
}

// Unwrap returns the cause.
func (e Undrawn) Unwrap() error { return e.Err }

// Save writes every table and record of a run, then the pictures that draw, if there is one, makes of it, and gives
// the folder its name, which it returns with the names of the files. withFields adds the fields
// for viewers. Nothing is lost for a picture: if some cannot be drawn or written, the folder has
// the others, and the error is Undrawn. If ctx ends before the folder has its name nothing is kept
// and its error returned.
func (f *Folder) Save(ctx context.Context, run *Run, r *thermal.Result, withFields bool, draw func() ([]File, error)) (dir string, names []string, err error) {
	defer f.Discard()
	record, err := EncodeResult(r)
	if err != nil {
		return "", nil, fmt.Errorf("output: %w", err)
	}
	files := []File{
		{"summary.csv", summaryCSV(r)},
		{"layers.csv", layersCSV(r)},
		{"history.csv", historyCSV(r)},
		{"scenario.yaml", run.Resolved},
		{RecordName, record},
	}
	if run.Refinement != nil {
		files = append(files, File{RefineName, run.Refinement.csv()})
	}
	if len(r.Moments) > 0 {
		film, err := EncodeFilm(r)
		if err != nil {
			return "", nil, fmt.Errorf("output: %w", err)
		}
		files = append(files, File{FilmName, film})
	}
	if withFields {
		files = append(files, File{"fields.vtr", vtr(r)})
	}
	in := func(o File) string { return filepath.Join(f.part.dir, o.Name) }
	for _, o := range files {
		if err := write(in(o), o.Data); err != nil {
			return "", nil, fmt.Errorf("output: %w", err)
		}
	}
	files = append(files, f.put...)
	results := len(files)
	var pictures []File
	var undrawn error
	if draw != nil {
		pictures, undrawn = draw()
	}
	for _, o := range pictures {
		if err := write(in(o), o.Data); err != nil {
			os.Remove(in(o)) // half of one takes room from the manifest
			undrawn = errors.Join(undrawn, err)
			continue
		}
		files = append(files, o)
	}
	manifest := File{Name: ManifestName}
	for {
		if manifest.Data, err = encodeJSON(newManifest(run, r, files)); err != nil {
			return "", nil, fmt.Errorf("output: %w", err)
		}
		if err = write(in(manifest), manifest.Data); err == nil {
			break
		}
		if len(files) == results {
			return "", nil, fmt.Errorf("output: %w", err)
		}
		last := files[len(files)-1] // it goes rather than the results
		files, undrawn = files[:len(files)-1], errors.Join(undrawn, err)
		os.Remove(in(last))
	}
	for _, o := range append(files, manifest) {
		names = append(names, o.Name)
	}
	if err := ctx.Err(); err != nil {
		return "", nil, err
	}
	if dir, err = f.settle(); err == nil && undrawn != nil {
		err = Undrawn{undrawn}
	}
	return dir, names, err
}

// settle renames the working folder to the wanted name or the next free one.
func (f *Folder) settle() (string, error) {
	for n := 1; n < 10000; n++ {
		name := f.want
		if n > 1 {
			name = fmt.Sprintf("%s-%d", f.want, n)
		}
		// Mkdir claims the name without a race; the rename then replaces the empty folder.
		if err := os.Mkdir(name, 0o777); errors.Is(err, fs.ErrExist) {
			continue
		} else if err != nil {
			return "", fmt.Errorf("output: %w", err)
		}
		if err := claim(f.part.dir, name); err != nil {
			os.Remove(name)
			return "", fmt.Errorf("output: %w", err)
		}
		f.part.remove() // its lock; the folder is gone from there
		f.part = nil
		return name, nil
	}
	return "", fmt.Errorf("output: no free name for %s", f.want)
}

// claim renames work to the empty folder name. Where a folder cannot be replaced,
// even an empty one (Windows), it is removed first.
func claim(work, name string) error {
	if os.Rename(work, name) == nil {
		return nil
	}
	if err := os.Remove(name); err != nil {
		return err
	}
	return os.Rename(work, name)
}

// write writes a file and makes sure it is on disk.
func write(name string, data []byte) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return errors.Join(err, disk.Sync(f), f.Close())
}

// Load reads the result of a run back from its folder.
func Load(dir string) (*thermal.Result, error) {
	b, err := os.ReadFile(filepath.Join(dir, RecordName))
	if err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	r, err := DecodeResult(b)
	if err != nil {
		return nil, fmt.Errorf("output: %s: %w", filepath.Join(dir, RecordName), err)
	}
	return r, nil
}

// Relist puts the digests of files into a manifest, with the files that it does not list yet, and
// leaves the rest of its text as it is.
func Relist(record []byte, files []File) ([]byte, error) {
	var m struct {
		Outputs []Written `json:"outputs"`
	}
	if err := json.Unmarshal(record, &m); err != nil {
		return nil, err
	}
	begin := []byte(`"outputs": [`)
	for _, n := range list(files) {
		listed := false
		for _, o := range m.Outputs {
			listed = listed || o.File == n.File
			if o.File == n.File && len(o.SHA256) == len(n.SHA256) {
				record = bytes.ReplaceAll(record, []byte(o.SHA256), []byte(n.SHA256))
			}
		}
		if !listed && len(m.Outputs) > 0 { // it could not be drawn with the others
			record = bytes.Replace(record, begin, fmt.Appendf(nil, "%s\n    {\n      \"file\": %q,\n      \"sha256\": %q\n    },", begin, n.File, n.SHA256), 1)
		}
	}
	return record, nil
}

// Replace puts a file in place in one step.
func Replace(name string, data []byte) error {
	part := name + ".part"
	if err := write(part, data); err != nil {
		os.Remove(part)
		return err
	}
	return os.Rename(part, name)
}
