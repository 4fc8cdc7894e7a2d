package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"muralheat/output/document"
	"muralheat/output/record"
	"muralheat/thermal"
)

// Cases are those of a sweep or a search: what they have in common, and from where to where they differ.
type Cases struct {
	all  []*thermal.Case
	keys []string // in the order of a file
	of   map[string]*span
}

// span is what a key is in the cases.
type span struct {
	first       record.Setting
	words       []string // each value once, in the order in which they came
	sources     []string // likewise
	least, most float64  // of numbers
	n           int      // cases that have it
	apart       bool     // its values differ
}

// mostWords is how many values of words are named, and mostSources how many sources of a value.
const mostWords, mostSources = 6, 2

// Add adds a case with its settings.
func (s *Cases) Add(c thermal.Case, settings []record.Setting) {
	if s.of == nil {
		s.of = map[string]*span{}
	}
	s.all = append(s.all, &c)
	at := 0
	for _, x := range settings {
		v, there := s.of[x.Key]
		if there {
			at = 1 + slices.Index(s.keys, x.Key)
		} else {
			v = &span{first: x, least: math.Inf(1), most: math.Inf(-1)}
			s.of[x.Key], s.keys = v, slices.Insert(s.keys, at, x.Key)
			at++
		}
		v.n++
		if len(v.sources) <= mostSources && !slices.Contains(v.sources, x.Source) {
			v.sources = append(v.sources, x.Source)
		}
		v.apart = v.apart || x.Value != v.first.Value
		if number, err := strconv.ParseFloat(x.Value, 64); err == nil {
			v.least, v.most = math.Min(v.least, number), math.Max(v.most, number)
		} else if len(v.words) <= mostWords && !slices.Contains(v.words, x.Value) {
			v.words = append(v.words, x.Value)
		}
	}
}

// Or adds a case if there is none: of a table without a row the scenario as it stands.
func (s *Cases) Or(c thermal.Case, settings []record.Setting) {
	if len(s.all) == 0 {
		s.Add(c, settings)
	}
}

// Settings returns those of all cases: what is the same in all as it stands, else from the least to the largest value or the words;
// how says of a key that the plan sets what it does with it, "" of others.
func (s *Cases) Settings(how func(key string) string) (all []record.Setting) {
	for _, key := range s.keys {
		v := s.of[key]
		x := v.first
		if v.apart {
			x.Value, x.Given = v.said(), false
		}
		switch word := how(key); {
		case word != "":
			x.Given, x.Source = false, word
		case len(v.sources) > mostSources:
			x.Source = "follows what varies; " + strings.Join(v.sources[:mostSources], "; ") + "; and others"
		case v.apart || len(v.sources) > 1:
			x.Source = "follows what varies; " + strings.Join(v.sources, "; ")
		}
		if v.n < len(s.all) {
			x.Value += fmt.Sprintf(" (in %d of %d cases)", v.n, len(s.all))
		}
		all = append(all, x)
	}
	return all
}

// said names the values.
func (v *span) said() string {
	words := slices.Clone(v.words)
	if len(words) > mostWords {
		words = append(words[:mostWords], "and others")
	}
	if v.least <= v.most {
		words = append(words, fromLeast(v.least, v.most))
	}
	return strings.Join(words, ", ")
}

// fromLeast writes a range of numbers.
func fromLeast(least, most float64) string {
	if a, b := digits(least), digits(most); a != b {
		return a + " to " + b
	}
	return digits(least)
}

// over is a number of all cases: one, or from the least to the largest.
func (b *dossier) over(value func(*thermal.Case) float64) string {
	least, most := math.Inf(1), math.Inf(-1)
	for _, c := range b.cases {
		if v := value(c); !math.IsNaN(v) {
			least, most = math.Min(least, v), math.Max(most, v)
		}
	}
	return fromLeast(least, most)
}

// each is what is said of all cases: one thing, a few side by side, or that it differs.
func (b *dossier) each(say func(*thermal.Case) string) string {
	var words []string
	for _, c := range b.cases {
		words = append(words, say(c))
	}
	return inAll(words)
}

// inAll says what cases have, of which each has one of the words.
func inAll(words []string) string {
	const few = 3
	var unlike []string
	for _, w := range words {
		if !slices.Contains(unlike, w) {
			if unlike = append(unlike, w); len(unlike) > few {
				return "differs from case to case: the settings below say how"
			}
		}
	}
	return strings.Join(unlike, "; or ")
}

// equations are those of all cases: what is solved in some alone says so.
func (b *dossier) equations() document.Table {
	all := equations(b.c)
	all.Rows = nil
	of := map[string][][]string{} // by name, the row of each case
	at := map[string]int{}
	for _, c := range b.cases {
		for _, row := range equations(c).Rows {
			if _, there := at[row[0]]; !there {
				at[row[0]] = len(all.Rows)
				all.Rows = append(all.Rows, []string{row[0]})
			}
			of[row[0]] = append(of[row[0]], row)
		}
	}
	for n, row := range all.Rows {
		rows := of[row[0]]
		for column := range all.Head[1:] {
			var words []string
			for _, r := range rows {
				words = append(words, r[column+1])
			}
			all.Rows[n] = append(all.Rows[n], inAll(words))
		}
		if len(rows) < len(b.cases) {
			all.Rows[n][0] += fmt.Sprintf(" (in %d of %d cases)", len(rows), len(b.cases))
		}
	}
	return all
}
