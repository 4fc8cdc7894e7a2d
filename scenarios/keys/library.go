package keys

import (
	"slices"
	"strings"

	"muralheat/thermal"
	"muralheat/thermal/tissue"
)

// offered returns what can be chosen of the tissue library, or of the tips that can be computed.
func offered(kind string) []string {
	var names []string
	switch kind {
	case "sites":
		for _, s := range tissue.Sites() {
			names = append(names, s.Name)
		}
	case "tissues":
		for _, t := range tissue.Tissues() {
			names = append(names, t.Name)
		}
	case "fluids":
		names = tissue.Fluids()
	case "liquids":
		names = tissue.Liquids()
	case "kinetics":
		for _, k := range tissue.KineticsSets() {
			names = append(names, k.Name)
		}
	case "tips":
		for _, t := range thermal.TipsOf(thermal.OnWall) {
			names = append(names, string(t))
		}
	default:
		panic("scenarios: no library of " + kind)
	}
	return names
}

// near returns the choice that was most likely meant: the site that is said to include it, as the right colon
// does the caecum, or the name that is few letters off.
func (k *Key) near(word string) string {
	if k.From == "sites" {
		for _, s := range tissue.Sites() {
			if slices.Contains(strings.FieldsFunc(s.Title, func(c rune) bool { return c == ' ' || c == ',' }), strings.ToLower(word)) {
				return s.Name
			}
		}
	}
	return Near(word, k.Choices)
}

// Explained says in sentences what each choice of a key means, if names alone do not.
func (k *Key) Explained() string {
	if k.From != "tips" {
		return ""
	}
	var all []string
	for _, name := range k.Choices {
		all = append(all, strings.ToUpper(name[:1])+name[1:]+": "+thermal.Tip(name).About()+".")
	}
	return strings.Join(all, " ")
}

// WrittenOut reports whether a resolved scenario has the values that the choice stands for, so that the
// choice itself is left out.
func (k *Key) WrittenOut() bool { return k.From != "" && k.From != "kinetics" && k.From != "tips" }
