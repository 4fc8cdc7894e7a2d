package scenarios

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"

	"go.yaml.in/yaml/v4"

	"muralheat/scenarios/keys"
	"muralheat/scenarios/source"
	"muralheat/thermal"
)

// Scenario is a scenario that has been read, completed and checked.
type Scenario struct {
	Name    string // of its file
	text    []byte
	sets    []Set
	File    *keys.File
	given   func(key string) bool
	sources map[string]string
	shelf   *source.Shelf
}

// Load reads the scenario of a file. A wrong scenario returns Problems, with the
// path as given as the file's name.
func Load(path string) (*Scenario, error) {
	data, err := Read(path, "scenario")
	if err != nil {
		return nil, err
	}
	if keys.IsPlanText(path, data) {
		return nil, keys.Problems{{File: path, Wrong: "a plan where a scenario is needed", Right: "name the scenario that the plan varies"}}
	}
	return Parse(path, data)
}

// Read returns the text of a file that is to be a scenario or a plan, which it may not be:
// once, for what comes through a pipe is gone then. A file that cannot be read returns
// Problems.
func Read(path, kind string) ([]byte, error) {
	data, err := readFile(path)
	if err == nil {
		return data, nil
	}
	right := "name a " + kind + " file that can be read"
	if e, ok := FindExample(filepath.Base(path)); ok && errors.Is(err, fs.ErrNotExist) {
		right = "it is an example: write muralheat examples -o start, then name start/" + e.Name
	}
	return nil, keys.Problems{{File: path, Wrong: err.Error(), Right: right}}
}

func readFile(path string) ([]byte, error) {
	if info, err := os.Stat(path); err == nil && info.IsDir() {
		return nil, errors.New("a folder, not a file")
	}
	file, err := os.Open(path)
	if err != nil {
		var p *fs.PathError // its text would name the path a second time
		if errors.As(err, &p) {
			err = p.Err
		}
		return nil, err
	}
	defer file.Close()
	return io.ReadAll(io.LimitReader(file, keys.MaxBytes+1))
}

// Parse reads a scenario; name stands for the file in problems, and source sheets are looked for beside it.
func Parse(name string, data []byte) (*Scenario, error) {
	return parseWith(name, data, nil, source.NewShelf(readFile, nil))
}

// ParseStored does so with the texts of source sheets, by name, in place of their files.
func ParseStored(name string, data []byte, sheets map[string]string) (*Scenario, error) {
	return parseWith(name, data, nil, source.NewShelf(readFile, sheets))
}

// ParseNode reads a scenario that stands within another file; source sheets are those of its kin, or looked for beside
// the file. Places of problems are those of the node.
func ParseNode(name string, n *yaml.Node, kin *Scenario) (*Scenario, error) {
	shelf := source.NewShelf(readFile, nil)
	if kin != nil {
		shelf = kin.shelf
	}
	s, err := parsed(name, nil, shelf, func(r *keys.Report) *keys.File { return keys.ReadNode(r, n) })
	if err != nil {
		return nil, err
	}
	s.text = keys.Dump(n)
	return s, nil
}

func parseWith(name string, data []byte, sets []Set, shelf *source.Shelf) (*Scenario, error) {
	if len(data) > keys.MaxBytes {
		return nil, keys.Problems{{File: name, Wrong: "larger than 1 MB", Right: "a scenario fits on a few pages"}}
	}
	s, err := parsed(name, sets, shelf, func(r *keys.Report) *keys.File { return keys.Read(r, data) })
	if err != nil {
		return nil, err
	}
	s.text = data
	return s, nil
}

// parsed completes and checks what read reads.
func parsed(name string, sets []Set, shelf *source.Shelf, read func(*keys.Report) *keys.File) (*Scenario, error) {
	r := keys.NewReport(name, "scenario", reflect.TypeFor[keys.File]())
	var sources map[string]string
	f := read(r)
	if f != nil {
		sources = resolve(f, r, sets, shelf)
	}
	if len(r.Problems) > 0 {
		r.Problems.Sort()
		return nil, r.Problems
	}
	return &Scenario{Name: name, sets: sets, File: f, given: r.Given, sources: sources, shelf: shelf}, nil
}

// Has reports whether the scenario, with every default filled in, has a value at a key.
func (s *Scenario) Has(key string) bool {
	has := false
	keys.Walk(reflect.ValueOf(s.File), "", func(path string, _ reflect.Value) { has = has || path == key })
	return has
}

// Title returns the scenario's title.
func (s *Scenario) Title() string { return *s.File.Title }

// FiguresFor returns the page that figures are to be laid out for, "" for a document.
func (s *Scenario) FiguresFor() string { return keys.Word(s.File.FiguresFor) }

// Text returns the scenario as it was read.
func (s *Scenario) Text() []byte { return slices.Clone(s.text) }

// Case returns the computation the scenario asks for, every default filled in.
func (s *Scenario) Case() thermal.Case { return build(s.File) }

// Setting is one value of a scenario, given or filled in.
type Setting struct {
	Key    string // path, as in "wall.layers.muscularis.thickness_mm"
	Value  string
	Unit   string // "" for text, switches and pure numbers
	Given  bool   // written in the file
	Source string // of a value that was not given: its source, or "assumption: ..."; of one given elsewhere than in the file: where
}

// Settings returns all values of the scenario in the order of a file.
func (s *Scenario) Settings() []Setting {
	var settings []Setting
	keys.Walk(reflect.ValueOf(s.File), "", func(path string, v reflect.Value) {
		settings = append(settings, Setting{path, Printed(v), keys.UnitOf(path), s.given(path), s.sources[path]})
	})
	return settings
}

// Printed returns a value as text that reads back as the same value.
func Printed(v reflect.Value) string {
	if v.Kind() == reflect.Float64 {
		return keys.Text(v.Float())
	}
	return fmt.Sprint(v.Interface())
}

// comment says where a value that was not given comes from.
func (s *Scenario) comment(path string) string {
	source := s.sources[path]
	if s.given(path) || source == "" || strings.HasPrefix(source, sheetSource) {
		return source
	}
	if after, ok := strings.CutPrefix(source, library); ok {
		return after
	}
	return "default: " + source
}
