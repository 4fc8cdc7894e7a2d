package study

import (
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"

	"muralheat/output/chart"
	"muralheat/output/phrase"
)

// factor is an input that varies from point to point, with its levels (the terms of the
// design of experiments): numbers in ascending order, or words in the order of the plan.
type factor struct {
	title, unit string
	names       []string  // of the levels, with the unit
	at          []float64 // where the levels stand on an axis
	log, words  bool
	of          []int // level of each row, -1 for none
	input       int   // which it is of the sweep's inputs; -1: none, its levels are names
}

// label is what an axis of length w says, in lines.
func (f *factor) label(s text.Style, w vg.Length) []string {
	about := f.unit
	if f.log {
		about = strings.TrimPrefix(about+", log scale", ", ")
	}
	if about == "" {
		return chart.Wrapped(s, w, f.title)
	}
	return chart.Wrapped(s, w, f.title+" ("+about+")")
}

// Factors returns what differs between the points: the cases if they have names, else
// the inputs that vary; if nothing does, all cases are one level.
func (t *SweepTable) Factors() []*factor {
	if t.name != nil {
		return []*factor{wordFactor("", "", len(t.name), func(r int) (string, bool) { return t.caseTitle(r), true })}
	}
	var out []*factor
	for n, in := range t.Inputs {
		if in.Uncertain {
			continue
		}
		// One at a time, an input may follow another, as a layer follows its site: its own values
		// are those that it was given.
		own := func(r int) bool { return designs[t.DesignName] != OneAtATime || t.leaves(r, n) }
		if s := newFactor(in.heading(), phrase.UnitText(in.Unit), t.InputCells[n], own); len(s.names) > 1 {
			s.input = n
			out = append(out, s)
		}
	}
	if out == nil {
		all := t.allAlike()
		out = []*factor{wordFactor("", "", len(t.Point), func(int) (string, bool) { return all, true })}
	}
	return out
}

// caseTitle returns what figures call the case of a row that has a name.
func (t *SweepTable) caseTitle(row int) string {
	if p := t.Point[row]; 0 <= p && p < len(t.Titles) && t.Titles[p] != "" {
		return t.Titles[p]
	}
	return t.name[row]
}

// leaves reports whether row r of a one-at-a-time design is the base or leaves it by input n
// alone: the first point is the base, then come the values of one input after the other.
func (t *SweepTable) leaves(r, n int) bool {
	p := t.Point[r] - 1
	for _, in := range t.Inputs[:n] {
		p -= in.Levels
	}
	return t.Point[r] == 0 || p >= 0 && p < t.Inputs[n].Levels
}

// allAlike names the cases of a sweep whose points do not differ.
func (t *SweepTable) allAlike() string {
	var given []string
	for n, in := range t.Inputs {
		if c := t.InputCells[n]; c.word != nil && c.Text(0) != "" {
			given = append(given, in.heading()+" "+withUnit(c.Text(0), phrase.UnitText(in.Unit)))
		}
	}
	if given == nil {
		return "all cases"
	}
	return strings.Join(given, ", ")
}

// wordFactor returns a factor whose levels are words, row by row; false: none there.
func wordFactor(title, unit string, rows int, word func(row int) (string, bool)) *factor {
	f := &factor{title: title, unit: unit, words: true, of: make([]int, rows), input: -1}
	level := map[string]int{}
	for r := range rows {
		w, there := word(r)
		if !there {
			f.of[r] = -1
			continue
		}
		if _, ok := level[w]; !ok {
			level[w] = len(f.names)
			f.at = append(f.at, float64(len(f.names)))
			f.names = append(f.names, w)
		}
		f.of[r] = level[w]
	}
	return f
}

// newFactor returns the factor of an input in the rows that are its own: of words if any of its
// cells is one.
func newFactor(title, unit string, c inputCells, own func(row int) bool) *factor {
	if slices.ContainsFunc(c.word, func(w string) bool { return w != "" }) {
		return wordFactor(title, unit, len(c.word), func(r int) (string, bool) { return c.Text(r), own(r) })
	}
	f := &factor{title: title, unit: unit, of: make([]int, len(c.Number)), input: -1}
	numbers := slices.Clone(c.Number)
	for r := range numbers {
		if !own(r) {
			numbers[r] = math.NaN()
		}
	}
	f.at = slices.DeleteFunc(slices.Clone(numbers), math.IsNaN)
	slices.Sort(f.at)
	f.at = slices.Compact(f.at)
	for n, v := range numbers {
		i, found := slices.BinarySearch(f.at, v)
		if !found {
			i = -1
		}
		f.of[n] = i
	}
	for _, v := range f.at {
		f.names = append(f.names, withUnit(phrase.Short(v), unit))
	}
	if f.log = logSpaced(f.at); f.log {
		for n, v := range f.at {
			f.at[n] = math.Log10(v)
		}
	}
	return f
}

// split returns which of rows are at each level.
func (f *factor) split(rows []int) [][]int {
	at := make([][]int, len(f.names))
	for _, r := range rows {
		if l := f.of[r]; l >= 0 {
			at[l] = append(at[l], r)
		}
	}
	return at
}

func withUnit(number, unit string) string {
	if unit == "" {
		return number
	}
	return number + " " + unit
}

// logSpaced reports whether ascending values lie more evenly on a logarithmic axis than
// on a linear one: their median is then nearer to the middle.
func logSpaced(v []float64) bool {
	if len(v) < 3 || v[0] <= 0 || v[len(v)-1] < 4*v[0] {
		return false
	}
	off := func(f func(float64) float64) float64 {
		lo, hi := f(v[0]), f(v[len(v)-1])
		mid := (f(v[(len(v)-1)/2]) + f(v[len(v)/2])) / 2
		return math.Abs((mid-lo)/(hi-lo) - 0.5)
	}
	return off(math.Log) < off(func(x float64) float64 { return x })
}

// heading is the title of an input; of one without, its key in words.
func (in sweepInput) heading() string {
	if in.Title != "" && in.Title != in.Key {
		return in.Title
	}
	return phrase.Key(in.Key, in.Unit)
}

// design is how the points of a sweep lie.
type design int

const (
	grid       design = iota // every level with every other
	OneAtATime               // each point differs from the first in one input
	scattered                // space-filling or paired
)

// designs are those that a plan can have, by the names that sweep.json gives them.
var designs = map[string]design{"none": grid, "cases": grid, "grid": grid, "one-at-a-time": OneAtATime, "paired": scattered, "halton": scattered, "latin-hypercube": scattered}

// points returns how many points the sweep has, as far as its rows tell.
func (t *SweepTable) points() int {
	if len(t.Point) == 0 {
		return 0
	}
	return 1 + slices.Max(t.Point)
}

// Shape returns the sweep as its figures see it.
func (t *SweepTable) Shape() *SweepShape {
	s := &SweepShape{SweepTable: t, Factors: t.Factors(), Design: designs[t.DesignName], page: chart.ForDocument}
	if len(s.Factors) == 1 && s.Design == scattered { // along one factor points follow each other
		s.Design = grid
	}
	first := slices.Index(t.Point, 0)
	for _, f := range s.Factors {
		base := -1
		if first >= 0 {
			base = f.of[first]
		}
		s.Base = append(s.Base, base)
	}
	return s
}
