// Package experiments holds published experiments with stated settings and scores the model
// by them. An experiment counts once, however many rows its paper has. What a paper leaves
// open is a range with a distribution that is drawn from, never a chosen value.
//
// Part "fit" may be used to fit the constants of the model (package fit); part "apart" is
// only ever scored.
package experiments

import (
	"embed"
	"fmt"
	"math"
	"slices"
	"strings"

	"go.yaml.in/yaml/v4"
)

//go:embed published/*.yaml
var published embed.FS

// Part says what an experiment may be used for.
type Part string

// The two parts.
const (
	Fit   Part = "fit"   // constants of the model may be fitted to it
	Apart Part = "apart" // kept apart: scored, never fitted
)

// Line is which injury was measured.
type Line string

// The two injury lines.
const (
	Seen Line = "seen" // coagulated at once: by eye or microscope
	Dead Line = "dead" // dead within hours or days
)

// Experiment is one published experiment.
type Experiment struct {
	ID       string
	Title    string
	Source   string // authors, year, journal
	Read     string // full text, abstract, second-hand, or from memory
	Where    string // address or PMID of what was read; "" if none is recorded
	Part     Part
	Regime   []string // what it compares: contact, cut, loop, needle or pad first, then wet, dry, spark, rinsed
	Setting  Setting
	Remark   string // what the scenario cannot do, and why the model may miss it
	Draws    int    // at most so many draws are computed; 0: as many as asked
	Scenario string // YAML
	Open     []Open
	Rows     []Row
}

// Setting is what the source states. Numbers are one value or a range, none if not stated.
type Setting struct {
	Tissue, Species, State string // State: in vivo, ex vivo, phantom
	Tip                    string
	Contact                string    // wet, dry, not stated
	Environment            string    // air, saline, water, blood
	SizeMM                 []float64 `yaml:"size_mm"` // diameter of the tip or wire
	PowerW                 []float64 `yaml:"power_W"` // set
	EnergyJ                []float64 `yaml:"energy_J"`
	VoltageV               []float64 `yaml:"voltage_V"` // peak
	CurrentA               []float64 `yaml:"current_A"`
	DutyPercent            []float64 `yaml:"duty_percent"`
	TimeS                  []float64 `yaml:"time_s"`
	SpeedMMS               []float64 `yaml:"speed_mm_s"`
}

// Open is an input that the source leaves open.
type Open struct {
	Key       string   // of the scenario
	Low, High float64  // range
	Law       string   // uniform (default) or log-uniform
	Also      []string // keys that get the same value
	Times     bool     // the key's value is multiplied by what is drawn
	Why       string   // where the range comes from
}

// At returns the value at the place u of the distribution, 0 < u < 1.
func (o Open) At(u float64) float64 {
	if o.Law == "log-uniform" {
		return o.Low * math.Pow(o.High/o.Low, u)
	}
	return o.Low + u*(o.High-o.Low)
}

// Row is one published number.
type Row struct {
	ID       string
	Measured string             // what, in words
	Quantity string             // key of Quantities
	Line     Line               // injury only
	Set      map[string]float64 // keys of the scenario in this row
	Over     string             // ID of the row whose value it is divided by
	Mean, SD float64
	Range    []float64 // in place of mean and SD: taken as uniform
	N        int       // 0: not stated
	Assumed  string    // where the spread is not the source's
}

// Load returns all experiments, ordered by ID.
func Load() ([]Experiment, error) {
	entries, err := published.ReadDir("published")
	if err != nil {
		return nil, err
	}
	var all []Experiment
	for _, f := range entries {
		text, err := published.ReadFile("published/" + f.Name())
		if err != nil {
			return nil, err
		}
		e, err := parse(text)
		if err != nil {
			return nil, fmt.Errorf("experiments: %s: %w", f.Name(), err)
		}
		if e.ID+".yaml" != f.Name() {
			return nil, fmt.Errorf("experiments: %s: id is %q", f.Name(), e.ID)
		}
		all = append(all, e)
	}
	return all, nil
}

func parse(text []byte) (Experiment, error) {
	var e Experiment
	d := yaml.NewDecoder(strings.NewReader(string(text)))
	d.KnownFields(true)
	if err := d.Decode(&e); err != nil {
		return e, err
	}
	for i := range e.Rows {
		r := &e.Rows[i]
		if len(r.Range) == 2 {
			r.Mean = (r.Range[0] + r.Range[1]) / 2
			r.SD = (r.Range[1] - r.Range[0]) / math.Sqrt(12)
		}
	}
	return e, e.check()
}

// check returns what is wrong with a record.
func (e *Experiment) check() error {
	switch {
	case e.Part != Fit && e.Part != Apart:
		return fmt.Errorf("part %q: fit or apart", e.Part)
	case e.Source == "" || e.Read == "" || e.Title == "" || e.Remark == "":
		return fmt.Errorf("source, read, title and remark must be there")
	case len(e.Rows) == 0 || len(e.Regime) == 0:
		return fmt.Errorf("no rows or no regime")
	}
	for _, o := range e.Open {
		if o.Low >= o.High || o.Why == "" || (o.Law == "log-uniform" && o.Low <= 0) {
			return fmt.Errorf("open %s: low below high and a why", o.Key)
		}
		if !slices.Contains([]string{"", "uniform", "log-uniform"}, o.Law) {
			return fmt.Errorf("open %s: law %q", o.Key, o.Law)
		}
	}
	var ids []string
	for _, r := range e.Rows {
		q, ok := Quantities[r.Quantity]
		switch {
		case !ok:
			return fmt.Errorf("row %s: no quantity %q", r.ID, r.Quantity)
		case !(r.SD > 0):
			return fmt.Errorf("row %s: no spread", r.ID)
		case q.Injury != (r.Line == Seen || r.Line == Dead):
			return fmt.Errorf("row %s: line %q", r.ID, r.Line)
		case r.ID == "" || slices.Contains(ids, r.ID):
			return fmt.Errorf("row %q: an id of its own", r.ID)
		case r.Over != "" && !slices.Contains(ids, r.Over):
			return fmt.Errorf("row %s: over %q, no row before it", r.ID, r.Over)
		}
		ids = append(ids, r.ID)
	}
	return nil
}
