package output

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"muralheat/thermal"
)

// file is one output before it is on disk.
type file struct {
	name string
	data []byte
}

// A Folder is an output folder in the making. Its files are written into a folder
// beside it that takes the final name in one step, when all are there: whatever
// interrupts a run, there is a whole folder or none.
type Folder struct {
	want string
	work string
	made []string // folders above it that were made for it, innermost first
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
	work, err := os.MkdirTemp(parent, "."+filepath.Base(dir)+".part-")
	if err != nil {
		return nil, fmt.Errorf("output: cannot write in %s: %w", parent, errors.Unwrap(err))
	}
	// MkdirTemp makes a private folder; results get the usual permissions.
	if err := os.Chmod(work, 0o755); err != nil {
		os.Remove(work)
		return nil, fmt.Errorf("output: %w", err)
	}
	return &Folder{dir, work, made}, nil
}

// Discard removes what was written so far. It is safe after Save.
func (f *Folder) Discard() {
	if f.work != "" {
		os.RemoveAll(f.work)
		f.work = ""
		for _, up := range f.made {
			os.Remove(up) // fails, as it should, once something else is in it
		}
	}
}

// Save writes every output of a run and gives the folder its name, which it
// returns with the names of the files. withFields adds the fields for viewers. If ctx
// ends before the folder has its name nothing is kept and its error returned.
func (f *Folder) Save(ctx context.Context, run *Run, r *thermal.Result, withFields bool) (dir string, names []string, err error) {
	defer f.Discard()
	record, err := encodeResult(r)
	if err != nil {
		return "", nil, fmt.Errorf("output: %w", err)
	}
	files := []file{
		{"summary.csv", summaryCSV(r)},
		{"layers.csv", layersCSV(r)},
		{"history.csv", historyCSV(r)},
		{"scenario.yaml", run.Resolved},
		{recordName, record},
	}
	if run.Refinement != nil {
		files = append(files, file{refineName, run.Refinement.csv()})
	}
	if withFields {
		files = append(files, file{"fields.vtr", vtr(r)})
	}
	drawn, err := drawings(r)
	if err != nil {
		return "", nil, err
	}
	files = append(files, drawn...)
	text, err := encodeJSON(newManifest(run, r, files))
	if err != nil {
		return "", nil, fmt.Errorf("output: %w", err)
	}
	files = append(files, file{manifestName, text})
	for _, o := range files {
		if err := write(filepath.Join(f.work, o.name), o.data); err != nil {
			return "", nil, fmt.Errorf("output: %w", err)
		}
		names = append(names, o.name)
	}
	if err := ctx.Err(); err != nil {
		return "", nil, err
	}
	dir, err = f.settle()
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
		if err := claim(f.work, name); err != nil {
			os.Remove(name)
			return "", fmt.Errorf("output: %w", err)
		}
		f.work = ""
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
	return errors.Join(err, f.Sync(), f.Close())
}

// drawings renders every figure of a result in every format.
func drawings(r *thermal.Result) ([]file, error) { return rendered(figures(r)) }

func rendered(figs []figure) ([]file, error) {
	var out []file
	for _, fig := range figs {
		for _, k := range formats {
			b, err := k.render(fig)
			if err != nil {
				return nil, fmt.Errorf("output: figure %s.%s: %w", fig.name, k.ext, err)
			}
			out = append(out, file{fig.name + "." + k.ext, b})
		}
	}
	return out, nil
}

// Load reads the result of a run back from its folder.
func Load(dir string) (*thermal.Result, error) {
	b, err := os.ReadFile(filepath.Join(dir, recordName))
	if err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	r, err := decodeResult(b)
	if err != nil {
		return nil, fmt.Errorf("output: %s: %w", filepath.Join(dir, recordName), err)
	}
	return r, nil
}

// Redraw draws the figures of the run in dir again from its stored result and
// returns their names. Each file is replaced in one step; if a newer program draws
// differently, the manifest's digests follow.
func Redraw(dir string) ([]string, error) {
	r, err := Load(dir)
	if err != nil {
		return nil, err
	}
	files, err := stored(filepath.Join(dir, recordName), func() []figure { return figures(r) })
	if err != nil {
		return nil, err
	}
	record, err := os.ReadFile(filepath.Join(dir, manifestName))
	if err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	if record, err = relist(record, files); err != nil {
		return nil, fmt.Errorf("output: %s: %w", filepath.Join(dir, manifestName), err)
	}
	var names []string
	for _, f := range append(files, file{manifestName, record}) {
		if err := Replace(filepath.Join(dir, f.name), f.data); err != nil {
			return nil, fmt.Errorf("output: %w", err)
		}
		if f.name != manifestName {
			names = append(names, f.name)
		}
	}
	return names, nil
}

// stored renders figures of what was read from a file. What somebody has changed in it may
// make no sense at all, in more ways than can be asked for one by one.
func stored(name string, list func() []figure) (files []file, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("output: %s: it makes no figure and has been changed, or this is a bug (%v)", name, p)
		}
	}()
	figs := list()
	for _, f := range figs {
		if !(f.w <= largestSheet && f.h <= largestSheet) {
			return nil, fmt.Errorf("output: %s: it makes a figure of %.3g mm by %.3g mm and has been changed", name, f.w/mm, f.h/mm)
		}
	}
	return rendered(figs)
}

// largestSheet is more than any figure needs, and drawn in memory at hand.
const largestSheet = 2000 * mm

// relist puts the digests of files into a manifest and leaves the rest of its text
// as it is.
func relist(record []byte, files []file) ([]byte, error) {
	var m struct {
		Outputs []written `json:"outputs"`
	}
	if err := json.Unmarshal(record, &m); err != nil {
		return nil, err
	}
	for _, n := range list(files) {
		for _, o := range m.Outputs {
			if o.File == n.File && len(o.SHA256) == len(n.SHA256) {
				record = bytes.ReplaceAll(record, []byte(o.SHA256), []byte(n.SHA256))
			}
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
