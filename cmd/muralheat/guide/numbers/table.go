package main

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"

	"muralheat/output/record"
	"muralheat/scenarios"
	"muralheat/scenarios/keys"
	"muralheat/thermal"
)

// table is a table of the guide: an example, and what each change of it does. Without a page it has one column,
// and its numbers stand in sentences.
type table struct {
	block
	first   string // heading of the first column
	tries   string // heading of the values that keys have, "values tried" if empty
	example string
	base    []setting // what all rows share
	columns []column
	rows    []row
	ranked  bool // rows stand in the order of what they move in the first column; those that move nothing are named below
}

// column is a result of summary.csv, rounded to digits behind the point.
type column struct {
	heading, name string
	digits        int
}

// row is a change of the example, or a key with several values.
type row struct {
	label   string
	example string // instead of that of the table
	set     []setting
	key     string // has each of the values in turn
	values  []string
	usual   string                  // that of the values which the example has, in bold; "" for none
	value   func() (float64, error) // in place of a run
}

// setting gives a key another value, as YAML.
type setting struct{ key, value string }

// change is a row in which keys have other values: key, value, key, value.
func change(label string, keyValue ...string) row {
	return row{label: label, set: settings(keyValue...)}
}

func settings(keyValue ...string) []setting {
	var all []setting
	for i := 0; i < len(keyValue); i += 2 {
		all = append(all, setting{keyValue[i], keyValue[i+1]})
	}
	return all
}

// tried is a row in which a key has several values.
func tried(key string, values ...string) row {
	return row{label: "`" + key + "`", key: key, values: values}
}

// meshes is a row with the meshes of an example.
func meshes(example string) row {
	return row{label: "`" + example + "`", example: example, key: "numerics.quality", values: []string{"standard", "fine"}}
}

// with is the row with more keys set, and words for that.
func (r row) with(words string, keyValue ...string) row {
	r.label += ", " + words
	r.set = settings(keyValue...)
	return r
}

// tries returns the values of the row's key, an empty one for a row that has none.
func (r row) tries() []string {
	if r.key == "" {
		return []string{""}
	}
	return r.values
}

// cells counts the numbers of the table.
func (t table) cells() (n int) {
	for _, r := range t.rows {
		n += len(r.tries()) * len(t.columns)
	}
	return n
}

// compute returns the results of one row.
func (t table) compute(r row) ([]result, error) {
	if r.value != nil {
		v, err := r.value()
		return []result{{t.name, r.label, "", t.columns[0].name, v}}, err
	}
	var out []result
	for _, v := range r.tries() {
		values, err := t.simulate(r, v)
		if err != nil {
			return nil, fmt.Errorf("%s %s: %w", r.key, v, err)
		}
		for i, c := range t.columns {
			out = append(out, result{t.name, r.label, v, c.name, values[i]})
		}
	}
	return out, nil
}

// simulate returns the columns of one case. A run that fails a self-check is an error: it is no number for a
// guide.
func (t table) simulate(r row, v string) ([]float64, error) {
	c, columns, err := t.problem(r, v)
	if err != nil {
		return nil, err
	}
	of, err := thermal.Simulate(context.Background(), c, thermal.Options{})
	if err != nil {
		return nil, err
	}
	for _, check := range record.Checks(of) {
		if !check.OK {
			return nil, fmt.Errorf("a self-check failed: %s", check)
		}
	}
	var out []float64
	for _, k := range columns {
		out = append(out, k.Number(of))
	}
	return out, nil
}

// problem returns the case of a row with one of its values, and the columns of it that the table shows.
func (t table) problem(r row, v string) (*thermal.Case, []record.Column, error) {
	set := slices.Concat(t.base, r.set)
	if r.key != "" {
		set = append(set, setting{r.key, v})
	}
	s, err := changed(cmp.Or(r.example, t.example), set)
	if err != nil {
		return nil, nil, err
	}
	c := s.Case()
	all := record.SummaryColumns(&c)
	var out []record.Column
	for _, col := range t.columns {
		i := slices.IndexFunc(all, func(k record.Column) bool { return k.Name == col.name && k.Number != nil })
		if i < 0 {
			return nil, nil, fmt.Errorf("no column %s", col.name)
		}
		out = append(out, all[i])
	}
	return &c, out, nil
}

// changed returns an example in which keys have other values.
func changed(example string, set []setting) (*scenarios.Scenario, error) {
	e, ok := scenarios.FindExample(example)
	if !ok {
		return nil, fmt.Errorf("no example %s", example)
	}
	s, err := e.Scenario()
	if err != nil {
		return nil, err
	}
	var sets []scenarios.Set
	for _, x := range set {
		var n yaml.Node
		if err := yaml.Load([]byte(x.value), &n); err != nil {
			return nil, err
		}
		sets = append(sets, scenarios.Set{Key: x.key, Value: scenarios.Value{Node: n.Content[0]}})
	}
	return s.With(sets...)
}

// render returns the table as Markdown from what is kept.
func (t table) render(kept []result) (string, error) {
	head := []string{t.first}
	several := slices.ContainsFunc(t.rows, func(r row) bool { return r.key != "" })
	if several {
		head = append(head, cmp.Or(t.tries, "values tried"))
	}
	for _, c := range t.columns {
		head = append(head, c.heading)
	}
	var b strings.Builder
	line := func(cells []string) { b.WriteString("| " + strings.Join(cells, " | ") + " |\n") }
	line(head)
	line(slices.Repeat([]string{"---"}, len(head)))
	rows, still := t.order(kept)
	for _, r := range rows {
		cells := []string{r.label}
		if several {
			cells = append(cells, r.tried())
		}
		for _, c := range t.columns {
			cell, err := t.cell(kept, r, c)
			if err != nil {
				return "", err
			}
			cells = append(cells, cell)
		}
		line(cells)
	}
	if len(still) > 0 {
		var names []string
		for _, r := range still {
			names = append(names, r.label+" ("+r.tried()+")")
		}
		b.WriteString("\nNo change to these digits: " + strings.Join(names, "; ") + ".\n")
	}
	return b.String(), nil
}

// tried writes the values of the row's key with their unit.
func (r row) tried() string {
	values := slices.Clone(r.values)
	for i, v := range values {
		if v == r.usual {
			values[i] = "**" + v + "**"
		}
	}
	return strings.TrimSpace(strings.Join(values, ", ") + " " + strings.Replace(keys.UnitOf(r.key), "percent", "%", 1))
}

// cell returns what came out for a row, one number for each value of its key.
func (t table) cell(kept []result, r row, c column) (string, error) {
	var texts []string
	for _, v := range r.tries() {
		i := slices.IndexFunc(kept, func(k result) bool {
			return k.table == t.name && k.row == r.label && k.tried == v && k.column == c.name
		})
		if i < 0 {
			return "", fmt.Errorf("%s has no %s of %q: run go generate ./cmd/muralheat", resultsName, c.name, r.label)
		}
		texts = append(texts, rounded(kept[i].value, c.digits))
	}
	return strings.Join(texts, ", "), nil
}

// rounded writes a number with so many digits behind the point; a value that there is none of, as the time of
// a cut that was not made, is the word not.
func rounded(v float64, digits int) string {
	if math.IsNaN(v) {
		return "not"
	}
	text := strconv.FormatFloat(v, 'f', digits, 64)
	if strings.Trim(text, "-0.") == "" { // no minus before nought
		text = strings.TrimPrefix(text, "-")
	}
	return text
}
