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
		if _, _, earlier := keys.InBefore(path); earlier { // a value set for the electrode holds there too
			return
		}
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

// TissueRanges returns the keys of layers whose values were filled in from a site or a tissue of the library that has a range
// for them, in the order of a file.
func (s *Scenario) TissueRanges() []Range {
	var ranges []Range
	add := func(key, name string, value float64, x tissue.Value) {
		if x.Low < x.High && x.Value > 0 && !s.given(key) {
			at := func(end float64) float64 { return threeDigits(value * end / x.Value) } // a stretched layer has its range stretched
			ranges = append(ranges, Range{key, name, at(x.Low), value, at(x.High)})
		}
	}
	number := map[string]float64{}
	keys.Walk(reflect.ValueOf(s.File), "", func(path string, v reflect.Value) {
		if v.Kind() == reflect.Float64 {
			number[path] = v.Float()
		}
	})
	hz := number["current.frequency_kHz"] * 1e3
	keys.Walk(reflect.ValueOf(s.File), "", func(path string, v reflect.Value) {
		layer, ok := strings.CutSuffix(path, ".tissue")
		if t, known := tissue.FindTissue(v.String()); ok && known {
			for _, x := range tissueValues {
				key := layer + ".material." + x.key
				if value, there := number[key]; there {
					add(key, "tissue "+t.Name, value, x.pick(t, hz))
				}
			}
		}
	})
	if s.File.Wall != nil && s.File.Wall.Site != nil {
		if site, ok := tissue.FindSite(*s.File.Wall.Site); ok {
			for i, l := range site.Layers {
				key := keys.Item(wallKeys, i, l.Name) + ".thickness_mm"
				if value, there := number[key]; there {
					add(key, "site "+site.Name, value, l.ThicknessMM)
				}
			}
		}
	}
	return ranges
}

// threeDigits is v as it is written with three digits.
func threeDigits(v float64) float64 {
	v, _ = strconv.ParseFloat(strconv.FormatFloat(v, 'g', 3, 64), 64) // a number that was just written
	return v
}
