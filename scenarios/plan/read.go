package plan

import (
	"cmp"
	"errors"
	"fmt"
	"reflect"
	"slices"

	"go.yaml.in/yaml/v4"

	"muralheat/scenarios"
	"muralheat/scenarios/keys"
)

// Load reads a plan and the scenario it names. A wrong plan returns Problems.
func Load(path string) (*Sweep, error) { return loadPlan(path, scenarios.Load) }

// LoadWith reads a plan and, in place of the scenario it names, that of another file with some values set.
// The texts of sheets, by name, stand in place of the files of source sheets.
func LoadWith(path, scenario string, sets []scenarios.Set, sheets map[string]string) (*Sweep, error) {
	return loadPlan(path, func(string) (*scenarios.Scenario, error) {
		data, err := scenarios.Read(scenario, "scenario")
		if err != nil {
			return nil, err
		}
		s, err := scenarios.ParseStored(scenario, data, sheets)
		if err != nil || len(sets) == 0 {
			return s, err
		}
		return s.With(sets...)
	})
}

// Setting returns a function that reads a scenario and puts values in place of those of its file.
func Setting(sets []scenarios.Set) func(path string) (*scenarios.Scenario, error) {
	return func(path string) (*scenarios.Scenario, error) {
		s, err := scenarios.Load(path)
		if err != nil || len(sets) == 0 {
			return s, err
		}
		return s.With(sets...)
	}
}

func loadPlan(path string, load func(string) (*scenarios.Scenario, error)) (*Sweep, error) {
	data, err := scenarios.Read(path, "plan")
	if err != nil {
		return nil, err
	}
	return Parse(path, data, load)
}

// Parse reads a plan; name stands for its file in problems, and load reads the
// scenario it names.
func Parse(name string, data []byte, load func(path string) (*scenarios.Scenario, error)) (*Sweep, error) {
	if len(data) > keys.MaxBytes {
		return nil, keys.Problems{{File: name, Wrong: "larger than 1 MB", Right: "give ranges in place of lists"}}
	}
	r := keys.NewReport(name, "plan", reflect.TypeFor[keys.PlanFile]())
	p := &keys.PlanFile{}
	if root := keys.Parse(r, data); root != nil {
		r.Mapping(root, reflect.ValueOf(p).Elem(), "")
	}
	if len(r.Problems) > 0 {
		r.Problems.Sort()
		return nil, r.Problems
	}
	base, err := load(keys.Beside(name, *p.Scenario))
	if err != nil {
		return nil, err // it names its own file and line
	}
	copied, err := base.With()
	if err != nil {
		panic("scenarios: " + err.Error()) // it has been read before
	}
	b := planner{r, p, &Sweep{Name: name, Title: *p.Title, Question: keys.Word(p.Question), ContextOfUse: keys.Word(p.ContextUse), Decision: p.Decision, FiguresFor: cmp.Or(keys.Word(p.FiguresFor), base.FiguresFor()), Base: base, Draws: 1, Design: "none", text: data}, copied.File}
	if p.Vary == nil && p.Cases == nil && p.Uncertain == nil && p.Limit == nil && p.Design == nil && p.Draws == nil {
		b.At("", "nothing varies", "give vary, cases, uncertain or limit, or compute the scenario alone: muralheat run "+keys.Beside(name, *p.Scenario))
	}
	b.points()
	b.uncertain()
	b.limit()
	if n := float64(b.s.Points()) * float64(b.s.Draws); len(r.Problems) == 0 && n > maxCases {
		b.At(b.first(), fmt.Sprintf("%.0f cases", n), fmt.Sprintf("at most %d: give fewer values or draws, or a design that fills the range", maxCases))
	}
	if len(r.Problems) == 0 {
		b.try()
	}
	if len(r.Problems) == 0 {
		b.tryDraws()
	}
	if len(r.Problems) == 0 {
		b.sheets()
	}
	if len(r.Problems) > 0 {
		r.Problems.Sort()
		return nil, r.Problems
	}
	return b.s, nil
}

// maxCases keeps a slip from asking for a sweep that never ends.
const maxCases = 10_000_000

// planner turns a plan that has been read into a sweep.
type planner struct {
	*keys.Report
	p    *keys.PlanFile
	s    *Sweep
	base *keys.File // a copy of the scenario, to look keys up in: that makes mappings on the way
}

// points reads the named cases or the design.
func (b *planner) points() {
	p := b.p
	if p.Seed != nil {
		if b.integer("seed", *p.Seed) {
			b.s.Seed = uint64(*p.Seed)
		}
	}
	if p.Cases != nil {
		for _, k := range []string{"vary", "design", "points"} {
			if b.Given(k) {
				b.At(k, "is given together with cases", "give one or the other")
			}
		}
		b.named()
		return
	}
	design := "grid"
	if p.Design != nil {
		design = *p.Design
	}
	filling := design == "halton" || design == "latin-hypercube"
	switch {
	case filling && p.Points == nil:
		b.At("design", design+" without points", "give points, their number")
		return
	case !filling && p.Points != nil:
		b.At("points", "belongs to halton and latin-hypercube", "leave it out: the values themselves make the points of a "+design+" design")
		return
	case design == "halton" && len(p.Vary) > len(primes):
		b.At("vary", fmt.Sprintf("%d keys in a halton design", len(p.Vary)), fmt.Sprintf("at most %d, or a latin-hypercube", len(primes)))
		return
	case len(p.Vary) == 0 && (filling || b.Given("design")):
		b.At("design", "nothing varies", "give vary, or leave design out")
		return
	case filling && !b.integer("points", *p.Points):
		return
	}
	var axes []axis
	for i, v := range p.Vary {
		axes = append(axes, b.axis(v, keys.Item("vary", i, ""), filling))
		if n := len(axes[i].list); design == "paired" && n != len(axes[0].list) && !b.Spoilt("vary") {
			b.At(keys.Item("vary", i, ""), fmt.Sprintf("%d values, but the first key has %d", n, len(axes[0].list)), "a paired design needs the same number of each")
		}
	}
	if len(b.Problems) > 0 || len(axes) == 0 {
		return
	}
	s := b.s
	s.axes, s.varied, s.Design = axes, len(axes), design
	for a := range axes {
		s.Inputs[a].Levels = len(axes[a].list)
	}
	switch design {
	case "grid":
		s.design = grid(axes)
	case "paired":
		s.design = paired(axes)
	case "one-at-a-time":
		s.design = oneAtATime(axes)
	case "halton":
		s.design = newHalton(axes, int(*p.Points), s.Seed)
	case "latin-hypercube":
		s.design = newLatin(axes, int(*p.Points), s.Seed)
	}
}

// flat writes a value that stands within mappings as a plan sets it: "current.power_W: 1".
func flat(path string, n *yaml.Node) string {
	for n.Kind == yaml.MappingNode && len(n.Content) > 1 {
		path, n = path+"."+n.Content[0].Value, n.Content[1]
	}
	if n.Kind != yaml.ScalarNode {
		return keys.Short(path) + ": ..."
	}
	return keys.Short(path) + ": " + keys.Short(n.Value)
}

// own reads the scenario of a case, with the values that are set in that of the plan; nil if something is wrong with it.
func (b *planner) own(n *yaml.Node, path string) *scenarios.Scenario {
	s, err := scenarios.ParseNode(b.s.Name, n, b.s.Base)
	if err == nil {
		s, err = s.With(b.s.Base.Sets()...)
	}
	var ps keys.Problems
	if errors.As(err, &ps) {
		b.At(path, ps[0].Key+": "+ps[0].Wrong, ps[0].Right)
		return nil
	}
	return s
}

// named reads the cases.
func (b *planner) named() {
	b.s.cases, b.s.Design = []namedSets{}, "cases"
	for i, c := range b.p.Cases {
		path := keys.Item("cases", i, keys.Word(c.Name))
		one := namedSets{name: *c.Name, title: keys.Word(c.Title)}
		if c.Scenario != nil {
			if one.own = b.own(c.Scenario, keys.Join(path, "scenario")); one.own == nil {
				continue
			}
		}
		if c.Set != nil && c.Set.Kind != yaml.MappingNode {
			b.At(keys.Join(path, "set"), keys.What(c.Set)+" where keys are needed", "write {key: value, ...} with keys of the scenario")
			continue
		}
		for j := 0; c.Set != nil && j+1 < len(c.Set.Content); j += 2 {
			name, value := c.Set.Content[j], c.Set.Content[j+1]
			here := keys.Join(path, "set."+keys.Short(name.Value))
			b.Places[here] = b.Place(name)
			if value.Kind == yaml.MappingNode {
				b.At(here, "keys within keys", "write the whole path: "+flat(name.Value, value))
				continue
			}
			known := slices.IndexFunc(b.s.Inputs, func(in Input) bool { return in.Key == name.Value }) >= 0
			if !known {
				b.Places[keys.Join(here, "key")] = b.Place(name)
				if b.input(name.Value, here, nil, false) == nil {
					continue
				}
			}
			if slices.ContainsFunc(one.sets, func(s scenarios.Set) bool { return s.Key == name.Value }) {
				b.At(here, "given twice", "set each key once")
				continue
			}
			if _, k, ok := keys.Find(b.base, name.Value); ok && b.fits(value, k, here) {
				one.sets = append(one.sets, scenarios.Set{Key: name.Value, Value: scenarios.Value{Node: value}, Beside: b.s.Name})
			}
		}
		b.s.cases = append(b.s.cases, one)
	}
	b.s.varied = len(b.s.Inputs)
}
