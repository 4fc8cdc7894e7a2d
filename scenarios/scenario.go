package scenarios

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"reflect"
	"slices"
	"strings"

	"muralheat/thermal"
)

// Scenario is a scenario that has been read, completed and checked.
type Scenario struct {
	Name    string // of its file
	text    []byte
	file    *File
	given   func(key string) bool
	sources map[string]string
}

// maxBytes is the largest file that is read: a scenario fits on a few pages.
const maxBytes = 1 << 20

// Load reads the scenario of a file. A wrong scenario returns Problems, with the
// path as given as the file's name.
func Load(path string) (*Scenario, error) {
	data, err := Read(path, "scenario")
	if err != nil {
		return nil, err
	}
	if IsPlanText(path, data) {
		return nil, Problems{{File: path, Wrong: "a plan where a scenario is needed", Right: "name the scenario that the plan varies"}}
	}
	return Parse(path, data)
}

// Read returns the text of a file that is to be a scenario or a plan, which it may not be:
// once, for what comes through a pipe is gone then. A file that cannot be read returns
// Problems.
func Read(path, kind string) ([]byte, error) {
	data, err := readFile(path)
	if err != nil {
		return nil, Problems{{File: path, Wrong: err.Error(), Right: "name a " + kind + " file that can be read"}}
	}
	return data, nil
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
	return io.ReadAll(io.LimitReader(file, maxBytes+1))
}

// Parse reads a scenario; name stands for the file in problems.
func Parse(name string, data []byte) (*Scenario, error) { return parseWith(name, data, nil) }

func parseWith(name string, data []byte, sets []Set) (*Scenario, error) {
	if len(data) > maxBytes {
		return nil, Problems{{File: name, Wrong: "larger than 1 MB", Right: "a scenario fits on a few pages"}}
	}
	r := newReport(name, "scenario", reflect.TypeFor[File]())
	var sources map[string]string
	f := read(r, data)
	if f != nil {
		sources = resolve(f, r, sets)
	}
	if len(r.problems) > 0 {
		r.problems.sort()
		return nil, r.problems
	}
	return &Scenario{Name: name, text: data, file: f, given: r.given, sources: sources}, nil
}

// Title returns the scenario's title.
func (s *Scenario) Title() string { return *s.file.Title }

// Text returns the scenario as it was read.
func (s *Scenario) Text() []byte { return slices.Clone(s.text) }

// Case returns the computation the scenario asks for, every default filled in.
func (s *Scenario) Case() thermal.Case { return build(s.file) }

// Setting is one value of a scenario, given or filled in.
type Setting struct {
	Key    string // path, as in "wall.layers.muscularis.thickness_mm"
	Value  string
	Unit   string // "" for text, switches and pure numbers
	Given  bool   // written in the file
	Source string // of a value that was not given: its source, or "assumption: ..."
}

// Settings returns all values of the scenario in the order of a file.
func (s *Scenario) Settings() []Setting {
	var settings []Setting
	walk(reflect.ValueOf(s.file), "", func(path string, v reflect.Value) {
		settings = append(settings, Setting{path, printed(v), unitOf(path), s.given(path), s.sources[path]})
	})
	return settings
}

// printed returns a value as text that reads back as the same value.
func printed(v reflect.Value) string {
	if v.Kind() == reflect.Float64 {
		return text(v.Float())
	}
	return fmt.Sprint(v.Interface())
}

// comment says where a value that was not given comes from.
func (s *Scenario) comment(path string) string {
	source := s.sources[path]
	if s.given(path) || source == "" {
		return ""
	}
	if after, ok := strings.CutPrefix(source, library); ok {
		return after
	}
	return "default: " + source
}
