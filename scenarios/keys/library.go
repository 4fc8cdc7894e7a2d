package keys

import "muralheat/thermal/tissue"

// libraryNames returns what can be chosen of the tissue library.
func libraryNames(kind string) []string {
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
	default:
		panic("scenarios: no library of " + kind)
	}
	return names
}
