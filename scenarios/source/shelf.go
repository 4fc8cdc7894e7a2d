package source

import (
	"bytes"
	"maps"
	"sync"

	"muralheat/scenarios/keys"
)

// Shelf holds the sheets that the cases of a scenario or a plan use, under the names by which they are asked for.
// Each is read once, so that all cases see the same; it may be used by many at a time.
type Shelf struct {
	read   func(path string) ([]byte, error)
	mu     sync.Mutex
	stored map[string]string // texts that are not looked for in files
	sheets map[string]shelved
}

type shelved struct {
	path string
	text []byte
	*Sheet
}

// NewShelf returns a shelf that reads files by read. The texts of stored, by name, stand in place of files.
func NewShelf(read func(path string) ([]byte, error), stored map[string]string) *Shelf {
	return &Shelf{read: read, stored: stored, sheets: map[string]shelved{}}
}

// Sheet returns the sheet of a name, which is that of a file relative to the folder of the file beside. A file that
// cannot be read returns its error, a wrong one keys.Problems.
func (s *Shelf) Sheet(beside, name string) (*Sheet, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	path := keys.Beside(beside, name)
	text, stored := []byte(s.stored[name]), false
	if _, stored = s.stored[name]; stored {
		path = name
	}
	there, known := s.sheets[name]
	if known && there.path == path {
		return there.Sheet, nil
	}
	if !stored {
		var err error
		if text, err = s.read(path); err != nil {
			return nil, err
		}
	}
	if known && !bytes.Equal(there.text, text) {
		return nil, keys.Problems{{File: path, Wrong: "another sheet than " + there.path + ", under the same name", Right: "give one of them another name: results name the sheet"}}
	}
	sheet, err := Parse(path, text)
	if err != nil {
		return nil, err
	}
	s.sheets[name] = shelved{path, text, sheet}
	return sheet, nil
}

// Texts returns the sheets that were asked for, by name, as they were read; nil if none was.
func (s *Shelf) Texts() map[string]string {
	s.mu.Lock()
	defer s.mu.Unlock()
	var texts map[string]string
	for name, x := range s.sheets {
		if texts == nil {
			texts = maps.Clone(s.stored)
		}
		if texts == nil {
			texts = map[string]string{}
		}
		texts[name] = string(x.text)
	}
	return texts
}
