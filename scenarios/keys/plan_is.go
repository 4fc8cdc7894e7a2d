package keys

import (
	"reflect"

	"go.yaml.in/yaml/v4"
)

// IsPlanText reports whether a text reads as a plan rather than a scenario: it is a mapping with the key scenario.
func IsPlanText(name string, data []byte) bool { return hasKey(name, data, "scenario") }

// IsProcedureText reports whether a text reads as a procedure: it is a mapping with the key steps.
func IsProcedureText(name string, data []byte) bool { return hasKey(name, data, "steps") }

func hasKey(name string, data []byte, key string) bool {
	if len(data) > MaxBytes {
		return false
	}
	root := Parse(NewReport(name, "plan", reflect.TypeFor[PlanFile]()), data)
	for i := 0; root != nil && root.Kind == yaml.MappingNode && i+1 < len(root.Content); i += 2 {
		if root.Content[i].Value == key {
			return true
		}
	}
	return false
}

// MaxBytes is the largest file that is read: a scenario fits on a few pages.
const MaxBytes = 1 << 20
