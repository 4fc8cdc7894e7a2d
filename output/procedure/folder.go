// Package procedure puts the steps of procedures side by side: a table, figures, and the neutral electrode under the
// whole list. It reads what a folder holds: a sweep of the steps, the complete result of each, and of the pads.
package procedure

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"

	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/output/study"
	"muralheat/thermal"
	"muralheat/thermal/drive"
)

// RecordName is the file by which a folder is known to hold procedures.
const RecordName = "procedure.json"

// The tables of a folder.
const (
	TableName  = "procedure.csv"
	TotalsName = "totals.csv"
)

// Record is what it says.
type Record struct {
	Caution    string `json:"caution"`
	Title      string `json:"title"`
	Program    string `json:"program"`
	Procedures []List `json:"procedures"`
	Drawn      string `json:"drawn,omitempty"` // folder of the sweep in which what is uncertain is drawn
}

// List is one procedure.
type List struct {
	File        string `json:"file"`
	Title       string `json:"title"`
	Steps       []Step `json:"steps"`
	Pad         string `json:"neutral_electrode"`          // folder of its run
	PadIdentity string `json:"neutral_electrode_identity"` // of the scenario of that

	PadResult *thermal.Result `json:"-"`
	AnyReach  Share           `json:"-"` // draws in which some step reaches the muscle
}

// Step is one step of it.
type Step struct {
	Number int     `json:"number"` // in the list, from 1
	Title  string  `json:"title"`
	Wall   string  `json:"wall,omitempty"`   // what is different about the wall from it on
	Name   string  `json:"name,omitempty"`   // of its case; none: no current flows
	Case   int     `json:"case"`             // its number in the sweep
	Folder string  `json:"folder,omitempty"` // of its complete result; none: it failed
	Failed string  `json:"failed,omitempty"` // why
	Times  int     `json:"times"`
	PauseS float64 `json:"pause_s"`
	RestS  float64 `json:"rest_s"`

	Result   *thermal.Result  `json:"-"`
	Settings []record.Setting `json:"-"`
	Reach    Share            `json:"-"` // draws in which it reaches the muscle
}

// Share is a share of draws with its exact 95 % interval (Clopper and Pearson), in percent; of none if Draws is 0.
type Share struct {
	Percent, Low, High float64
	Draws              int
}

// Is reports whether dir is the folder of procedures.
func Is(dir string) bool {
	_, err := os.Stat(filepath.Join(dir, RecordName))
	return err == nil
}

// Write writes the record into its folder.
func (r *Record) Write(dir string) error {
	r.Caution = phrase.Caution
	text, err := json.MarshalIndent(r, "", "  ")
	if err != nil {
		return err
	}
	return record.Replace(filepath.Join(dir, RecordName), append(text, '\n'))
}

// Read reads the record of a folder alone.
func Read(dir string) (*Record, error) {
	r := &Record{}
	text, err := os.ReadFile(filepath.Join(dir, RecordName))
	if err != nil {
		return nil, err
	}
	if err := json.Unmarshal(text, r); err != nil {
		return nil, fmt.Errorf("%s: %w", filepath.Join(dir, RecordName), err)
	}
	return r, nil
}

// Open reads the record of a folder with all results that it names.
func Open(dir string) (*Record, error) {
	r, err := Read(dir)
	if err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	for n := range r.Procedures {
		l := &r.Procedures[n]
		if l.Pad != "" {
			if l.PadResult, err = record.Load(filepath.Join(dir, l.Pad)); err != nil {
				return nil, err
			}
		}
		for i := range l.Steps {
			s := &l.Steps[i]
			if s.Folder == "" {
				continue
			}
			path := filepath.Join(dir, s.Folder)
			if s.Result, err = record.Load(path); err != nil {
				return nil, err
			}
			m, err := record.ReadManifest(path)
			if err != nil {
				return nil, fmt.Errorf("output: %w", err)
			}
			s.Settings = m.Settings
		}
	}
	if r.Drawn == "" {
		return r, nil
	}
	return r, r.readDraws(filepath.Join(dir, r.Drawn))
}

// readDraws counts the draws in which the muscle is reached.
func (r *Record) readDraws(dir string) error {
	t, err := study.ReadSweep(dir)
	if err != nil {
		return fmt.Errorf("output: %w", err)
	}
	margin := t.Column[record.MarginColumn]
	at := map[[2]int]float64{} // point and draw
	for row, point := range t.Point {
		at[[2]int{point, t.Draw[row]}] = phrase.At(margin, row)
	}
	for n := range r.Procedures {
		l := &r.Procedures[n]
		any, whole := make([]bool, t.Draws), make([]bool, t.Draws)
		for d := range whole {
			whole[d] = true
		}
		for i := range l.Steps {
			s := &l.Steps[i]
			if s.Name == "" {
				continue
			}
			reach, all := 0, 0
			for d := range t.Draws {
				m, there := at[[2]int{s.Case, d}]
				if !there || m != m {
					whole[d] = false
					continue
				}
				all++
				if m <= 0 {
					reach++
					any[d] = true
				}
			}
			s.Reach = shareOf(reach, all)
		}
		reach, all := 0, 0
		for d := range t.Draws {
			if whole[d] || any[d] {
				all++
			}
			if any[d] {
				reach++
			}
		}
		l.AnyReach = shareOf(reach, all)
	}
	return nil
}

func shareOf(k, n int) Share {
	mid, low, high := study.Share(k, n)
	return Share{100 * mid, 100 * low, 100 * high, n}
}

// Riskiest returns the procedure and the step with the least margin to the muscle, both from 0; -1 if none has one.
func (r *Record) Riskiest() (list, step int) {
	list, step = -1, -1
	least := 0.0
	for n, l := range r.Procedures {
		for i, s := range l.Steps {
			if s.Result == nil {
				continue
			}
			if m := s.Result.Summary.MarginToMuscleM; list < 0 && m == m || m < least {
				list, step, least = n, i, m
			}
		}
	}
	return list, step
}

// Flows returns the activations of a step that is done once: the RMS current over the time it was on, the same in each.
func Flows(r *thermal.Result) []drive.Span {
	c := r.Case
	onS := c.Drive.OnS
	if c.Activations() == 1 {
		onS = phrase.OffS(r)
	}
	spans := make([]drive.Span, c.Activations())
	for n := range spans {
		spans[n] = drive.Span{CurrentA: r.Summary.CurrentRMSA, OnS: onS, RestS: c.Repeat.PauseS}
	}
	return spans
}

// activations is how many times current flows in the step.
func (s *Step) activations() int {
	if s.Result == nil {
		return 0
	}
	return s.Times * s.Result.Case.Activations()
}

// activations is how many times current flows, and how long the whole list takes, s.
func (l *List) activations() (count int, withCurrentS, wholeS float64) {
	for i, s := range l.Steps {
		last := i == len(l.Steps)-1
		if s.Times > 0 && s.Result != nil {
			flows := Flows(s.Result)
			on := flowS(flows)
			count += s.Times * len(flows)
			withCurrentS += float64(s.Times) * on
			wholeS += float64(s.Times)*drive.CourseS(flows) + float64(s.Times-1)*s.PauseS
		}
		if !last {
			wholeS += s.RestS
		}
	}
	return count, withCurrentS, wholeS
}
