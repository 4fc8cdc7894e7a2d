package study

import (
	"maps"
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
}

// label is what an axis of length w says: of a long title the beginning, but always the
// unit.
func (f *factor) label(s text.Style, w vg.Length) string {
	about := f.unit
	if f.log {
		about = strings.TrimPrefix(about+", log scale", ", ")
	}
	if about == "" {
		return chart.Fit(s, w, f.title)
	}
	about = " (" + about + ")"
	return chart.Fit(s, w-s.Width(about), f.title) + about
}

// Factors returns what differs between the points: the cases if they have names, else
// the inputs that vary; if nothing does, all cases are one level.
func (t *SweepTable) Factors() []*factor {
	if t.name != nil {
		return []*factor{wordFactor("", "", len(t.name), t.caseTitle)}
	}
	var out []*factor
	for n, in := range t.Inputs {
		if in.Uncertain {
			continue
		}
		if s := newFactor(in.heading(), phrase.UnitText(in.Unit), t.InputCells[n]); len(s.names) > 1 {
			out = append(out, s)
		}
	}
	if out == nil {
		all := t.allAlike()
		out = []*factor{wordFactor("", "", len(t.Point), func(int) string { return all })}
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

// wordFactor returns a factor whose levels are words, row by row.
func wordFactor(title, unit string, rows int, word func(row int) string) *factor {
	f := &factor{title: title, unit: unit, words: true, of: make([]int, rows)}
	level := map[string]int{}
	for r := range rows {
		w := word(r)
		if _, ok := level[w]; !ok {
			level[w] = len(f.names)
			f.at = append(f.at, float64(len(f.names)))
			f.names = append(f.names, w)
		}
		f.of[r] = level[w]
	}
	return f
}

// newFactor returns the factor of an input: of words if any of its cells is one.
func newFactor(title, unit string, c inputCells) *factor {
	if slices.ContainsFunc(c.word, func(w string) bool { return w != "" }) {
		return wordFactor(title, unit, len(c.word), c.Text)
	}
	f := &factor{title: title, unit: unit, of: make([]int, len(c.Number))}
	f.at = slices.DeleteFunc(slices.Clone(c.Number), math.IsNaN)
	slices.Sort(f.at)
	f.at = slices.Compact(f.at)
	for n, v := range c.Number {
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
	OneAtATime               // each point differs from a base in one factor at most
	scattered                // space-filling or paired
)

// points returns how many points the sweep has, as far as its rows tell.
func (t *SweepTable) points() int {
	if len(t.Point) == 0 {
		return 0
	}
	return 1 + slices.Max(t.Point)
}

// DesignOf tells the design from the points themselves. base is the level of each factor
// that most points have: of one-at-a-time designs, the base.
func (t *SweepTable) DesignOf(factors []*factor) (d design, base []int) {
	first := map[int]int{} // row of each point
	for r, p := range t.Point {
		if _, ok := first[p]; !ok {
			first[p] = r
		}
	}
	points := slices.Sorted(maps.Keys(first))
	full := 1.0
	for _, f := range factors {
		count, most := make([]int, len(f.names)), 0
		for _, p := range points {
			if l := f.of[first[p]]; l >= 0 {
				count[l]++
			}
		}
		for l := range count {
			if count[l] > count[most] {
				most = l
			}
		}
		base = append(base, most)
		full *= float64(len(f.names))
	}
	if len(factors) == 1 {
		return grid, base
	}
	alone := true
	for _, p := range points {
		differ := 0
		for n, f := range factors {
			if f.of[first[p]] != base[n] {
				differ++
			}
		}
		alone = alone && differ <= 1
	}
	switch {
	case alone:
		return OneAtATime, base
	case float64(len(points)) > 0.5*full: // some cases of a grid may have failed
		return grid, base
	}
	return scattered, base
}
