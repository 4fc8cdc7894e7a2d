package plan

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"

	"go.yaml.in/yaml/v4"

	"muralheat/scenarios"
	"muralheat/scenarios/keys"
)

// Load reads a plan and the scenario it names. A wrong plan returns Problems.
func Load(path string) (*Sweep, error) { return loadPlan(path, scenarios.Load) }

// LoadWith reads a plan and, in place of the scenario it names, that of another file.
func LoadWith(path, scenario string) (*Sweep, error) {
	return loadPlan(path, func(string) (*scenarios.Scenario, error) { return scenarios.Load(scenario) })
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
	b := planner{r, p, &Sweep{Name: name, Title: *p.Title, Question: keys.Word(p.Question), ContextOfUse: keys.Word(p.ContextUse), Base: base, Draws: 1, Design: "none", text: data}, copied.File}
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

// input adds a key to the inputs of the sweep and returns what is known of it; nil if
// there is no such key, or it varies already.
func (b *planner) input(key, path string, title *string, uncertain bool) *keys.Key {
	_, k, ok := keys.Find(b.base, key)
	if !ok || scenarios.Describes(key) {
		right := "`muralheat check` lists the keys of a scenario"
		if near := keys.Near(key, scenarios.Settable(b.base)); near != "" {
			right = "did you mean " + near + "?"
		}
		b.At(keys.Join(path, "key"), keys.Quote(key)+" is not a key of "+b.s.Base.Name, right)
		return nil
	}
	if slices.ContainsFunc(b.s.Inputs, func(in Input) bool { return in.Key == key }) {
		b.At(keys.Join(path, "key"), keys.Quote(key)+" is already in the plan", "name each key once")
		return nil
	}
	in := Input{Key: key, Title: key, Unit: keys.UnitOf(key), Number: k.Kind.Kind() == reflect.Float64, Uncertain: uncertain}
	if title != nil {
		in.Title = *title
	}
	b.s.Inputs = append(b.s.Inputs, in)
	return k
}

// axis reads the values of one varied key.
func (b *planner) axis(v *keys.Vary, path string, filling bool) axis {
	var x axis
	k := b.input(*v.Key, path, v.Title, false)
	if k == nil {
		return x
	}
	ranged := v.From != nil || v.To != nil || v.Steps != nil || v.Spacing != nil
	switch {
	case v.Values != nil && ranged:
		b.At(path, "values together with a range", "give values, or from and to")
		return x
	case v.Values == nil && (v.From == nil || v.To == nil):
		b.At(path, "neither values nor a complete range", "give values, or from and to")
		return x
	case v.Values != nil:
		seen := map[string]bool{}
		for i, n := range v.Values {
			here := keys.Item(keys.Join(path, "values"), i, "")
			if b.fits(n, k, here) {
				value := scenarios.Value{Node: n}
				if seen[value.String()] {
					b.At(here, value.String()+" is already in the list", "give each value once")
				}
				seen[value.String()] = true
				x.list = append(x.list, value)
			}
		}
		return x
	}
	x.from, x.to, x.log = *v.From, *v.To, v.Spacing != nil && *v.Spacing == "log"
	switch {
	case filling && v.Steps != nil:
		b.At(keys.Join(path, "steps"), "has no meaning in a design that fills the range", "leave it out: points gives the number")
	case !filling && v.Steps == nil:
		b.At(path, "a range without steps", "give steps, the number of values")
	case v.Steps != nil && !b.integer(keys.Join(path, "steps"), *v.Steps):
	case x.from == x.to:
		b.At(keys.Join(path, "to"), "is the same as from", "give two different ends, or one value as a list")
	case x.log && (x.from <= 0 || x.to <= 0):
		b.At(keys.Join(path, "spacing"), "log needs both ends above 0", "write linear, or move the ends")
	}
	b.ends(path, k, x.from, x.to)
	if v.Steps != nil {
		n := int(*v.Steps)
		for i := range n {
			x.list = append(x.list, scenarios.Number(interpolate(x.from, x.to, float64(i)/float64(n-1), x.log)))
		}
	}
	return x
}

// ends holds the ends of a range against what the key takes.
func (b *planner) ends(path string, k *keys.Key, from, to float64) {
	for _, end := range []struct {
		name string
		x    float64
	}{{"from", from}, {"to", to}} {
		n := scenarios.Number(end.x).Node
		m := b.Places[keys.Join(path, end.name)]
		n.Line, n.Column = m.Line, m.Column
		b.fits(n, k, keys.Join(path, end.name))
	}
}

// fits reports whether a value is one that the key takes.
func (b *planner) fits(n *yaml.Node, k *keys.Key, path string) bool {
	return b.Scalar(n, reflect.New(k.Kind).Elem(), k, path)
}

func (b *planner) integer(key string, x float64) bool {
	if x != math.Trunc(x) {
		b.At(key, keys.Text(x)+" is not a whole number", "write one")
		return false
	}
	return true
}

// named reads the cases.
func (b *planner) named() {
	b.s.cases, b.s.Design = []namedSets{}, "cases"
	for i, c := range b.p.Cases {
		path := keys.Item("cases", i, keys.Word(c.Name))
		one := namedSets{name: *c.Name}
		if c.Set != nil && c.Set.Kind != yaml.MappingNode {
			b.At(keys.Join(path, "set"), keys.What(c.Set)+" where keys are needed", "write {key: value, ...} with keys of the scenario")
			continue
		}
		for j := 0; c.Set != nil && j+1 < len(c.Set.Content); j += 2 {
			name, value := c.Set.Content[j], c.Set.Content[j+1]
			here := keys.Join(path, "set."+keys.Short(name.Value))
			b.Places[here] = keys.Place(name)
			known := slices.IndexFunc(b.s.Inputs, func(in Input) bool { return in.Key == name.Value }) >= 0
			if !known {
				b.Places[keys.Join(here, "key")] = keys.Place(name)
				if b.input(name.Value, here, nil, false) == nil {
					continue
				}
			}
			if slices.ContainsFunc(one.sets, func(s scenarios.Set) bool { return s.Key == name.Value }) {
				b.At(here, "given twice", "set each key once")
				continue
			}
			if _, k, ok := keys.Find(b.base, name.Value); ok && b.fits(value, k, here) {
				one.sets = append(one.sets, scenarios.Set{Key: name.Value, Value: scenarios.Value{Node: value}})
			}
		}
		b.s.cases = append(b.s.cases, one)
	}
	b.s.varied = len(b.s.Inputs)
}

// tried caps how many cases are built to find what does not go together.
const tried = 1000

// try builds cases to find values that do not go together before anything runs: of a
// grid each value with the first ones of the other keys, else one point after the other.
func (b *planner) try() {
	s := b.s
	check := func(path string, sets []scenarios.Set) { b.build(path, "with this ", sets) }
	switch d := s.design.(type) {
	case grid:
		first := s.Sets(0)
		if check("vary", first); len(b.Problems) > 0 {
			return
		}
		for a, x := range d {
			for i, v := range x.list[:min(len(x.list), tried)] {
				sets := slices.Clone(first)
				sets[a].Value = v
				check(b.valueAt(a, i), sets)
			}
		}
	default:
		for p := range min(s.Points(), tried) {
			path := b.first()
			switch d := d.(type) {
			case nil:
				if s.cases != nil {
					path = keys.Item("cases", p, s.cases[p].name)
				}
			case paired:
				path = b.valueAt(0, p)
			case oneAtATime:
				for a := range d {
					if _, ok := d.at(p, a); ok {
						path = keys.Item("vary", a, "")
					}
				}
			}
			if check(path, s.Sets(p*s.Draws)); len(b.Problems) > 0 {
				return
			}
		}
	}
}

// build finds what does not go together in one case.
func (b *planner) build(path, what string, sets []scenarios.Set) {
	_, err := b.s.Base.With(sets...)
	var ps keys.Problems
	if errors.As(err, &ps) {
		b.At(path, what+ps[0].Key+": "+ps[0].Wrong, ps[0].Right)
	}
}

// valueAt is where the plan says value i of axis a.
func (b *planner) valueAt(a, i int) string {
	path := keys.Item("vary", a, "")
	if here := keys.Item(keys.Join(path, "values"), i, ""); b.Given(here) {
		return here
	}
	return path
}

// first is where a plan says what varies.
func (b *planner) first() string {
	if b.Given("vary") {
		return "vary"
	}
	if b.Given("uncertain") {
		return "uncertain"
	}
	return "scenario"
}
