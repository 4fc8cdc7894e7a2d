package scenarios

import (
	"math"
	"reflect"
	"strconv"
	"strings"

	"muralheat/scenarios/keys"
	"muralheat/thermal/tissue"
)

// Range is how far off a default may be: what the range of a constant of the library makes of its key,
// in the unit of the key; its ends are rounded to three digits.
type Range struct {
	Key              string
	Constant         string // its name in the library
	Low, Value, High float64
}

// grows holds the power of a constant by which a key grows, where that is not the first.
var grows = map[string]float64{
	"electrode.wire_loss_W_K": 0.5, // a fin: wireLoss
	"loop.wire_loss_W_K":      0.5,
}

// Ranges returns the keys whose values were filled in from a constant of the library that has a range, in the
// order of a file: those whose default cites the source of the constant.
func (s *Scenario) Ranges() []Range {
	var ranges []Range
	keys.Walk(reflect.ValueOf(s.File), "", func(path string, v reflect.Value) {
		if s.given(path) || v.Kind() != reflect.Float64 {
			return
		}
		for _, c := range tissue.Constants() {
			if x := c.Value; x.Low < x.High && strings.Contains(s.sources[path], x.Cited()) {
				power, ok := grows[path]
				if !ok {
					power = 1
				}
				at := func(end float64) float64 { return threeDigits(v.Float() * math.Pow(end/x.Value, power)) }
				ranges = append(ranges, Range{path, c.Name, at(x.Low), v.Float(), at(x.High)})
			}
		}
	})
	return ranges
}

// threeDigits is v as it is written with three digits.
func threeDigits(v float64) float64 {
	v, _ = strconv.ParseFloat(strconv.FormatFloat(v, 'g', 3, 64), 64) // a number that was just written
	return v
}
