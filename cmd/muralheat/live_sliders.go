package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"muralheat/output/page"
	"muralheat/output/phrase"
	"muralheat/scenarios"
	"muralheat/scenarios/keys"
	"muralheat/scenarios/plan"
	"muralheat/thermal/tissue"
)

// slider is what can be chosen on a live page: level by level what it sets of the scenario.
type slider struct {
	page.Choice
	sets  [][]scenarios.Set
	start int // the level of the scenario itself, or the nearest
}

// mostLevels is how many levels a slider may have: more than a hand can tell apart.
const mostLevels = 201

// slidersOf returns what a plan varies.
func slidersOf(p *plan.Sweep) ([]slider, error) {
	if p.Draws > 1 {
		return nil, wrong("live: %s draws uncertain keys, so each setting is many cases; leave uncertain out", p.Name)
	}
	if p.Named() {
		all := slider{Choice: page.Choice{Title: "case", Words: true}}
		for i := range p.Len() {
			all.Levels, all.sets = append(all.Levels, p.CaseTitle(i)), append(all.sets, p.Sets(i))
		}
		return []slider{all}, nil
	}
	var list []slider
	for n, values := range p.Levels() {
		in := p.Inputs[n]
		if len(values) > mostLevels {
			return nil, wrong("live: %s: %d values of %s; at most %d", p.Name, len(values), in.Key, mostLevels)
		}
		title := in.Title
		if title == in.Key {
			title = phrase.Key(in.Key, in.Unit)
		}
		list = append(list, sliderOf(p.Base, in.Key, title, values))
	}
	if len(list) == 0 {
		return nil, wrong("live: %s varies nothing; give vary, or cases", p.Name)
	}
	return list, nil
}

// sliderOf makes a slider of the values of a key: numbers in ascending order, or words.
func sliderOf(base *scenarios.Scenario, key, title string, values []scenarios.Value) slider {
	own := valueIn(base, key)
	x := slider{Choice: page.Choice{Title: title}}
	for _, v := range values {
		_, number := v.Number()
		x.Words = x.Words || !number
	}
	if !x.Words {
		values = slices.Clone(values)
		slices.SortFunc(values, func(a, b scenarios.Value) int {
			u, _ := a.Number()
			v, _ := b.Number()
			return int(math.Copysign(1, u-v))
		})
	}
	nearest := math.Inf(1)
	for n, v := range values {
		name := v.String()
		if u, number := v.Number(); number {
			name = strings.TrimSpace(phrase.Short(u) + " " + phrase.UnitText(keys.UnitOf(key)))
			if at, err := strconv.ParseFloat(own, 64); err == nil && math.Abs(u-at) < nearest {
				x.start, nearest = n, math.Abs(u-at)
			}
		} else if name == own {
			x.start = n
		}
		x.Levels, x.sets = append(x.Levels, name), append(x.sets, []scenarios.Set{{Key: key, Value: v}})
	}
	return x
}

// valueIn is the value of a key in a scenario, given or by default; "" if it has none.
func valueIn(s *scenarios.Scenario, key string) (value string) {
	keys.Walk(reflect.ValueOf(s.File), "", func(path string, v reflect.Value) {
		if path == key {
			value = scenarios.Printed(v)
		}
	})
	return value
}

// askedSliders returns the sliders of --vary: KEY=FROM..TO, KEY=FROM..TO/STEPS or KEY=VALUE,VALUE,...
func askedSliders(base *scenarios.Scenario, words []string) ([]slider, error) {
	var text strings.Builder
	fmt.Fprintf(&text, "title: live\nscenario: %s\ndesign: one-at-a-time\nvary:\n", quoted(base.Name)) // each is tried with what the scenario has else
	for _, word := range words {
		key, values, ok := strings.Cut(word, "=")
		if !ok || key == "" || values == "" {
			return nil, wrong("live: --vary %q; write KEY=FROM..TO or KEY=VALUE,VALUE, as in current.power_W=1..10", word)
		}
		if from, to, ranged := strings.Cut(values, ".."); ranged {
			to, steps, given := strings.Cut(to, "/")
			if !given {
				steps = strconv.Itoa(rangeSteps)
			}
			n, err := strconv.Atoi(steps)
			a, errA := strconv.ParseFloat(from, 64)
			b, errB := strconv.ParseFloat(to, 64)
			if err != nil || n < 2 || n > mostLevels || errA != nil || errB != nil || !finite(a) || !finite(b) {
				return nil, wrong("live: --vary %q; a range is FROM..TO or FROM..TO/N with 2 to %d values, as in current.power_W=1..10/19", word, mostLevels)
			}
			fmt.Fprintf(&text, "  - {key: %s, from: %s, to: %s, steps: %d}\n", quoted(key), keys.Text(a), keys.Text(b), n)
			continue
		}
		var list []string
		for _, v := range strings.Split(values, ",") {
			v = strings.TrimSpace(v)
			if x, err := strconv.ParseFloat(v, 64); err == nil && finite(x) {
				v = keys.Text(x)
			} else if v != "true" && v != "false" {
				v = quoted(v)
			}
			list = append(list, v)
		}
		fmt.Fprintf(&text, "  - {key: %s, values: [%s]}\n", quoted(key), strings.Join(list, ", "))
	}
	p, err := plan.Parse("--vary", []byte(text.String()), func(string) (*scenarios.Scenario, error) { return base, nil })
	var problems keys.Problems
	if errors.As(err, &problems) {
		return nil, wrong("live: --vary: %s; %s", problems[0].Wrong, problems[0].Right)
	}
	if err != nil {
		return nil, err
	}
	return slidersOf(p)
}

// rangeSteps is how many values a range has that says nothing of it.
const rangeSteps = 10

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// quoted is a text as YAML takes it: that of JSON.
func quoted(s string) string {
	text, _ := json.Marshal(s) // never fails
	return string(text)
}

// usual are the sliders where none are asked for, each if the scenario has the key: shares of its own value, or values
// beside it. Assumption: what a class asks of first.
var usual = []struct {
	key, title string
	shares     bool
	values     []float64
}{
	{"current.power_W", "power", true, []float64{0.25, 0.5, 0.75, 1, 1.5, 2, 3, 4}},
	{"current.on_s", "time with current", true, []float64{0.25, 0.5, 0.75, 1, 1.5, 2, 3, 4}},
	{"motion.speed_mm_s", "speed", true, []float64{0.25, 0.5, 0.75, 1, 1.5, 2, 3, 4}},
	{"current.duty_cycle_percent", "duty cycle", false, []float64{5, 10, 25, 50, 75, 100}},
	{"current.limits.peak_voltage_V", "peak voltage at most", false, []float64{50, 100, 150, 200, 300, 500, 1000, 2000, 4000}},
}

// usualSliders returns the sliders of a scenario without any of its own.
func usualSliders(base *scenarios.Scenario) ([]slider, error) {
	given := map[string]bool{}
	for _, s := range base.Settings() {
		given[s.Key] = s.Given
	}
	var list []slider
	offer := func(key, title string, values []scenarios.Value) {
		values = slices.DeleteFunc(values, func(v scenarios.Value) bool {
			_, err := base.With(scenarios.Set{Key: key, Value: v})
			return err != nil // it does not go together with what the scenario has
		})
		if len(values) > 1 {
			list = append(list, sliderOf(base, key, title, values))
		}
	}
	for _, u := range usual {
		own, err := strconv.ParseFloat(valueIn(base, u.key), 64)
		if err != nil || own <= 0 || u.key == "current.on_s" && !given[u.key] { // else the current follows the track
			continue
		}
		numbers := []float64{own}
		for _, v := range u.values {
			if u.shares {
				v *= own
			}
			numbers = append(numbers, v)
		}
		slices.Sort(numbers)
		var values []scenarios.Value
		for _, v := range slices.Compact(numbers) {
			values = append(values, scenarios.Number(v))
		}
		offer(u.key, u.title, values)
	}
	if site, ok := tissue.FindSite(valueIn(base, "wall.site")); ok {
		var values []scenarios.Value
		for _, s := range tissue.Sites() {
			if s.BodyWall == site.BodyWall {
				values = append(values, scenarios.Word(s.Name))
			}
		}
		offer("wall.site", "site", values)
	}
	if len(list) == 0 {
		return nil, wrong("live: %s has none of the usual sliders; name some, as in --vary current.power_W=1..10", base.Name)
	}
	return list, nil
}
