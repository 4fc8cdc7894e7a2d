package record

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"time"

	"muralheat/output/chart/letters"
	"muralheat/output/phrase"
	"muralheat/thermal"
)

// Run is what the command knows of a run besides its result.
type Run struct {
	Build        *debug.BuildInfo // nil if unknown
	Binary       string           // SHA-256 of the program's file; "" if it cannot be read
	Command      []string
	ScenarioName string   // of the file
	Scenario     []byte   // as read
	Resolved     []byte   // the same with every default filled in, itself a scenario
	Set          []string // key=value, in place of what the scenario says
	Settings     []Setting
	Notes        []string // remarks on the scenario
	Start, End   time.Time
	Failure      string      // why the run stopped early, if it did
	Refinement   *Refinement // nil: one mesh only
}

// Setting is one resolved value of the scenario and where it came from.
type Setting struct {
	Key    string `json:"key"`
	Value  string `json:"value"`
	Unit   string `json:"unit,omitempty"`
	Given  bool   `json:"given"`
	Source string `json:"source,omitempty"` // of a default: its source or assumption; of a value given elsewhere than in the file: where
}

// ManifestName is the file that records a run.
const ManifestName = "manifest.json"

// Manifest is the record of a run. Times and host stand only here, so that every
// other file of two equal runs is equal.
type Manifest struct {
	Caution  string        `json:"caution"`
	Program  Program       `json:"program"`
	Command  []string      `json:"command"`
	Host     string        `json:"host"`
	CPUs     int           `json:"cpus"`
	Start    time.Time     `json:"start_utc"`
	End      time.Time     `json:"end_utc"`
	Failure  string        `json:"failure,omitempty"`
	Scenario scenario      `json:"scenario"`
	Numerics numerics      `json:"numerics"`
	Refined  string        `json:"numerical_uncertainty,omitempty"`
	Checks   []QuotedCheck `json:"self_checks"`
	Summary  []Quoted      `json:"summary"`
	Notes    []string      `json:"notes"`
	Settings []Setting     `json:"settings"`
	Outputs  []Written     `json:"outputs"`
}

// ReadManifest reads the record of the run in dir.
func ReadManifest(dir string) (m Manifest, err error) {
	name := filepath.Join(dir, ManifestName)
	data, err := os.ReadFile(name)
	if err != nil {
		return m, fmt.Errorf("output: %w", err)
	}
	if err := json.Unmarshal(data, &m); err != nil {
		return m, fmt.Errorf("output: %s: %w", name, err)
	}
	return m, nil
}

// Known is yes, no or unknown.
type Known string

// UnmarshalJSON reads true and false too, as records before had them.
func (k *Known) UnmarshalJSON(b []byte) error {
	*k = map[string]Known{"true": "yes", "false": "no", `"yes"`: "yes", `"no"`: "no"}[string(b)]
	if *k == "" {
		*k = "unknown"
	}
	return nil
}

// Program tells which program computed.
type Program struct {
	Name     string   `json:"name"`
	Version  string   `json:"version"`
	Commit   string   `json:"commit,omitempty"`
	Modified Known    `json:"modified"`
	Binary   string   `json:"binary_sha256,omitempty"` // of the program's file
	Go       string   `json:"go"`
	OS       string   `json:"os"`
	Arch     string   `json:"arch"`
	Level    string   `json:"cpu_level,omitempty"` // of the processor it was built for: v3 of amd64 fuses products and sums
	Modules  []string `json:"modules"`
}

type scenario struct {
	File     string   `json:"file"`
	SHA256   string   `json:"sha256"`
	Text     string   `json:"text"`
	Set      []string `json:"set,omitempty"` // key=value, in place of what text says
	Resolved string   `json:"resolved"`
}

type numerics struct {
	Quality          string `json:"quality"`
	Geometry         string `json:"geometry"`
	FinestUM         real   `json:"finest_um"`
	GrowthPercent    real   `json:"growth_percent"`
	Tolerance        real   `json:"tolerance"`
	ResistivityShare real   `json:"resistivity_change_that_asks_for_a_solve"`
	MaxStepS         real   `json:"max_step_s"`
	Cells            int    `json:"cells"`
	Steps            int    `json:"steps"`
	Solves           int    `json:"field_solves"`
}

// QuotedCheck is a self-check as the manifest quotes it.
type QuotedCheck struct {
	Name  string `json:"name"`
	Value real   `json:"value"`
	Limit real   `json:"limit"`
	OK    bool   `json:"ok"`
}

// Quoted is a column of the summary as the manifest quotes it.
type Quoted struct {
	Name  string `json:"name"`
	Value any    `json:"value"`
	Unit  string `json:"unit,omitempty"`
	Text  string `json:"text"`
}

// Written is a file of the run with its checksum.
type Written struct {
	File   string `json:"file"`
	SHA256 string `json:"sha256"`
}

// real is a number that JSON can hold: null where there is none.
type real float64

// MarshalJSON returns the number, or null where there is none.
func (r real) MarshalJSON() ([]byte, error) {
	if v := float64(r); !math.IsNaN(v) && !math.IsInf(v, 0) {
		return json.Marshal(v)
	}
	return []byte("null"), nil
}

// UnmarshalJSON reads null as not a number.
func (r *real) UnmarshalJSON(b []byte) error {
	v := math.NaN()
	if string(b) != "null" {
		if err := json.Unmarshal(b, &v); err != nil {
			return err
		}
	}
	*r = real(v)
	return nil
}

func newManifest(run *Run, r *thermal.Result, files []File) Manifest {
	host, _ := os.Hostname() // a record without the host's name is still a record
	n, s := r.Case.Numerics, r.Summary
	m := Manifest{
		Caution: phrase.Caution, Program: Describe(run.Build, run.Binary), Command: run.Command, Host: host, CPUs: runtime.NumCPU(),
		Start: run.Start.UTC(), End: run.End.UTC(), Failure: run.Failure,
		Scenario: scenario{run.ScenarioName, Digest(run.Scenario), string(run.Scenario), run.Set, string(run.Resolved)},
		Numerics: numerics{n.Quality, r.Mesh.Geometry.String(), real(1e6 * n.FinestM), real(100 * n.Growth), real(n.Tolerance), real(n.Resolve), real(n.MaxStepS), s.Cells, s.Steps, s.Solves},
		Notes:    append([]string{}, Remarks(run, r)...),
		Settings: run.Settings,
	}
	if run.Refinement != nil {
		m.Refined = run.Refinement.Statement(r.Case)
	}
	m.Checks, m.Summary = quotes(r)
	m.Outputs = list(files)
	return m
}

// quotes is what a record quotes of a result: its self-checks and the columns of its summary.
func quotes(r *thermal.Result) (checks []QuotedCheck, summary []Quoted) {
	for _, c := range Checks(r) {
		checks = append(checks, QuotedCheck{c.Name, real(c.Value), real(c.Limit), c.OK})
	}
	for _, c := range SummaryColumns(r.Case) {
		q := Quoted{Name: c.Name, Unit: c.Unit, Text: c.Text}
		if c.Word != nil {
			q.Value = c.Word(r)
		} else {
			q.Value = real(c.Number(r))
		}
		summary = append(summary, q)
	}
	return checks, summary
}

// Agrees reports whether a record quotes a result as it is stored.
func (m Manifest) Agrees(r *thermal.Result) bool {
	checks, summary := quotes(r)
	ours, err := json.Marshal([]any{checks, summary})
	if err != nil {
		return false
	}
	theirs, err := json.Marshal([]any{m.Checks, m.Summary})
	return err == nil && bytes.Equal(ours, theirs)
}

// Source says which source a program was built from: its commit, and whether it was changed.
func (p Program) Source() string {
	switch {
	case p.Commit == "":
		return "unknown, built without version control"
	case p.Modified == "yes":
		return "commit " + p.Commit + " with changes"
	case p.Modified == "no":
		return "commit " + p.Commit + ", unchanged"
	}
	return "commit " + p.Commit + ", changed or not: unknown"
}

// Describe tells which program computed; binary is the checksum of its file.
func Describe(b *debug.BuildInfo, binary string) Program {
	p := Program{Name: "muralheat", Version: Version, Modified: "unknown", Binary: binary, Go: runtime.Version(), OS: runtime.GOOS, Arch: runtime.GOARCH, Modules: []string{}}
	if b == nil {
		return p
	}
	for _, s := range b.Settings {
		switch s.Key {
		case "vcs.revision":
			p.Commit = s.Value
		case "vcs.modified":
			p.Modified = map[bool]Known{true: "yes", false: "no"}[s.Value == "true"]
		case "GOAMD64", "GOARM64":
			p.Level = s.Value
		}
	}
	for _, d := range b.Deps {
		p.Modules = append(p.Modules, d.Path+" "+d.Version)
	}
	return p
}

func list(files []File) []Written {
	out := []Written{}
	for _, f := range files {
		out = append(out, Written{f.Name, Digest(f.Data)})
	}
	return out
}

// Digest returns the SHA-256 checksum in hexadecimal.
func Digest(b []byte) string {
	s := sha256.Sum256(b)
	return hex.EncodeToString(s[:])
}

func encodeJSON(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return b.Bytes(), err
}

// Remarks lists what a reader should know of a run: of its scenario, its course, its figures, and on which axes it is
// outside of what was compared with experiments.
func Remarks(run *Run, r *thermal.Result) []string {
	all := slices.Concat(run.Notes, r.Notes)
	if lack := letters.Missing(r.Case.Title); lack != "" {
		all = append(all, fmt.Sprintf("The title has letters that are not drawn here, %q: there is no PDF and no PNG, only SVG, which shows them in the reader's fonts.", lack))
	}
	if len(run.Settings) > 0 {
		if mark := PlaceOf(r, run.Settings).Mark(); mark != "" {
			all = append(all, mark)
		}
	}
	return all
}
