package procedure

import (
	"slices"

	"go.yaml.in/yaml/v4"

	"muralheat/scenarios"
	"muralheat/scenarios/keys"
	"muralheat/thermal/drive"
)

const padKey = "neutral_electrode"

// padScenario is the scenario of the neutral electrode without its current.
type padScenario struct{ node *yaml.Node }

// usualPad is the neutral electrode of a procedure that says nothing of it.
const usualPad = `{scene: neutral-electrode, wall: {site: thigh}, pad: {area_cm2: 110}}`

// UsualPad says what that is, and where it comes from.
const UsualPad = "110 cm2 on a thigh, in full contact (assumption: as the starter file pad-full)"

// pad reads the scenario of the neutral electrode, with a current that stands for those of the steps.
func (r *reader) pad() {
	const here = padKey
	n := r.file.Pad
	elsewhere := n == nil
	switch {
	case n == nil:
		n = keys.Parse(r.Report, []byte(usualPad))
	case n.Kind == yaml.ScalarNode:
		elsewhere = true
		if n = r.fileNode(n, here); n == nil {
			return
		}
	case !r.keysOnly(here, n):
		return
	case index(n, "scene") < 0:
		n = with(n, "scene", word("neutral-electrode"))
	}
	if c := at(n, "current"); c != nil && !elsewhere {
		r.Add(here+".current", r.Place(c), "the current is that of the steps", "leave it out")
		return
	}
	r.p.padNode.node = without(n, "current")
	sets := r.sets
	r.sets = nil // they are those of the steps
	r.checked(r.p.padNode.with("Neutral electrode", []drive.Span{{CurrentA: 0.1, OnS: 1}}), here, elsewhere)
	r.sets = sets
}

// with returns the scenario under activations.
func (p padScenario) with(title string, spans []drive.Span) *yaml.Node {
	list := &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq"}
	for _, s := range spans {
		list.Content = append(list.Content, mapping(word("current_A"), number(s.CurrentA), word("on_s"), number(s.OnS), word("rest_s"), number(s.RestS)))
	}
	return with(with(p.node, "current", mapping(word("activations"), list)), "title", word(title))
}

// Pad returns the scenario of the neutral electrode under all activations of the procedure; flows tells what flows when
// the step of a name is done once, and the rests between.
func (p *Procedure) Pad(flows func(name string) []drive.Span) (*scenarios.Scenario, error) {
	var spans []drive.Span
	for _, s := range p.Steps {
		for n := range s.Times {
			spans = append(spans, flows(s.Name)...)
			if last := len(spans) - 1; n < s.Times-1 {
				spans[last].RestS = s.PauseS
			} else {
				spans[last].RestS = s.RestS
			}
		}
		if last := len(spans) - 1; s.Times == 0 && last >= 0 { // current is off in a step without
			spans[last].RestS += s.RestS
		}
	}
	n := p.padNode.with("Neutral electrode under the whole list: "+p.Title, spans)
	if slices.ContainsFunc(p.Steps, func(s Step) bool { return s.Scenario != nil && s.Scenario.Case().Invented }) {
		n = with(n, "invented", &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!bool", Value: "true"})
	}
	return scenarios.ParseNode(p.Name, n, nil)
}
