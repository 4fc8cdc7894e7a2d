package experiments

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// Verdict says where a case lies among what was compared.
type Verdict string

// The verdicts, best first.
const (
	Inside  Verdict = "inside"
	Near    Verdict = "near"
	Outside Verdict = "outside"
)

// NearFactor is how far beyond the values compared is still near them. Assumption.
const NearFactor = 1.5

// families are tissues and tips that are near each other. Assumption.
var families = [][]string{
	{"oesophagus", "stomach", "duodenum", "small-intestine", "colon"},
	{"muscle", "heart muscle", "tongue"},
	{"mucous-membrane", "oral mucosa"},
	{"disc", "ball"},
}

// Axis is one axis of a Place: the case beside what was compared.
type Axis struct {
	Name, Unit     string
	Case, Compared string // values as text
	Verdict        Verdict
}

const tissueAxis = "tissue"

// Beside sets a case beside experiments, axis by axis; nil without any.
func (p Place) Beside(compared []Place) []Axis {
	if len(compared) == 0 {
		return nil
	}
	all := Place{}
	for _, q := range compared {
		all = all.And(q)
	}
	numbers := func(name, unit string, of func(Place) Range) Axis {
		a, b := of(p), of(all)
		return Axis{name, unit, a.String(), b.String(), a.beside(b)}
	}
	energy, time := "energy delivered", "time of current"
	if p.moves() {
		energy, time = "energy per path length", "time to pass its own diameter"
	}
	return []Axis{
		{tissueAxis, "", p.Tissue, all.Tissue, words(p.Tissue, all.Tissue)},
		{"tip", "", p.Tip, all.Tip, words(p.Tip, all.Tip)},
		numbers("diameter of contact or wire", "mm", func(p Place) Range { return p.Size }),
		numbers(energy, p.EnergyUnit(), func(p Place) Range { return p.Energy }),
		numbers("highest peak voltage", "V", func(p Place) Range { return p.Peak }),
		numbers("duty cycle", "%", func(p Place) Range { return p.Duty }),
		numbers(time, "s", func(p Place) Range { return p.Time }),
		{"wet or dry contact", "", p.state(), all.state(), p.states(all)},
	}
}

// String writes a range to three digits.
func (a Range) String() string {
	switch low, high := short(a.Low, 3), short(a.High, 3); {
	case math.IsNaN(a.Low):
		return "none"
	case low != high:
		return low + " to " + high
	default:
		return low
	}
}

// beside is the verdict on a range of cases; no value is outside of none.
func (a Range) beside(b Range) Verdict {
	const rounding = 1e-3 // places are stored to four digits
	within := func(factor float64) bool { return a.Low*factor >= b.Low && a.High <= b.High*factor }
	switch {
	case math.IsNaN(a.Low) && math.IsNaN(b.Low), within(1 + rounding):
		return Inside
	case within(NearFactor):
		return Near
	}
	return Outside
}

// words is the verdict on a word or several, joined by " or ".
func words(ours, compared string) Verdict {
	verdict, list := Inside, strings.Split(compared, " or ")
	for _, w := range strings.Split(ours, " or ") {
		kin := func(f []string) bool {
			return slices.Contains(f, w) && slices.ContainsFunc(list, func(x string) bool { return slices.Contains(f, x) })
		}
		switch {
		case slices.Contains(list, w):
		case slices.ContainsFunc(families, kin):
			verdict = max(verdict, Near) // inside, near, outside in the order of the alphabet
		default:
			return Outside
		}
	}
	return verdict
}

var stateNames = []string{"wet", "dried", "sparks"}

func (p Place) stateShares() []float64 { return []float64{p.Wet, p.Dried, p.Sparks} }

// state says what contacts did.
func (p Place) state() string {
	var all []string
	for i, share := range p.stateShares() {
		if share > 0 {
			all = append(all, stateNames[i])
		}
	}
	return strings.Join(all, " or ")
}

func (p Place) states(compared Place) Verdict {
	for i, share := range p.stateShares() {
		if share > 0 && compared.stateShares()[i] == 0 {
			return Outside
		}
	}
	return Inside
}

// Count counts the axes of a verdict.
func Count(axes []Axis, v Verdict) int {
	n := 0
	for _, a := range axes {
		if a.Verdict == v {
			n++
		}
	}
	return n
}

// Regime returns the experiments of the kind of a case, nearest first: those with most axes inside, then near; and all
// others, in their order.
func (p Place) Regime(all []Result) (own, others []Result) {
	rank := map[string]int{}
	for _, r := range all {
		if r.Place.Kind != p.Kind {
			others = append(others, r)
			continue
		}
		axes := p.Beside([]Place{r.Place})
		rank[r.ID] = 100*Count(axes, Inside) + Count(axes, Near)
		own = append(own, r)
	}
	slices.SortStableFunc(own, func(a, b Result) int { return rank[b.ID] - rank[a.ID] })
	return own, others
}

// Outside reports whether a case is outside of what was compared, on any axis that is known: no tissue is none.
func (p Place) Outside() bool {
	stand, err := storedPlaces()
	if err != nil {
		return false
	}
	compared := p.ofKind(stand)
	return len(compared) == 0 || slices.ContainsFunc(p.Beside(compared), func(a Axis) bool {
		return a.Verdict == Outside && !(a.Name == tissueAxis && p.Tissue == "")
	})
}

// ofKind returns the places of its kind, by tissue.
func (p Place) ofKind(all map[string]Place) (out []Place) {
	for _, q := range all {
		if q.Kind == p.Kind {
			out = append(out, q)
		}
	}
	slices.SortFunc(out, func(a, b Place) int { return strings.Compare(a.Tissue, b.Tissue) })
	return out
}

// Mark says in one sentence on which axes a case is outside of what was compared, "" if on none.
func (p Place) Mark() string {
	stand, err := storedPlaces()
	if err != nil {
		return "" // a test holds places.csv to the experiments
	}
	compared := p.ofKind(stand)
	if len(compared) == 0 {
		return fmt.Sprintf("Outside the range compared: no published experiment is of this kind (%s).", p.Kind)
	}
	var out []string
	for _, a := range p.Beside(compared) {
		if a.Verdict == Outside {
			out = append(out, strings.TrimSpace(fmt.Sprintf("%s %s %s", a.Name, a.Case, a.Unit))+fmt.Sprintf(" (compared: %s)", a.Compared))
		}
	}
	if out == nil {
		return ""
	}
	return fmt.Sprintf("Outside the range compared with %d published experiments (%s): %s.", len(compared), p.Kind, strings.Join(out, "; "))
}
