package scenarios

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"reflect"

	"muralheat/scenarios/keys"
)

// Identity tells cases apart: it is equal for scenarios that differ at most in what describes
// them.
func (s *Scenario) Identity() string {
	h := sha256.New()
	keys.Walk(reflect.ValueOf(s.File), "", func(path string, v reflect.Value) {
		if !Describes(path) {
			fmt.Fprintf(h, "%s=%s\n", path, Printed(v))
		}
	})
	return hex.EncodeToString(h.Sum(nil)[:16])
}
