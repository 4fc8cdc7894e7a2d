package batch

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"

	"github.com/gofrs/flock"

	"muralheat/scenarios"
	"muralheat/scenarios/disk"
	"muralheat/scenarios/plan"
)

// Names of the files of a folder.
const (
	recordName   = "sweep.json"
	planName     = "plan.yaml"
	scenarioName = "scenario.yaml"
	journalName  = "journal"
	lockName     = ".lock"
	tableName    = "results.csv"
	meaningName  = "results.csv-metadata.json"
)

// Refusal is something about a folder that the person can put right; nothing was written.
type Refusal struct{ text string }

func (e Refusal) Error() string { return e.text }

func refuse(format string, args ...any) error { return Refusal{fmt.Sprintf(format, args...)} }

// Record is sweep.json: what a folder holds, for whoever reads the table.
type Record struct {
	Caution string            `json:"caution"`
	Title   string            `json:"title"`
	Program string            `json:"program"`
	Digest  string            `json:"digest"` // of the plan
	Slice   string            `json:"slice,omitempty"`
	Design  string            `json:"design"` // of the points: grid, paired, one-at-a-time, halton, latin-hypercube; cases: named; none: nothing varies
	Points  int               `json:"points"`
	Draws   int               `json:"draws"`
	Cases   int               `json:"cases"` // of the whole sweep
	Named   bool              `json:"named"`
	Titles  []string          `json:"titles,omitempty"` // of the points, for figures; none: their names
	Inputs  []Input           `json:"inputs"`
	Set     []Set             `json:"set,omitempty"`            // values in place of those of scenario.yaml, for all cases
	Sheets  map[string]string `json:"source_sheets,omitempty"`  // by the name that scenario and plan call them: their texts
	Layers  []Layer           `json:"layers"`                   // of the first case
	Quality string            `json:"quality"`                  // of its mesh and steps
	Moving  bool              `json:"moving"`                   // its electrode moves: a mesh of coarser cells
	Columns []Column          `json:"columns"`                  // results; once all cases are there
	SHA256  string            `json:"results_sha256,omitempty"` // of the table, then
}

// Input is a key that differs between cases.
type Input struct {
	Key       string `json:"key"`
	Title     string `json:"title"`
	Unit      string `json:"unit,omitempty"`
	Word      bool   `json:"word,omitempty"` // no number
	Uncertain bool   `json:"uncertain"`
	Levels    int    `json:"levels,omitempty"` // values that the design gives it
}

// Set is a value that was put in place of that of the scenario's file.
type Set struct {
	Key   string `json:"key"`
	Value string `json:"value"`
	By    string `json:"by"` // what put it there
}

// Layer is a layer of the wall, or what lies beyond it, lumen side first.
type Layer struct {
	Name     string  `json:"name"`
	TopMM    float64 `json:"top_mm"`
	BottomMM float64 `json:"bottom_mm"`
	Muscle   bool    `json:"muscle"`
	Beyond   bool    `json:"beyond"`
}

func newRecord(s *plan.Sweep, program string, slice Slice) Record {
	r := Record{
		Caution: scenarios.Caution, Title: s.Title, Program: program, Digest: s.Digest(), Slice: slice.String(),
		Design: s.Design, Points: s.Points(), Draws: s.Draws, Cases: s.Len(), Named: s.Named(), Titles: s.Titles(), Inputs: []Input{}, Sheets: s.Base.Sheets(), Layers: []Layer{}, Columns: []Column{},
	}
	if slice.whole() {
		r.Slice = ""
	}
	for _, in := range s.Inputs {
		r.Inputs = append(r.Inputs, Input{in.Key, in.Title, in.Unit, !in.Number, in.Uncertain, in.Levels})
	}
	for _, x := range s.Base.Sets() {
		r.Set = append(r.Set, Set{x.Key, x.Value.String(), x.By})
	}
	first, err := s.Scenario(0)
	if err != nil { // it fails as a case does; the scenario that is varied stands in
		first = s.Base
	}
	c := first.Case()
	r.Quality, r.Moving = c.Numerics.Quality, c.Motion.Moving()
	edges := c.Edges()
	for i, l := range c.Layers {
		if !l.Above {
			r.Layers = append(r.Layers, Layer{l.Name, inMM(edges[i]), inMM(edges[i+1]), l.Muscle, l.Beyond})
		}
	}
	return r
}

// folder is a folder that is held by this process alone.
type folder struct {
	dir     string
	sweep   *plan.Sweep
	record  Record
	journal *journal
	lock    *flock.Flock
}

// open makes or takes up the folder of a sweep.
func open(s *plan.Sweep, dir string, opt Options) (*folder, error) {
	dir = filepath.Clean(dir)
	f := &folder{dir: dir, sweep: s, record: newRecord(s, opt.Program, opt.Slice)}
	if err := f.take(); err != nil {
		return nil, err
	}
	err := f.begin(opt)
	if err != nil {
		f.close()
		return nil, err
	}
	return f, nil
}

// take makes the folder if it is not there, and locks it. The lock ends with the process.
func (f *folder) take() error {
	switch there, err := os.ReadDir(f.dir); {
	case err == nil && !isSweep(there):
		return refuse("%s holds files that are not those of a sweep; give another folder with -o", f.dir)
	case err != nil && !errors.Is(err, os.ErrNotExist):
		return refuse("%s: %v; give another folder with -o", f.dir, cause(err))
	}
	if err := os.MkdirAll(f.dir, 0o777); err != nil {
		return refuse("%s: %v; give another folder with -o", f.dir, cause(err))
	}
	var err error
	f.lock, err = hold(f.dir)
	return err
}

// hold locks a folder.
func hold(dir string) (*flock.Flock, error) {
	lock := flock.New(filepath.Join(dir, lockName), flock.SetPermissions(0o666))
	switch got, err := lock.TryLock(); {
	case err != nil:
		return nil, refuse("%s: %v; give another folder", dir, cause(err))
	case !got:
		return nil, refuse("%s: another sweep is running there; wait for it, or give another folder", dir)
	}
	return lock, nil
}

// isSweep reports whether a folder holds a sweep, or nothing yet.
func isSweep(entries []os.DirEntry) bool {
	begun := true
	for _, e := range entries {
		if e.Name() == recordName {
			return true
		}
		begun = begun && strings.HasPrefix(e.Name(), ".")
	}
	return begun
}

// begin compares what is there with what is to be computed, and reads the journal.
func (f *folder) begin(opt Options) error {
	there, err := readRecord(f.dir)
	switch {
	case errors.Is(err, os.ErrNotExist):
	case err != nil:
		return refuse("%s: %s: %v; give another folder with -o", f.dir, recordName, cause(err))
	case opt.Fresh:
		if err := f.moveAside(); err != nil {
			return err
		}
	default:
		if what := differs(there, f.record); what != "" {
			return refuse("%s holds results of %s; give another folder with -o, or --fresh to start over there (what it holds is kept under another name)", f.dir, what)
		}
		f.record.Columns = there.Columns
	}
	if err := f.writeRecord(); err != nil {
		return err
	}
	if err := replace(filepath.Join(f.dir, planName), f.sweep.Text()); err != nil {
		return err
	}
	if err := replace(filepath.Join(f.dir, scenarioName), f.sweep.Base.Text()); err != nil {
		return err
	}
	if err := f.clearParts(); err != nil {
		return err
	}
	f.journal, err = openJournal(filepath.Join(f.dir, journalName), bound(f.record.Digest, f.record.Program), opt.Slice, f.sweep.Len())
	if err != nil {
		return err
	}
	if !f.journal.count().Complete() { // a table stands for all cases, or is not there
		for _, name := range []string{tableName, meaningName} {
			if err := os.Remove(filepath.Join(f.dir, name)); err != nil && !errors.Is(err, os.ErrNotExist) {
				return err
			}
		}
	}
	return syncFolder(f.dir)
}

// clearParts removes files that a kill has left half written.
func (f *folder) clearParts() error {
	entries, err := os.ReadDir(f.dir)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if e.Type().IsRegular() && strings.HasSuffix(e.Name(), partExt) {
			if err := os.Remove(filepath.Join(f.dir, e.Name())); err != nil {
				return err
			}
		}
	}
	return nil
}

// Gone is a folder that is no longer there although a sweep is at work in it.
type Gone struct{ Dir string }

func (e Gone) Error() string {
	return fmt.Sprintf("%s was deleted or renamed while the sweep was at work there", e.Dir)
}

// there reports as an error that the journal is no longer the one in the folder.
func (f *folder) there() error {
	held, err := f.journal.file.Stat()
	if err != nil {
		return err
	}
	if named, err := os.Stat(filepath.Join(f.dir, journalName)); err != nil || !os.SameFile(held, named) {
		return Gone{f.dir}
	}
	return nil
}

// differs says in what a folder is not that of a sweep, "" if it is.
func differs(there, wanted Record) string {
	switch {
	case there.Digest != wanted.Digest:
		return "another plan or scenario"
	case there.Program != wanted.Program:
		return fmt.Sprintf("another program (%s, this is %s)", there.Program, wanted.Program)
	case there.Slice != wanted.Slice:
		return fmt.Sprintf("another slice (%s, not %s)", orWhole(there.Slice), orWhole(wanted.Slice))
	}
	return ""
}

func orWhole(slice string) string {
	if slice == "" {
		return "the whole"
	}
	return slice
}

// moveAside gives what is there another name and starts an empty folder in its place.
func (f *folder) moveAside() error {
	for n := 2; n < 10000; n++ {
		name := fmt.Sprintf("%s-%d", f.dir, n)
		if err := os.Mkdir(name, 0o777); errors.Is(err, os.ErrExist) {
			continue
		} else if err != nil {
			return err
		}
		f.close()
		// The name was claimed without a race; not every system replaces an empty folder.
		if err := errors.Join(os.Remove(name), os.Rename(f.dir, name)); err != nil {
			return err
		}
		return f.take()
	}
	return refuse("no free name for what %s holds", f.dir)
}

func (f *folder) close() {
	if f.journal != nil {
		f.journal.close()
	}
	if f.lock != nil {
		f.lock.Unlock()
	}
}

func readRecord(dir string) (r Record, err error) {
	b, err := os.ReadFile(filepath.Join(dir, recordName))
	if err != nil {
		return r, err
	}
	return r, json.Unmarshal(b, &r)
}

func (f *folder) writeRecord() error {
	b, err := encode(f.record)
	if err != nil {
		return err
	}
	return replace(filepath.Join(f.dir, recordName), b)
}

func encode(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return b.Bytes(), err
}

// replace puts a file in place in one step, if it is not there already.
func replace(name string, data []byte) error {
	if there, err := os.ReadFile(name); err == nil && bytes.Equal(there, data) {
		return nil
	}
	return put(name, func(w *os.File) error { _, err := w.Write(data); return err })
}

// partExt ends the name of a file that is not whole yet.
const partExt = ".part"

// put writes a file and gives it its name when it is whole and on disk.
func put(name string, fill func(*os.File) error) error {
	part := filepath.Join(filepath.Dir(name), "."+filepath.Base(name)+partExt)
	w, err := os.Create(part)
	if err != nil {
		return err
	}
	if err := errors.Join(fill(w), disk.Sync(w), w.Close()); err != nil {
		os.Remove(part)
		return err
	}
	return os.Rename(part, name)
}

// syncFolder makes sure that the names of new files are on disk. Not every system can; the
// files themselves are.
func syncFolder(dir string) error {
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	disk.Sync(d)
	return d.Close()
}

// cause leaves out the path that stands before it already.
func cause(err error) error {
	var p *os.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

// inMM returns millimetres, rounded to a picometre as in the other tables.
func inMM(m float64) float64 { return math.Round(m*1e12) / 1e9 }
