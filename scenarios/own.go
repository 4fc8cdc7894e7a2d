package scenarios

import (
	"strings"
	"sync"

	"muralheat/scenarios/keys"
)

// Own returns the settings that make this case, in the order of a file: those given, the thickness of each layer, and
// defaults that are not the same in the built-in scenario. What stands for a tissue is left out.
func (s *Scenario) Own() []Setting {
	var own []Setting
	usual := usualDefaults()
	for _, set := range s.Settings() {
		_, key, _ := keys.InBefore(set.Key)
		value, ok := usual[key]
		switch {
		case set.Given, strings.HasPrefix(set.Source, sheetSource), strings.HasPrefix(set.Key, wallKeys) && strings.HasSuffix(set.Key, ".thickness_mm"):
		case strings.HasPrefix(set.Key, wallKeys), strings.HasSuffix(keys.Parent(set.Key), ".material"), ok && value == set.Value:
			continue
		}
		own = append(own, set)
	}
	return own
}

// usualDefaults returns what the built-in scenario leaves out, by key.
var usualDefaults = sync.OnceValue(func() map[string]string {
	e, _ := FindExample(BuiltIn)
	s, err := e.Scenario()
	if err != nil {
		panic("scenarios: " + err.Error()) // it is part of the binary
	}
	usual := map[string]string{}
	for _, set := range s.Settings() {
		if !set.Given {
			usual[set.Key] = set.Value
		}
	}
	return usual
})
