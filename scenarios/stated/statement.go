// Package stated holds what a person states before a result is computed: question, context of use, decision, and the
// evidence asked for. It is written into a folder with its time and a checksum before the first case is computed.
package stated

import (
	"reflect"

	"muralheat/scenarios"
	"muralheat/scenarios/keys"
)

// Statement is what was stated. Empty strings are what was not.
type Statement struct {
	Question           string            `json:"question,omitempty"`
	ContextOfUse       string            `json:"context_of_use,omitempty"`
	Decision           string            `json:"decision"`
	Influence          string            `json:"influence"` // of the model on it: low, medium, high
	InfluenceBecause   string            `json:"influence_because,omitempty"`
	Consequence        string            `json:"consequence"` // of a wrong one: low, medium, high
	ConsequenceBecause string            `json:"consequence_because,omitempty"`
	Goals              map[string]string `json:"goals,omitempty"` // gradation by factor
}

// Of returns the statement of a scenario or a plan; the zero value if it states no decision.
func Of(question, use string, d *keys.Decision) Statement {
	if d == nil {
		return Statement{}
	}
	s := Statement{question, use, keys.Word(d.For), keys.Word(d.Influence), keys.Word(d.InfluenceBecause), keys.Word(d.Consequence), keys.Word(d.ConsequenceBecause), nil}
	if d.Goals == nil {
		return s
	}
	goals := reflect.ValueOf(d.Goals).Elem()
	for _, k := range keys.KeysOf(goals.Type()) {
		if g, _ := goals.FieldByIndex(k.Index).Interface().(*string); g != nil {
			if s.Goals == nil {
				s.Goals = map[string]string{}
			}
			s.Goals[k.Name] = *g
		}
	}
	return s
}

// Made reports whether a decision is stated.
func (s Statement) Made() bool { return s.Decision != "" }

// Lines says it in words, a line for each thing stated.
func (s Statement) Lines() [][2]string {
	because := func(level, why string) string {
		if why == "" {
			return level
		}
		return level + ": " + why
	}
	return [][2]string{{"decision", s.Decision}, {"influence of the model", because(s.Influence, s.InfluenceBecause)}, {"consequence of error", because(s.Consequence, s.ConsequenceBecause)}}
}

// OfScenario returns the statement of a scenario.
func OfScenario(s *scenarios.Scenario) Statement {
	return Of(keys.Word(s.File.Question), keys.Word(s.File.ContextUse), s.File.Decision)
}
