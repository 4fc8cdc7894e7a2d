package procedure

import (
	"cmp"
	"errors"
	"fmt"
	"strings"

	"go.yaml.in/yaml/v4"

	"muralheat/scenarios"
	"muralheat/scenarios/keys"
	"muralheat/scenarios/plan"
)

// Plan returns the plan of all steps of some procedures: a named case each. Names of the cases of more than one
// procedure begin with a, b, ...
func Plan(title string, all []*Procedure) (*plan.Sweep, error) { return planOf(title, all, nil) }

// usualDraws gives a probability of a half to 15 percent (95 %).
const usualDraws = 40

// Drawn returns the same plan with what is uncertain drawn, so many times at each step; 0: as many as the first of the
// procedures says. A draw is the same wall and the same constants in every step.
func Drawn(title string, all []*Procedure, draws int) (*plan.Sweep, error) {
	more := map[string]*yaml.Node{"uncertain": all[0].uncertain(all), "seed": at(all[0].root, "seed"), "draws": at(all[0].root, "draws")}
	if more["draws"] == nil || draws > 0 {
		more["draws"] = number(float64(cmp.Or(draws, usualDraws)))
	}
	if len(more["uncertain"].Content) == 0 {
		return nil, errors.New("nothing is uncertain: the wall is given layer by layer, and no step has a value of the library with a range; give uncertain")
	}
	return planOf(title, all, more)
}

// CaseName returns the name that a step has in the plan of some procedures, of which its own is number n, from 0.
func CaseName(s Step, n, of int) string {
	if of == 1 || s.Name == "" {
		return s.Name
	}
	return string(rune('a'+n)) + s.Name
}

// planOf makes the text of a plan and reads it. More are further keys of the plan.
func planOf(title string, all []*Procedure, more map[string]*yaml.Node) (*plan.Sweep, error) {
	cases := &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq"}
	var first *scenarios.Scenario
	var names []string
	for n, p := range all {
		names = append(names, p.Name)
		for _, s := range p.Cases() {
			if first == nil {
				first = s.Scenario
			}
			cases.Content = append(cases.Content, mapping(word("name"), word(CaseName(s, n, len(all))), word("title"), word(s.Title), word("scenario"), nodeOf(s.Scenario)))
		}
	}
	root := mapping(word("title"), word(title))
	for _, x := range []struct{ key, text string }{{"question", all[0].Question}, {"context_of_use", all[0].ContextOfUse}, {"scenario", "scenario.yaml"}} {
		if x.text != "" {
			root.Content = append(root.Content, word(x.key), word(x.text))
		}
	}
	root.Content = append(root.Content, word("cases"), cases)
	for _, key := range []string{"uncertain", "draws", "seed", "limit"} {
		if n := more[key]; n != nil {
			root.Content = append(root.Content, word(key), n)
		}
	}
	text := append([]byte("# The steps of "+strings.Join(names, " and ")+".\n# "+scenarios.Caution+"\n"), keys.Dump(root)...)
	return plan.Parse(all[0].Name, text, func(string) (*scenarios.Scenario, error) { return withSheets(first, all) })
}

// withSheets returns a scenario that knows the source sheets of all procedures.
func withSheets(s *scenarios.Scenario, all []*Procedure) (*scenarios.Scenario, error) {
	texts := map[string]string{}
	for _, p := range all {
		for name, text := range p.Cases()[0].Scenario.Sheets() {
			if other, there := texts[name]; there && other != text {
				return nil, keys.Problems{{File: p.Name, Key: "sheet", Wrong: keys.Quote(name) + " is another sheet than that of " + all[0].Name + " under the same name", Right: "give one of them another name: results name the sheet"}}
			}
			texts[name] = text
		}
	}
	base, err := scenarios.ParseStored(s.Name, s.Text(), texts)
	if err != nil || len(s.Sets()) == 0 {
		return base, err
	}
	return base.With(s.Sets()...)
}

// nodeOf returns what a scenario says.
func nodeOf(s *scenarios.Scenario) *yaml.Node {
	return keys.Parse(keys.NewReport(s.Name, "scenario", nil), s.Text())
}

// tryUncertain checks what is to be drawn.
func (r *reader) tryUncertain() {
	for i, u := range r.file.Uncertain {
		if here := keys.Join(keys.Item("uncertain", i, ""), "key"); u.Key != nil && r.p.fixedBefore(*u.Key) {
			r.At(here, fmt.Sprintf("draws of %s do not reach a step on whose place another is done", *u.Key), "give a key that the step leaves open, or one of the wall or of physics")
		}
	}
	if len(r.Problems) > 0 {
		return
	}
	if _, err := Drawn(r.p.Title, []*Procedure{r.p}, 0); err != nil {
		r.elsewhere(err, "uncertain")
	}
}

// elsewhere notes problems of the plan that was made of this file at the keys that it was made of.
func (r *reader) elsewhere(err error, key string) {
	var ps keys.Problems
	if !errors.As(err, &ps) {
		r.At(key, err.Error(), "")
		return
	}
	for _, p := range ps {
		here := p.Key
		switch {
		case here == "limit.above":
			here = "limit.margin_mm"
		case !strings.HasPrefix(here, key) && !r.Given(here):
			here = key
		}
		r.At(here, p.Wrong, p.Right)
	}
}
