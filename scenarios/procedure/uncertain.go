package procedure

import (
	"math"
	"slices"

	"go.yaml.in/yaml/v4"

	"muralheat/scenarios"
	"muralheat/scenarios/keys"
	"muralheat/thermal/tissue"
)

// matters are the keys with a range in the library that move depths most (muralheat guide accuracy, what the ranges of
// the library are worth): the wall alone would make results look surer than they are.
var matters = []string{
	"electrode.contact_radius_mm", "electrode.heat_transfer_W_m2K", "motion.mobility_mm_s_kPa",
	"physics.coagulated_conductivity_rise_percent", "physics.conductivity_per_K", "physics.conductivity_threshold", "physics.dry_conductivity_share",
	"physics.spark_kV_mm", "physics.spark_onset_V", "physics.steam_vent_share", "physics.steam_wet_share", "physics.vaporised_share",
}

// uncertain returns what is drawn in procedures that are computed together: what this one says, else the thickness of
// each layer of its site within the range of the library, and the keys that matter most within theirs.
func (p *Procedure) uncertain(all []*Procedure) *yaml.Node {
	if n := at(p.root, "uncertain"); n != nil {
		return n
	}
	list := &yaml.Node{Kind: yaml.SequenceNode, Tag: "!!seq"}
	if n := at(at(p.root, "wall"), "site"); n != nil {
		site, _ := tissue.FindSite(n.Value)
		for i, l := range site.Layers {
			if v := l.ThicknessMM; v.Low < v.High {
				list.Content = append(list.Content, drawn(scenarios.Range{Key: keys.Item("wall.layers", i, l.Name) + ".thickness_mm", Low: v.Low, Value: v.Value, High: v.High}))
			}
		}
	}
	var ranges []scenarios.Range
	for _, one := range all {
		for _, s := range one.Cases() {
			ranges = append(ranges, s.Scenario.Ranges()...)
		}
	}
	for _, key := range matters {
		same := slices.DeleteFunc(slices.Clone(ranges), func(r scenarios.Range) bool { return r.Key != key })
		if len(same) > 0 && !slices.ContainsFunc(all, func(p *Procedure) bool { return p.fixedBefore(key) }) && !slices.ContainsFunc(same, func(r scenarios.Range) bool { return r != same[0] }) { // one draw stands for all steps
			list.Content = append(list.Content, drawn(same[0]))
		}
	}
	return list
}

// wide is the ratio of the ends of a range from which on it is drawn by ratios rather than by differences.
const wide = 20

// drawn is the distribution of a range (assumption): triangular about the value of the library; lognormal, with the ends
// two standard deviations away, where the ends are far apart.
func drawn(r scenarios.Range) *yaml.Node {
	ends := []*yaml.Node{word("low"), number(r.Low), word("high"), number(r.High)}
	if r.Low > 0 && r.High > wide*r.Low {
		gsd := number(math.Sqrt(math.Sqrt(r.High / r.Low)))
		return mapping(word("key"), word(r.Key), word("lognormal"), mapping(word("median"), number(r.Value), word("gsd"), gsd), word("within"), mapping(ends...))
	}
	return mapping(word("key"), word(r.Key), word("triangular"), mapping(append(ends, word("mode"), number(r.Value))...))
}
