package plan

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"reflect"
	"slices"

	"muralheat/scenarios"
	"muralheat/scenarios/keys"
	"muralheat/scenarios/stated"
)

// Sweep is a plan that has been read and checked: many cases of one scenario. Case i is
// draw i mod Draws of point i / Draws of the design.
type Sweep struct {
	Name  string // of the plan's file
	Title string

	Question, ContextOfUse string         // "" if the plan says nothing
	Decision               *keys.Decision // nil if it states none
	FiguresFor             string         // the page of its figures, "" for a document

	Base   *scenarios.Scenario
	Inputs []Input // what varies, then what is uncertain
	Draws  int
	Seed   uint64
	Limit  *LimitSearch // nil: none is sought

	Design string // how the points are made: a design of a plan, "cases" if they are named, "none" if nothing varies

	design design
	axes   []axis      // of the design
	cases  []namedSets // in place of a design
	varied int         // how many inputs are
	laws   []law
	text   []byte
}

// Input is a key that differs between cases.
type Input struct {
	Key       string
	Title     string // of the plan, or the key
	Unit      string
	Number    bool // else a word or switch
	Uncertain bool
	Levels    int // values that the design gives it; 0: any of a range, or it does not say
}

// namedSets is a named case.
type namedSets struct {
	name  string
	title string              // "": its name
	own   *scenarios.Scenario // in place of Sweep.Base; nil: it has none
	sets  []scenarios.Set
}

// Points returns the number of points of the design.
func (s *Sweep) Points() int {
	switch {
	case s.cases != nil:
		return len(s.cases)
	case s.design == nil:
		return 1
	}
	return s.design.len()
}

// Len returns the number of cases.
func (s *Sweep) Len() int { return s.Points() * s.Draws }

// CaseName returns the name of case i, "" if its plan names none.
func (s *Sweep) CaseName(i int) string {
	if s.cases == nil {
		return ""
	}
	return s.cases[i/s.Draws].name
}

// CaseTitle returns what figures call case i: its title, or its name; "" if its plan names none.
func (s *Sweep) CaseTitle(i int) string {
	if s.cases != nil && s.cases[i/s.Draws].title != "" {
		return s.cases[i/s.Draws].title
	}
	return s.CaseName(i)
}

// Titles returns what figures call the points of the plan, nil if that is their names.
func (s *Sweep) Titles() []string {
	if !slices.ContainsFunc(s.cases, func(c namedSets) bool { return c.title != "" }) {
		return nil
	}
	var titles []string
	for p := range s.cases {
		titles = append(titles, s.CaseTitle(p*s.Draws))
	}
	return titles
}

// Named reports whether the cases have names.
func (s *Sweep) Named() bool { return s.cases != nil }

// Uncertain reports whether keys are drawn.
func (s *Sweep) Uncertain() bool { return len(s.laws) > 0 }

// Sets returns what case i sets.
func (s *Sweep) Sets(i int) []scenarios.Set {
	p, d := i/s.Draws, i%s.Draws
	var sets []scenarios.Set
	if s.cases != nil {
		sets = append(sets, s.cases[p].sets...)
	} else {
		for a := range s.varied {
			if v, ok := s.design.at(p, a); ok {
				sets = append(sets, scenarios.Set{Key: s.Inputs[a].Key, Value: v, Beside: s.Name})
			}
		}
	}
	own := s.own(i)
	for j := range s.laws {
		if key := s.Inputs[s.varied+j].Key; own == nil || own.Has(key) { // what a case does not have cannot be drawn for it
			sets = append(sets, scenarios.Set{Key: key, Value: scenarios.Number(s.laws[j].at(placeOf(s.Seed, d, j)))})
		}
	}
	return sets
}

// own returns the scenario that case i has in place of Base, nil if it has none.
func (s *Sweep) own(i int) *scenarios.Scenario {
	if s.cases == nil {
		return nil
	}
	return s.cases[i/s.Draws].own
}

// alone returns how many points have to be tried with extreme draws: each whose scenario is its own, else the first.
func (s *Sweep) alone() int {
	if s.own(0) != nil {
		return len(s.cases)
	}
	return 1
}

// BaseOf returns the scenario that case i sets values in.
func (s *Sweep) BaseOf(i int) *scenarios.Scenario { return cmp.Or(s.own(i), s.Base) }

// Scenario returns the scenario of case i. Values that do not go together return
// Problems.
func (s *Sweep) Scenario(i int) (*scenarios.Scenario, error) { return s.BaseOf(i).With(s.Sets(i)...) }

// Values returns the inputs of a case as they stand in a table: those it sets, else those
// of its scenario; "" where it has none.
func (s *Sweep) Values(i int, of *scenarios.Scenario) []string {
	known := map[string]string{}
	if of != nil { // only read: looking a key up in the file would make the mappings above it
		keys.Walk(reflect.ValueOf(of.File), "", func(path string, v reflect.Value) { known[path] = scenarios.Printed(v) })
	}
	for _, x := range s.Sets(i) {
		known[x.Key] = x.Value.String()
	}
	values := make([]string, len(s.Inputs))
	for n, in := range s.Inputs {
		values[n] = known[in.Key]
	}
	return values
}

// Stated returns what is stated beforehand: by the plan, else by its scenario.
func (s *Sweep) Stated() stated.Statement {
	of := s.Base.File
	question, use := cmp.Or(s.Question, keys.Word(of.Question)), cmp.Or(s.ContextOfUse, keys.Word(of.ContextUse))
	return stated.Of(question, use, cmp.Or(s.Decision, of.Decision))
}

// Text returns the plan as it was read.
func (s *Sweep) Text() []byte { return slices.Clone(s.text) }

// Digest tells plans apart: it is equal for plans that mean the same cases of the same
// scenario in the same order. Titles do not count.
func (s *Sweep) Digest() string {
	h := sha256.New()
	fmt.Fprintf(h, "%s\n", s.Base.Identity())
	for _, x := range s.Base.Settings() {
		if x.Given && !scenarios.Describes(x.Key) { // what is set replaces what is given, not what follows from it
			fmt.Fprintf(h, "%s\n", x.Key)
		}
	}
	if sheets := s.Base.Sheets(); len(s.sheetNames()) > 0 {
		for _, name := range slices.Sorted(maps.Keys(sheets)) {
			fmt.Fprintf(h, "%s %q\n", name, sheets[name])
		}
	}
	fmt.Fprintf(h, "%d points, %d draws, seed %d\n", s.Points(), s.Draws, s.Seed)
	for _, in := range s.Inputs {
		fmt.Fprintf(h, "%s %v\n", in.Key, in.Uncertain)
	}
	fmt.Fprintf(h, "%T\n", s.design)
	for _, x := range s.axes {
		if x.list != nil {
			fmt.Fprintf(h, "%q\n", x.list)
		} else {
			fmt.Fprintf(h, "%v %v %v\n", x.from, x.to, x.log)
		}
	}
	for _, c := range s.cases {
		fmt.Fprintf(h, "%s %q\n", c.name, c.sets)
		if c.own != nil {
			fmt.Fprintf(h, "%s\n", c.own.Identity())
		}
	}
	for _, l := range s.laws {
		fmt.Fprintf(h, "%v %v %v\n", l.at(0.1), l.at(0.5), l.at(0.9))
	}
	return hex.EncodeToString(h.Sum(nil)[:16])
}

// LimitSearch is what muralheat limit looks for.
type LimitSearch struct {
	Key         string
	Unit        string
	From, To    float64
	Largest     bool // the largest safe value, else the smallest
	Column      string
	Above       bool    // safe is above Value, else below
	Value       float64 // of the column
	Probability float64 // that a result is not safe, which must not be passed, 0..1; with uncertain keys
	Confidence  float64 // with which the draws must show that, 0..1
	Allowed     int     // how many of the draws may therefore be unsafe
	Chosen      bool    // the number of draws is the least that can show it
	Tolerance   float64 // share of the range tried
	Scan        int     // values tried first

	in []bool // case by case: whether it takes the value; nil: there is a limit at each point
}

// Searches returns how many limits are sought: one at each point, or one of all cases together.
func (s *Sweep) Searches() int {
	if s.Limit.in != nil {
		return 1
	}
	return s.Points()
}

// Together reports whether the limit sought is that of all cases together.
func (l *LimitSearch) Together() bool { return l.in != nil }

// Takes reports whether scenario n of those that Tried returns has the value.
func (l *LimitSearch) Takes(n int) bool { return l.in == nil || l.in[n] }

// Tried returns the scenarios of draw d in search n that must be safe with value x of the key whose limit is sought.
func (s *Sweep) Tried(n, d int, x float64) ([]*scenarios.Scenario, error) {
	value := scenarios.Set{Key: s.Limit.Key, Value: scenarios.Number(x)}
	if s.Limit.in == nil {
		i := n*s.Draws + d
		one, err := s.BaseOf(i).With(append(s.Sets(i), value)...)
		return []*scenarios.Scenario{one}, err
	}
	var all []*scenarios.Scenario
	for p := range s.cases {
		i := p*s.Draws + d
		sets := s.Sets(i)
		if s.Limit.in[p] {
			sets = append(sets, value)
		}
		one, err := s.BaseOf(i).With(sets...)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", s.CaseName(i), err)
		}
		all = append(all, one)
	}
	return all, nil
}
