package main

import (
	"cmp"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"muralheat/scenarios/keys"
	"muralheat/thermal/tissue"
)

// worth is a table of what the ranges of the library are worth in a case: a row for each of its defaults that
// comes from a constant with a range, tried at both ends, for each choice of its physics, and for the damage kinetics
// that mark the same injury as the default; one at a time. A constant that the library gains is there by itself.
func worth(name, example string, columns []column, keyValue ...string) table {
	t := table{block: block{"accuracy", name}, first: "key", example: example, base: settings(keyValue...), columns: columns, ranked: true}
	s, err := changed(example, t.base)
	if err != nil {
		panic("numbers: " + name + ": " + err.Error())
	}
	add := func(key, usual string, values []string) {
		r := tried(key, slices.Compact(values)...)
		r.usual = usual
		t.rows = append(t.rows, r)
	}
	for _, r := range s.Ranges() {
		add(r.Key, brief(r.Value), []string{brief(r.Low), brief(r.Value), brief(r.High)})
	}
	for _, x := range s.Settings() {
		if values := choices(x.Key); len(values) > 1 {
			add(x.Key, x.Value, values)
		}
	}
	return t
}

// brief writes a value of a table.
func brief(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) }

// choices returns what may stand at a key of the physics that is a choice, and at the damage kinetics; none elsewhere.
func choices(key string) []string {
	if key == "damage.kinetics" {
		return tissue.KineticsAlike(tissue.DefaultKinetics)
	}
	name, ok := strings.CutPrefix(key, "physics.")
	all := keys.KeysOf(reflect.TypeFor[keys.Physics]())
	i := slices.IndexFunc(all, func(k keys.Key) bool { return k.Name == name })
	if !ok || i < 0 {
		return nil
	}
	return all[i].Choices
}

// order returns the rows as they stand, and those that are only named: of a ranked table the rows that move its first
// column most first, and apart those that move no digit of it. A row that has no number there at some value moves most.
func (t table) order(kept []result) (rows, still []row) {
	if !t.ranked {
		return t.rows, nil
	}
	moves := map[string]float64{}
	for _, r := range t.rows {
		least, most, texts := math.Inf(1), math.Inf(-1), map[string]bool{}
		for _, k := range kept {
			if k.table == t.name && k.row == r.label && k.column == t.columns[0].name {
				least, most = math.Min(least, k.value), math.Max(most, k.value)
				texts[rounded(k.value, t.columns[0].digits)] = true
			}
		}
		moves[r.label] = most - least
		if math.IsNaN(most - least) {
			moves[r.label] = math.Inf(1)
		}
		if len(texts) == 1 {
			still = append(still, r)
			continue
		}
		rows = append(rows, r)
	}
	slices.SortStableFunc(rows, func(a, b row) int { return cmp.Compare(moves[b.label], moves[a.label]) })
	return rows, still
}
