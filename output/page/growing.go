package page

import (
	"encoding/base64"
	"fmt"
	"slices"
	"strings"
	"sync"

	"muralheat/output/phrase"
	"muralheat/thermal"
)

// Growing is a page to which cases are added while it is shown. Whoever shows it answers its script, see live.js.
type Growing struct {
	mu    sync.Mutex
	b     builder
	drawn int // cases there were when all were drawn anew for a wider view
}

// Grown is what a page that shows the cases before From needs to show all: the data with the cases from there on, and
// their rows of the table.
type Grown struct {
	From int    `json:"from"`
	Data string `json:"data"` // as in the file
	Rows []Row  `json:"rows"`
}

// Grow begins a page without cases; invented says that the data are. Not all that the choices offer need be computed.
func Grow(title string, invented bool, choices []Choice) *Growing {
	for n, c := range choices {
		choices[n] = Choice{clean(c.Title), slices.Clone(c.Levels), c.Words}
		for i, l := range c.Levels {
			choices[n].Levels[i] = clean(l)
		}
	}
	return &Growing{b: builder{page: &Page{Title: title, Invented: invented, Live: true, File: File{Choices: choices}}}}
}

// Add adds the result at some levels of the choices, unless it is there, and returns what shows all cases to a page that
// shows those before from.
func (g *Growing) Add(at []int, r *thermal.Result, from int) (Grown, error) {
	g.mu.Lock()
	defer g.mu.Unlock()
	p := g.b.page
	if !slices.ContainsFunc(p.Cases, func(c Case) bool { return slices.Equal(c.At, at) }) {
		if len(p.Cases) == most {
			return Grown{}, fmt.Errorf("output: a page has at most %d cases; save it and begin another", most)
		}
		var names []string
		for n, l := range at {
			names = append(names, p.Choices[n].Levels[l])
		}
		g.b.add(r, r, Case{At: slices.Clone(at), Name: strings.Join(names, ", "), Set: strings.Join(phrase.Set(r.Case), ", ") + "."}, phrase.Remark(r))
		g.b.told[len(g.b.told)-1] = g.b.kept[len(g.b.kept)-1] // without megabytes
	}
	view, heat := p.View, p.Heat
	if _, err := g.b.done(); err != nil {
		return Grown{}, err
	}
	if view != p.View || heat != p.Heat {
		g.drawn = len(p.Cases)
	}
	if from < g.drawn || from > len(p.Cases) {
		from = 0
	}
	part := *p
	part.Cases = p.Cases[from:]
	data, err := part.packed()
	return Grown{from, base64.StdEncoding.EncodeToString(data), append([]Row{}, part.Rows()...)}, err
}

// Has returns whether a case is there.
func (g *Growing) Has(at []int) bool {
	g.mu.Lock()
	defer g.mu.Unlock()
	return slices.ContainsFunc(g.b.page.Cases, func(c Case) bool { return slices.Equal(c.At, at) })
}

// HTML returns the page as it is now, with the script that asks for more.
func (g *Growing) HTML() ([]byte, error) {
	g.mu.Lock()
	defer g.mu.Unlock()
	return g.b.page.HTML()
}

// Kept returns a page as it is written to a file, which offers what was computed, in whatever order that was.
func (g *Growing) Kept() (*Page, error) {
	g.mu.Lock()
	defer g.mu.Unlock()
	from := g.b.page
	order := make([]int, len(from.Cases))
	for n := range order {
		order[n] = n
	}
	slices.SortFunc(order, func(a, b int) int { return slices.Compare(from.Cases[a].At, from.Cases[b].At) })
	b := builder{page: &Page{Title: from.Title, Invented: from.Invented, File: File{Choices: []Choice{}}}}
	for _, n := range order {
		c := from.Cases[n]
		c.At = []int{}
		b.page.Cases, b.told, b.kept = append(b.page.Cases, c), append(b.told, g.b.told[n]), append(b.kept, g.b.kept[n])
		b.cuts, b.films = append(b.cuts, g.b.cuts[n]), append(b.films, g.b.films[n])
	}
	for n, choice := range from.Choices {
		used := Choice{Title: choice.Title, Words: choice.Words}
		place := map[int]int{}
		for l, name := range choice.Levels {
			if slices.ContainsFunc(from.Cases, func(c Case) bool { return c.At[n] == l }) {
				place[l], used.Levels = len(used.Levels), append(used.Levels, name)
			}
		}
		if len(used.Levels) < 2 {
			continue
		}
		b.page.Choices = append(b.page.Choices, used)
		for i, from := range order {
			b.page.Cases[i].At = append(b.page.Cases[i].At, place[g.b.page.Cases[from].At[n]])
		}
	}
	return b.done()
}
