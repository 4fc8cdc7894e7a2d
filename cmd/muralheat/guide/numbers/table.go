package main

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"

	"muralheat/output/record"
	"muralheat/scenarios"
	"muralheat/thermal"
)

// table is a table of the guide: an example, and what each change of it does.
type table struct {
	block
	example string
	columns []column
	rows    []row
}

// column is a result of summary.csv, rounded to digits behind the point.
type column struct {
	heading, name string
	digits        int
}

// row is a change of the example.
type row struct {
	label string
	set   []setting
}

// setting gives a key another value, as YAML.
type setting struct{ key, value string }

// compute returns the results of one row. A run that fails a self-check is an error: it is no number for a
// guide.
func (t table) compute(r row) ([]result, error) {
	e, ok := scenarios.FindExample(t.example)
	if !ok {
		return nil, fmt.Errorf("no example %s", t.example)
	}
	s, err := scenarios.Parse(e.Name, e.Text)
	if err != nil {
		return nil, err
	}
	var sets []scenarios.Set
	for _, x := range r.set {
		var n yaml.Node
		if err := yaml.Load([]byte(x.value), &n); err != nil {
			return nil, err
		}
		sets = append(sets, scenarios.Set{Key: x.key, Value: scenarios.Value{Node: n.Content[0]}})
	}
	if s, err = s.With(sets...); err != nil {
		return nil, err
	}
	c := s.Case()
	of, err := thermal.Simulate(context.Background(), &c, thermal.Options{})
	if err != nil {
		return nil, err
	}
	for _, check := range record.Checks(of) {
		if !check.OK {
			return nil, fmt.Errorf("a self-check failed: %s", check)
		}
	}
	all := record.SummaryColumns(&c)
	var out []result
	for _, col := range t.columns {
		i := slices.IndexFunc(all, func(k record.Column) bool { return k.Name == col.name })
		if i < 0 {
			return nil, fmt.Errorf("no column %s", col.name)
		}
		out = append(out, result{t.name, r.label, col.name, all[i].Number(of)})
	}
	return out, nil
}

// render returns the table as Markdown from what is kept.
func (t table) render(kept []result) (string, error) {
	var b strings.Builder
	b.WriteString("| change |")
	for _, c := range t.columns {
		b.WriteString(" " + c.heading + " |")
	}
	b.WriteString("\n|" + strings.Repeat(" --- |", len(t.columns)+1) + "\n")
	for _, r := range t.rows {
		b.WriteString("| " + r.label + " |")
		for _, c := range t.columns {
			i := slices.IndexFunc(kept, func(k result) bool { return k.table == t.name && k.row == r.label && k.column == c.name })
			if i < 0 {
				return "", fmt.Errorf("%s has no %s of %q: run go generate ./cmd/muralheat", resultsName, c.name, r.label)
			}
			b.WriteString(" " + rounded(kept[i].value, c.digits) + " |")
		}
		b.WriteString("\n")
	}
	return b.String(), nil
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
