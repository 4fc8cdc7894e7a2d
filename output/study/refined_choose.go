package study

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/scenarios"
	"muralheat/scenarios/plan"
	"muralheat/thermal/tissue"
)

// How many cases sweep --refine computes on finer meshes unless told: on each side of the decision, and
// spread over the design; assumption. testdata/reference/numerical has what they hold.
const (
	UsualNear   = 3
	UsualSpread = 6
	MostRefined = 200
)

// leastOfRegime is how many cases of each regime are among those spread over the design: of one alone nobody
// knows how far the next is from it.
const leastOfRegime = 2

// Refined is refined.json: which cases of a sweep were computed on other meshes and with other damage
// kinetics, and under which names they stand in the folder refined.
type Refined struct {
	Of     string        `json:"results_sha256"` // of the table that the cases were chosen from
	Near   int           `json:"near"`           // asked for on each side of the decision
	Spread int           `json:"spread"`         // and over the design
	Cases  []RefinedCase `json:"cases"`
	Fixed  string        `json:"kinetics_not_varied,omitempty"` // why there are no other damage kinetics
}

// RefinedCase is one of them.
type RefinedCase struct {
	Case     int               `json:"case"`
	Why      string            `json:"why"`
	Regime   regime            `json:"regime"`
	SizeUM   [3]float64        `json:"finest_um"`          // finest mesh first
	Own      int               `json:"own"`                // which is that of the sweep
	Meshes   [3]string         `json:"meshes"`             // names of cases; "" for its own
	Kinetics map[string]string `json:"kinetics,omitempty"` // names of cases; "" for a column of the sweep
}

// refinedRow is a case that is chosen.
type refinedRow struct {
	row int
	why string
}

// decision returns how far a row is from what is decided, above 0 on the safe side; NaN where nothing is.
func (t *SweepTable) decision(row int) float64 {
	if t.Outcome().Column == record.RiseColumn {
		return phrase.RiseLimitK - t.cell(record.RiseColumn, row)
	}
	return t.cell(record.MarginColumn, row)
}

// choose returns the cases to compute on other meshes: those nearest to the decision, near on each side, and
// spread over the design, each next one the farthest from those before it; some of each regime among them.
func (t *SweepTable) choose(near, spread int) []refinedRow {
	var out []refinedRow
	taken := map[int]bool{}
	take := func(row int, why string) { out, taken[row] = append(out, refinedRow{row, why}), true }
	for _, side := range []struct {
		why string
		of  func(float64) bool
	}{{"nearest to the decision, on the safe side", func(v float64) bool { return v > 0 }}, {"nearest to the decision, beyond it", func(v float64) bool { return v <= 0 }}} {
		rows := slices.DeleteFunc(t.rows(), func(r int) bool { return !side.of(t.decision(r)) })
		slices.SortStableFunc(rows, func(a, b int) int { return cmp.Compare(math.Abs(t.decision(a)), math.Abs(t.decision(b))) })
		for _, r := range rows[:min(near, len(rows))] {
			take(r, side.why)
		}
	}
	at := t.coordinates()
	far := newFarthest(at, out)
	counted := func(g regime) (n int) {
		for r := range taken {
			if t.regime(r) == g {
				n++
			}
		}
		return n
	}
	left := spread
	for _, g := range regimes {
		for left > 0 && counted(g) < leastOfRegime {
			r := far.next(func(r int) bool { return !taken[r] && t.regime(r) == g })
			if r < 0 {
				break
			}
			take(r, "spread over the design, "+string(g))
			left--
		}
	}
	for ; left > 0; left-- {
		r := far.next(func(r int) bool { return !taken[r] })
		if r < 0 {
			break
		}
		take(r, "spread over the design")
	}
	return out
}

// coordinates places each row in the design: an input runs from 0 to 1 by the order of its values.
func (t *SweepTable) coordinates() [][]float64 {
	at := make([][]float64, len(t.Point))
	for n, in := range t.Inputs {
		f := newFactor(in.Title, in.Unit, t.InputCells[n].worded(), func(int) bool { return true })
		if len(f.names) < 2 {
			continue
		}
		for r := range at {
			at[r] = append(at[r], float64(max(f.of[r], 0))/float64(len(f.names)-1))
		}
	}
	return at
}

// worded is a column that is given words where it is of an uncertain input, which has none.
func (c inputCells) worded() inputCells {
	if c.word == nil {
		c.word = make([]string, len(c.Number))
	}
	return c
}

// farthest finds the row that lies farthest from those chosen so far.
type farthest struct {
	at   [][]float64
	from []float64 // squared distance to the nearest chosen row
}

func newFarthest(at [][]float64, chosen []refinedRow) *farthest {
	f := &farthest{at: at, from: make([]float64, len(at))}
	for r := range f.from {
		f.from[r] = math.Inf(1)
	}
	for _, c := range chosen {
		f.add(c.row)
	}
	return f
}

func (f *farthest) add(row int) {
	for r := range f.at {
		d := 0.0
		for k, v := range f.at[r] {
			d += (v - f.at[row][k]) * (v - f.at[row][k])
		}
		f.from[r] = min(f.from[r], d)
	}
}

// next takes the farthest row that may be chosen, the first of several; -1 if none may.
func (f *farthest) next(may func(row int) bool) int {
	best := -1
	for r := range f.at {
		if may(r) && (best < 0 || f.from[r] > f.from[best]) {
			best = r
		}
	}
	if best >= 0 {
		f.add(best)
	}
	return best
}

var meshNames = [3]string{"finest", "middle", "coarsest"}

// RefinedPlan chooses cases of the complete sweep s, whose table is t, and returns the plan that computes them on
// their other meshes and with the other damage kinetics that mark the same injury.
func RefinedPlan(s *plan.Sweep, t *SweepTable, near, spread int) (*Refined, *plan.Sweep, error) {
	out := &Refined{Of: t.SHA256, Near: near, Spread: spread, Cases: []RefinedCase{}}
	switch {
	case t.Outcome().Column != record.DepthColumn:
		out.Fixed = "they do not move what the cases are judged by"
	case slices.ContainsFunc(s.Inputs, func(in plan.Input) bool { return in.Key == "damage.kinetics" || in.Key == "damage.A_per_s" }):
		out.Fixed = "they are among what varies"
	case s.Base.File.Damage.Kinetics == nil:
		out.Fixed = "the scenario gives constants of its own"
	}
	var named []plan.Named
	for _, c := range t.choose(near, spread) {
		i := t.Case[c.row]
		scenario, err := s.Scenario(i)
		if err != nil {
			return nil, nil, fmt.Errorf("output: case %d: %w", i, err)
		}
		m, r := scenario.Meshes(), RefinedCase{Case: i, Why: c.why, Regime: t.regime(c.row)}
		r.Own = m.Own
		add := func(name, title string, sets []scenarios.Set) string {
			name = fmt.Sprintf("case-%d-%s", i, name)
			named = append(named, plan.Named{Name: name, Title: fmt.Sprintf("case %d, %s", i, title), Sets: slices.Concat(s.Sets(i), sets)})
			return name
		}
		for k, size := range m.SizeM {
			r.SizeUM[k] = math.Round(1e9*size) / 1e3
			if k != m.Own {
				r.Meshes[k] = add(meshNames[k], fmt.Sprintf("cells of %s um", phrase.Short(r.SizeUM[k])), m.Sets[k])
			}
		}
		if out.Fixed == "" {
			r.Kinetics = map[string]string{}
			own := *scenario.File.Damage.Kinetics
			for _, k := range tissue.KineticsAlike(own) {
				switch {
				case k == own:
				case slices.Contains(scenario.File.Damage.Also, k):
					r.Kinetics[k] = "" // the table has it
				default:
					r.Kinetics[k] = add(k, k, []scenarios.Set{{Key: "damage.kinetics", Value: scenarios.Word(k)}})
				}
			}
		}
		out.Cases = append(out.Cases, r)
	}
	if len(named) == 0 {
		return nil, nil, fmt.Errorf("output: %w: no case to refine", ErrNothing)
	}
	title := []rune("Refined: " + s.Title)
	p, err := s.OfCases("refined.yaml", string(title[:min(len(title), 120)]), named)
	return out, p, err
}
