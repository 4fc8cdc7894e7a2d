package plan

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"muralheat/scenarios"
	"muralheat/scenarios/keys"
	"muralheat/thermal/tissue"
)

// sourceShare is how far the output of a source may be off its setting: IEC 60601-2-2 allows 20 % (from memory).
const sourceShare = 0.2

// Sensitivity writes a plan that changes one key at a time of the scenario in file: constants of the model and values of tissues and
// sites over the ranges that the library has for them, the damage kinetics among those that mark the same injury, and
// the output of the source by what the standard allows. written tells what of it was filled in; complete is the scenario as it
// stands in the file, and what it does not take is left out. Values that were given and have no range are named in comments.
func Sensitivity(written, complete *scenarios.Scenario, file string) []byte {
	w := sensitivity{complete: complete}
	settings := written.Settings()
	w.heading("output of the source, by what IEC 60601-2-2 allows (from memory)")
	for _, x := range settings {
		if slices.Contains(sourceKeys, x.Key) {
			v, _ := strconv.ParseFloat(x.Value, 64)
			w.ends(x.Key, v*(1-sourceShare), v, v*(1+sourceShare))
		}
	}
	w.heading("constants of the model, ranges of the library")
	ranges := written.Ranges()
	for _, x := range settings {
		switch x.Key {
		case "physics.boil_C":
			if !x.Given {
				w.ends(x.Key, tissue.BoilSpread.Low, tissue.BoilSpread.Value, tissue.BoilSpread.High)
			}
		case "damage.kinetics":
			if !x.Given {
				w.add(x.Key, slices.DeleteFunc(tissue.KineticsAlike(x.Value), func(name string) bool { return name == x.Value }))
			}
		}
		if i := slices.IndexFunc(ranges, func(r scenarios.Range) bool { return r.Key == x.Key }); i >= 0 {
			w.ends(x.Key, ranges[i].Low, ranges[i].Value, ranges[i].High)
		}
	}
	w.heading("tissues and layers, ranges of the library")
	for _, r := range written.TissueRanges() {
		w.ends(r.Key, r.Low, r.Value, r.High)
	}
	var b strings.Builder
	fmt.Fprintf(&b, "title: %s\nscenario: %s\ndesign: one-at-a-time\nvary:\n%s", strconv.Quote(shortened("What does it depend on: "+written.Title())), strconv.Quote(file), w.text.String())
	b.WriteString("# Given, so without a range: add those that you can justify, such as\n")
	for _, x := range settings {
		if v, err := strconv.ParseFloat(x.Value, 64); err == nil && v > 0 && x.Given && !slices.Contains(w.keys, x.Key) && counts(x.Key) {
			fmt.Fprintf(&b, "#  - {key: %s, values: [...]}  # %s %s\n", x.Key, x.Value, x.Unit)
		}
	}
	return []byte(b.String())
}

// sourceKeys are those of the output of the source.
var sourceKeys = []string{"current.power_W", "current.burst_power_W", "current.peak_voltage_V", "current.current_A"}

// counts reports whether a given number is one that a result depends on, not one of how it is computed.
func counts(key string) bool {
	return !strings.HasPrefix(key, "numerics.") && !strings.HasPrefix(key, "domain.") && !strings.HasPrefix(key, "probes") && !scenarios.Describes(key)
}

// shortened cuts a title to what a plan takes.
func shortened(title string) string {
	if r := []rune(title); len(r) > mostTitle {
		return string(r[:mostTitle])
	}
	return title
}

const mostTitle = 120 // of PlanFile.Title

// sensitivity collects the keys of such a plan.
type sensitivity struct {
	complete *scenarios.Scenario
	keys     []string
	text     strings.Builder
	head     string
}

// heading starts a part, if anything stands below it.
func (w *sensitivity) heading(text string) { w.head = "  # " + text + "\n" }

// ends adds a key with the ends of its range that are not its value.
func (w *sensitivity) ends(key string, low, value, high float64) {
	var values []string
	for _, v := range []float64{low, high} {
		v, _ = strconv.ParseFloat(strconv.FormatFloat(v, 'g', 4, 64), 64) // a number that was just written
		if math.Abs(v-value) > 1e-3*math.Abs(value) {
			values = append(values, keys.Text(v))
		}
	}
	w.add(key, values)
}

// add adds a key with those of the values that the scenario takes.
func (w *sensitivity) add(key string, values []string) {
	values = slices.DeleteFunc(values, func(v string) bool {
		set, err := scenarios.ParseSet(key+"="+v, "")
		if err == nil {
			_, err = w.complete.With(set)
		}
		return err != nil
	})
	if len(values) == 0 || slices.Contains(w.keys, key) {
		return
	}
	w.keys = append(w.keys, key)
	fmt.Fprintf(&w.text, "%s  - {key: %s, values: [%s]}\n", w.head, strconv.Quote(key), strings.Join(values, ", "))
	w.head = ""
}
