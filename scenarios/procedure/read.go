package procedure

import (
	"cmp"
	"fmt"
	"math"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"

	"go.yaml.in/yaml/v4"

	"muralheat/scenarios"
	"muralheat/scenarios/keys"
	"muralheat/thermal"
	"muralheat/thermal/tissue"
)

// Parse reads a procedure; name stands for the file in problems, and sets are put into the scenario of each step. A
// wrong procedure returns keys.Problems.
func Parse(name string, data []byte, sets []scenarios.Set) (*Procedure, error) {
	return parse(name, data, sets, nil)
}

// parse does so; steps share the source sheets of kin.
func parse(name string, data []byte, sets []scenarios.Set, kin *scenarios.Scenario) (*Procedure, error) {
	if len(data) > keys.MaxBytes {
		return nil, keys.Problems{{File: name, Wrong: "larger than 1 MB", Right: "a procedure fits on a few pages"}}
	}
	r := reader{Report: keys.NewReport(name, "procedure", reflect.TypeFor[keys.ProcedureFile]()), file: &keys.ProcedureFile{}, sets: sets, kin: kin}
	root := keys.Parse(r.Report, data)
	if root != nil {
		r.Mapping(root, reflect.ValueOf(r.file).Elem(), "")
	}
	if len(r.Problems) == 0 {
		r.read(data, root)
	}
	if len(r.Problems) > 0 {
		r.Problems.Sort()
		r.Problems = slices.CompactFunc(r.Problems, func(a, b keys.Problem) bool { return a == b }) // of a wall that steps share
		return nil, r.Problems
	}
	return r.p, nil
}

// mostTimes caps how many activations a procedure has: each is one of the neutral electrode's.
const mostTimes = 1000

// reader turns a file that has been read into a procedure.
type reader struct {
	*keys.Report
	file *keys.ProcedureFile
	sets []scenarios.Set
	p    *Procedure
	kin  *scenarios.Scenario // the first of them: all share its source sheets
	wall *yaml.Node          // as the steps so far have left it
	last *place              // of the last step in which current flows; nil: something is wrong with it

	layers []string // of the wall before it was cut open
	opened int      // of them: how many have been cut open
	by     string   // the step that did
}

func (r *reader) read(data []byte, root *yaml.Node) {
	f := r.file
	r.p = &Procedure{Name: r.File, Title: *f.Title, Question: keys.Word(f.Question), ContextOfUse: keys.Word(f.ContextUse), text: data, file: f, root: root}
	r.wall = f.Wall
	r.keysOnly("wall", f.Wall)
	r.keysOnly("common", f.Common)
	if index(f.Common, "wall") >= 0 {
		r.At("common", "holds a wall", "give it in wall")
	}
	if len(r.Problems) > 0 {
		return
	}
	times := 0
	for i, s := range f.Steps {
		path := keys.Item("steps", i, "")
		if slices.ContainsFunc(f.Steps[:i], func(o *keys.Step) bool { return *o.Title == *s.Title }) {
			r.At(keys.Join(path, "title"), keys.Quote(*s.Title)+" is the title of a step above", "give each step its own")
		}
		one := r.step(s, path, i)
		if one.Scenario != nil {
			c := one.Scenario.Case()
			times += one.Times * c.Activations()
		}
		r.p.Steps = append(r.p.Steps, one)
	}
	switch {
	case len(r.Problems) > 0:
		return
	case times == 0: // no current flows
		r.At("steps", "no step has a scenario", "give one to each step in which current flows")
	case times > mostTimes:
		r.At("steps", fmt.Sprintf("%d activations in all", times), fmt.Sprintf("at most %d: give fewer times", mostTimes))
	}
	if len(r.Problems) > 0 {
		return
	}
	r.pad()
	r.limit()
	if len(r.Problems) == 0 && f.Uncertain != nil {
		r.tryUncertain()
	}
}

// keysOnly reports whether a node that is there is a mapping.
func (r *reader) keysOnly(path string, n *yaml.Node) bool {
	if n != nil && n.Kind != yaml.MappingNode {
		r.At(path, keys.What(n)+" where keys are needed", "write {key: value, ...} with keys of a scenario")
		return false
	}
	return true
}

// step reads one step on the wall that those before it have left.
func (r *reader) step(s *keys.Step, path string, i int) Step {
	one := Step{Title: *s.Title, RestS: orElse(s.RestS, orElse(r.file.RestS, tissue.StepRest.Value)), PauseS: orElse(s.PauseS, tissue.TouchRest.Value), Times: 1}
	if s.Times != nil && *s.Times != math.Trunc(*s.Times) {
		r.At(keys.Join(path, "times"), keys.Text(*s.Times)+" is not a whole number", "write one")
	}
	if s.Times != nil {
		one.Times = int(*s.Times)
	}
	for _, x := range []struct {
		key   string
		given bool
	}{{"times", s.Times != nil}, {"pause_s", s.PauseS != nil}, {"repeat", s.Repeat != nil}, {"place", s.Place != nil}} {
		if x.given && s.Scenario == nil {
			r.At(keys.Join(path, x.key), "belongs to a step with a scenario", "leave it out, or give scenario")
		}
	}
	if s.PauseS != nil && one.Times == 1 && s.Scenario != nil {
		r.At(keys.Join(path, "pause_s"), "there is no pause in a step that is done once", "leave it out, or give times")
	}
	if s.Wall == nil && s.Scenario == nil {
		r.At(path, "neither wall nor scenario", "give what changes the wall, or what the electrode does")
	}
	if !r.keysOnly(keys.Join(path, "wall"), s.Wall) {
		return one
	}
	if s.Wall != nil {
		r.wall = merged(r.wall, s.Wall)
		one.Wall = changes(s.Wall, "wall")
	}
	if s.Scenario == nil {
		one.Times = 0
		r.open(s, path, nil)
		return one
	}
	var n *yaml.Node
	if one.Scenario, n = r.scenario(s, path, i); one.Scenario == nil {
		r.last = nil
		return one
	}
	r.open(s, path, one.Scenario)
	one.Name = caseName(i, one.Title)
	r.leave(one, n, path)
	return one
}

// scenario returns the scenario of a step and what it was read from, nil if something is wrong with it.
func (r *reader) scenario(s *keys.Step, path string, i int) (*scenarios.Scenario, *yaml.Node) {
	here := keys.Join(path, "scenario")
	n, named := s.Scenario, s.Scenario.Kind == yaml.ScalarNode
	if named {
		if n = r.fileNode(s.Scenario, here); n == nil {
			return nil, nil
		}
	} else if !r.keysOnly(here, n) {
		return nil, nil
	} else if w := at(n, "wall"); w != nil {
		r.Add(here+".wall", r.Place(w), "the wall is that of the procedure", "give what is different from this step on in wall of the step")
		return nil, nil
	}
	n = merged(r.file.Common, without(n, "wall"))
	n = with(with(n, "wall", r.wall), "title", word(*s.Title))
	if s.Repeat != nil {
		if index(n, "repeat") >= 0 {
			r.At(keys.Join(path, "repeat"), "is given in the scenario too", "leave one of them out")
			return nil, nil
		}
		n = with(n, "repeat", without(at(at(r.p.root, "steps").Content[i], "repeat"), "place"))
	}
	if c := at(n, "current"); r.file.Sheet != nil && at(c, "source") != nil && at(c, "sheet") == nil {
		n = with(n, "current", with(c, "sheet", word(*r.file.Sheet)))
	}
	if s.Place != nil {
		if n = r.onPlace(n, s, path, i); n == nil {
			return nil, nil
		}
	}
	return r.checked(n, here, named), n
}

// fileNode returns what stands in the scenario file that a value names, nil if it is no scenario.
func (r *reader) fileNode(n *yaml.Node, here string) *yaml.Node {
	if n.Tag != "!!str" {
		r.At(here, keys.What(n)+" where a scenario is needed", "write {electrode: ..., current: ...}, or the name of a file")
		return nil
	}
	path := keys.Beside(r.File, n.Value)
	s, err := scenarios.Load(path)
	if err != nil {
		r.blame(err, here, n.Value+": ")
		return nil
	}
	root := keys.Parse(keys.NewReport(path, "scenario", reflect.TypeFor[keys.File]()), s.Text())
	if c := at(root, "current"); at(c, "sheet") != nil && !filepath.IsAbs(at(c, "sheet").Value) { // as it is seen from here
		sheet := filepath.ToSlash(filepath.Join(filepath.Dir(n.Value), at(c, "sheet").Value))
		root = with(root, "current", with(c, "sheet", word(sheet)))
	}
	return root
}

// checked reads a scenario that has been put together. Problems have the places of their nodes, which are of this file
// unless elsewhere is true.
func (r *reader) checked(n *yaml.Node, here string, elsewhere bool) *scenarios.Scenario {
	s, err := scenarios.ParseNode(r.File, n, r.kin)
	if err == nil && len(r.sets) > 0 {
		s, err = s.With(r.sets...)
		elsewhere = true
	}
	ps, ok := err.(keys.Problems)
	if ok && r.notThere(ps, here) {
		return nil
	}
	switch {
	case err == nil:
		switch c := s.Case(); {
		case c.Scene() == thermal.OnSkin && here != padKey:
			r.At(here, "a neutral electrode is no step", "give it in "+padKey)
			return nil
		case c.Scene() != thermal.OnSkin && here == padKey:
			r.At(here, "no scenario of a neutral electrode", "give {wall: {site: thigh}, pad: {area_cm2: ...}}")
			return nil
		}
		r.kin = cmp.Or(r.kin, s)
		return s
	case !ok || elsewhere:
		r.blame(err, here, "")
		return nil
	}
	for _, p := range ps {
		if !strings.HasPrefix(p.Key, "wall") {
			p.Key = keys.Join(here, p.Key)
		}
		if p.Line <= 1 { // of something that is not there
			p.Line, p.Column = r.Places[here].Line, r.Places[here].Column
		}
		r.Bad[p.Key] = true
		r.Problems = append(r.Problems, p)
	}
	return nil
}

// blame notes the first problem of something else where it is named.
func (r *reader) blame(err error, here, lead string) {
	if ps, ok := err.(keys.Problems); ok {
		where := ""
		if ps[0].Line > 0 && lead != "" {
			where = fmt.Sprintf("line %d: ", ps[0].Line)
		}
		if ps[0].Key != "" {
			where += ps[0].Key + ": "
		}
		r.At(here, lead+where+ps[0].Wrong, ps[0].Right)
		return
	}
	r.At(here, lead+err.Error(), "")
}

// open holds what a step cuts open against what was cut open before: tissue that is gone does not come back.
func (r *reader) open(s *keys.Step, path string, of *scenarios.Scenario) {
	from := at(r.wall, "from")
	if r.layers == nil {
		r.layers = layersOf(r.wall)
	}
	if from == nil || r.layers == nil {
		return
	}
	n := slices.Index(r.layers, from.Value)
	switch {
	case n < 0:
		if of == nil {
			r.At(keys.Join(path, "wall"), keys.Quote(from.Value)+" is no layer of the wall", "name one of "+keys.List(r.layers, "or"))
		}
	case n < r.opened:
		r.Add(keys.Join(path, "wall.from"), r.Place(from), fmt.Sprintf("the %s was removed by step %q", from.Value, r.by), "name "+keys.List(r.layers[r.opened:], "or"))
	case n > r.opened:
		r.opened, r.by = n, *s.Title
	}
}

// layersOf returns the names of the layers of a wall as it is written.
func layersOf(wall *yaml.Node) (names []string) {
	if n := at(wall, "layers"); n != nil {
		for _, l := range n.Content {
			if name := at(l, "name"); name != nil {
				names = append(names, name.Value)
			}
		}
	} else if n := at(wall, "site"); n != nil {
		site, _ := tissue.FindSite(n.Value)
		for _, l := range site.Layers {
			names = append(names, l.Name)
		}
	}
	return names
}

// changes lists what a mapping below a path says.
func changes(n *yaml.Node, path string) (list []scenarios.Set) {
	for i := 0; i+1 < len(n.Content); i += 2 {
		here, value := keys.Join(path, n.Content[i].Value), n.Content[i+1]
		switch value.Kind {
		case yaml.MappingNode:
			list = append(list, changes(value, here)...)
		case yaml.ScalarNode:
			list = append(list, scenarios.Set{Key: here, Value: scenarios.Value{Node: value}})
		default:
			list = append(list, scenarios.Set{Key: here, Value: scenarios.Word("as given")})
		}
	}
	return list
}

var notInNames = regexp.MustCompile(`[^A-Za-z0-9]+`)

// caseName makes the name of a step's case: its number, as in the list, and its title.
func caseName(i int, title string) string {
	name := strings.Trim(notInNames.ReplaceAllString(strings.ToLower(title), "-"), "-")
	return strings.TrimRight(fmt.Sprintf("%d-%s", i+1, name[:min(len(name), 30)]), "-")
}

func orElse(p *float64, v float64) float64 {
	if p != nil {
		return *p
	}
	return v
}
