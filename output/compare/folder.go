package compare

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"muralheat/output/chart"
	"muralheat/output/phrase"
	"muralheat/output/record"
)

// Files of the folder of a comparison.
const (
	RecordName  = "compare.json"
	TableName   = "compare.csv"
	CasesFolder = "cases" // of what was computed for it
)

// Record is compare.json: what stands side by side, and what was computed for it.
type Record struct {
	Caution  string   `json:"caution"`
	Title    string   `json:"title"`
	Sources  []string `json:"sources"`       // as they were named
	Set      []string `json:"set,omitempty"` // key=value, in all scenarios among them
	Members  []Entry  `json:"members"`
	Program  string   `json:"program"`  // that computed
	Computed []Case   `json:"computed"` // by it
}

// Entry is one member: its title, and the folder of its run, relative to that of the comparison.
type Entry struct {
	Title  string `json:"title"`
	Folder string `json:"folder"`
}

// in is the folder of a member, seen from where that of the comparison is.
func (e Entry) in(dir string) string {
	if filepath.IsAbs(e.Folder) {
		return e.Folder
	}
	return filepath.Join(dir, e.Folder)
}

// Folders lists the folders of the members of a comparison.
func Folders(dir string) (folders []string, err error) {
	r, err := read(dir)
	if err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	for _, e := range r.Members {
		folders = append(folders, e.in(dir))
	}
	return folders, nil
}

// Case is a computed scenario: Scenario.Identity, and the folder of its run as in Entry.
type Case struct {
	Identity string `json:"identity"`
	Folder   string `json:"folder"`
}

// Is reports whether dir is the folder of a comparison.
func Is(dir string) bool {
	_, err := os.Stat(filepath.Join(dir, RecordName))
	return err == nil
}

// Errors of Begin.
var (
	ErrForeign = errors.New("it holds files that are not those of a comparison")
	ErrOther   = errors.New("it holds a comparison of something else")
)

// Begin makes the folder of a comparison of sources, or goes on in it: what the same program computed there counts.
func Begin(dir, program string, sources []string) (*Record, error) {
	fresh := &Record{Caution: phrase.Caution, Sources: sources, Program: program}
	there, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fresh, os.MkdirAll(dir, 0o755)
	case err != nil:
		return nil, err
	case !Is(dir) && slices.ContainsFunc(there, func(e fs.DirEntry) bool { return !strings.HasPrefix(e.Name(), ".") }):
		return nil, ErrForeign
	case !Is(dir):
		return fresh, nil
	}
	old, err := read(dir)
	if err != nil {
		return nil, err
	}
	if !slices.Equal(old.Sources, sources) {
		return nil, ErrOther
	}
	if old.Program == program {
		fresh.Computed = old.Computed
	}
	return fresh, nil
}

func read(dir string) (*Record, error) {
	r := &Record{}
	data, err := os.ReadFile(filepath.Join(dir, RecordName))
	if err != nil {
		return nil, err
	}
	if err := json.Unmarshal(data, r); err != nil {
		return nil, fmt.Errorf("%s: %w", filepath.Join(dir, RecordName), err)
	}
	return r, nil
}

// Known returns the folder in which a scenario was computed, "" if it was not or is there no more.
func (r *Record) Known(dir, identity string) string {
	for _, c := range r.Computed {
		if _, err := os.Stat(filepath.Join(dir, c.Folder, record.RecordName)); c.Identity == identity && err == nil {
			return c.Folder
		}
	}
	return ""
}

// Write writes the record into its folder: the same bytes in whatever order cases were computed.
func (r *Record) Write(dir string) error {
	slices.SortFunc(r.Computed, func(a, b Case) int { return strings.Compare(a.Folder, b.Folder) })
	text, err := json.MarshalIndent(r, "", "  ")
	if err != nil {
		return err
	}
	return record.Replace(filepath.Join(dir, RecordName), append(text, '\n'))
}

// Open reads what stands side by side in the folder of a comparison.
func Open(dir string) (title string, members []Member, err error) {
	r, err := read(dir)
	if err != nil {
		return "", nil, fmt.Errorf("output: %w", err)
	}
	for _, e := range r.Members {
		m, err := Load(e.in(dir), e.Title)
		if err != nil {
			return "", nil, err
		}
		members = append(members, m)
	}
	if len(members) == 0 || len(members) > Most {
		return "", nil, fmt.Errorf("output: %s: %d members, 1 to %d can be shown", filepath.Join(dir, RecordName), len(members), Most)
	}
	return r.Title, members, nil
}

// Pictures draws the comparison in dir for a page, in every format, and its table.
func Pictures(dir string, page chart.Page) (pictures []chart.Picture, table []byte, err error) {
	title, members, err := Open(dir)
	if err != nil {
		return nil, nil, err
	}
	if page.H > 0 && len(members) > MostOnSlide {
		return nil, nil, fmt.Errorf("output: %d cross-sections, a %s has room for %d", len(members), page.Name, MostOnSlide)
	}
	pictures, err = chart.Stored(dir, func() []chart.Figure { return []chart.Figure{Figure(page, title, members)} })
	return pictures, CSV(members), err
}

// Report says on a terminal what came out, one after the other.
func Report(title string, members []Member) string {
	var b strings.Builder
	record.Paragraph(&b, "", title)
	if differs := told(Differences(members)); differs != "" {
		record.Paragraph(&b, "  ", "What differs: "+differs+".")
	}
	for _, m := range members {
		told := m.sayings(members[0].Result, record.InventedMark)
		b.WriteString("\n")
		record.Paragraph(&b, "", m.Title)
		record.Paragraph(&b, "  ", told.headlines[0])
		for _, sentence := range told.rest(mostLines) {
			record.Paragraph(&b, "  ", sentence)
		}
	}
	return b.String()
}
