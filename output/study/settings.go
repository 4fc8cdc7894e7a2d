package study

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"muralheat/output/record"
)

// Columns that tell in words what came out, beside those that figures show.
const (
	TransmuralColumn = "transmural"
	RingColumn       = "ring_radius_mm"
	EnergyColumn     = "energy_J"
	TerminalColumn   = "terminal_energy_J"
	LeadsColumn      = "energy_leads_J"
	ShareColumn      = shareColumn
	CutColumn        = cutColumn
	DeliveredColumn  = deliveredColumn
)

// Choice is what may be chosen of the cases of a sweep: what differs between its points, or a draw of what is uncertain.
type Choice struct {
	Title  string
	Levels []string // numbers in ascending order with their unit, or words in the order of the plan
	Words  bool
	Of     []int // level of each row
}

// Choices returns what must be chosen to have one row: each input that varies; of points that neither form a grid
// nor vary one at a time, the point. Where keys are uncertain, the draw too.
func (t *SweepTable) Choices() []Choice {
	var out []Choice
	s := t.Shape()
	if s.Design == scattered || t.name != nil {
		f := wordFactor("case", "", len(t.Point), t.toldApart(s.Factors))
		out = append(out, Choice{f.title, f.names, true, f.of})
	} else {
		for _, f := range s.Factors {
			if len(f.names) > 1 {
				out = append(out, Choice{f.title, f.names, f.words, t.orBase(f.of)})
			}
		}
	}
	if t.Draws > 1 {
		f := wordFactor("", "", len(t.Case), func(row int) (string, bool) { return fmt.Sprintf("draw %d", 1+t.Draw[row]), true })
		out = append(out, Choice{"what is uncertain", f.names, false, f.of})
	}
	return out
}

// KeptPath returns the folder in which the sweep in dir keeps the complete result of a row, "" if it does not.
func (t *SweepTable) KeptPath(dir string, row int) string {
	name := KeptName(t.Case[row], t.Cases)
	if t.name != nil && t.Draws <= 1 {
		name = t.name[row]
	}
	path := filepath.Join(dir, KeptFolder, name)
	if _, err := os.Stat(filepath.Join(path, record.RecordName)); err != nil {
		return ""
	}
	return path
}

// toldApart names the point of a row; one whose name another has too, with its number.
func (t *SweepTable) toldApart(factors []*factor) func(row int) (string, bool) {
	points := map[string]int{} // the first with a name
	return func(row int) (string, bool) {
		name := differing(row, factors) // of named cases the title
		if p, ok := points[name]; ok && p != t.Point[row] {
			return fmt.Sprintf("%s (case %d)", name, t.Point[row]), true
		}
		points[name] = t.Point[row]
		return name, true
	}
}

// orBase returns levels, where there is none that of the base: one at a time, rows that leave it by another input.
func (t *SweepTable) orBase(of []int) []int {
	levels := slices.Clone(of)
	base := slices.Index(t.Point, 0)
	for row, l := range levels {
		if l < 0 && base >= 0 {
			levels[row] = of[base]
		}
	}
	return levels
}
