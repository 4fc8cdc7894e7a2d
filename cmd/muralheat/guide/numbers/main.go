// Numbers computes the tables of the guide and writes them into its pages, between
//
//	<!-- numbers: NAME -->
//	<!-- end -->
//
// It is run by go generate ./cmd/muralheat. What each table holds is data, tables.go.
package main

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"

	"go.yaml.in/yaml/v4"

	"muralheat/output/record"
	"muralheat/scenarios"
	"muralheat/thermal"
)

func main() {
	dir := "guide"
	if len(os.Args) > 1 {
		dir = os.Args[1]
	}
	for _, t := range tables {
		text, err := t.compute()
		if err == nil {
			err = t.put(dir, text)
		}
		if err != nil {
			fmt.Fprintln(os.Stderr, "numbers:", err)
			os.Exit(1)
		}
	}
}

// table is a table of the guide: an example, and what each change of it does.
type table struct {
	page, name string
	example    string
	columns    []column
	rows       []row
}

// column is a result of summary.csv, rounded to digits behind the point; a flag reads yes or no.
type column struct {
	heading, name string
	digits        int
}

// row is a change of the example: values by key.
type row struct {
	label string
	set   map[string]string
}

// compute returns the table as Markdown, its cases on two cores.
func (t table) compute() (string, error) {
	cells := make([][]string, len(t.rows))
	errs := make([]error, len(t.rows))
	var wait sync.WaitGroup
	slots := make(chan struct{}, 2)
	for i, r := range t.rows {
		wait.Go(func() {
			slots <- struct{}{}
			defer func() { <-slots }()
			cells[i], errs[i] = t.row(r)
		})
	}
	wait.Wait()
	var b strings.Builder
	b.WriteString("| change |")
	for _, c := range t.columns {
		b.WriteString(" " + c.heading + " |")
	}
	b.WriteString("\n|" + strings.Repeat(" --- |", len(t.columns)+1) + "\n")
	for i, r := range t.rows {
		if errs[i] != nil {
			return "", fmt.Errorf("%s, %s: %w", t.name, r.label, errs[i])
		}
		b.WriteString("| " + r.label + " | " + strings.Join(cells[i], " | ") + " |\n")
	}
	return b.String(), nil
}

// row computes one case and returns its cells.
func (t table) row(r row) ([]string, error) {
	e, ok := scenarios.FindExample(t.example)
	if !ok {
		return nil, fmt.Errorf("no example %s", t.example)
	}
	s, err := scenarios.Parse(e.Name, e.Text)
	if err != nil {
		return nil, err
	}
	var sets []scenarios.Set
	for key, value := range r.set {
		var n yaml.Node
		if err := yaml.Load([]byte(value), &n); err != nil {
			return nil, err
		}
		sets = append(sets, scenarios.Set{Key: key, Value: scenarios.Value{Node: n.Content[0]}})
	}
	if s, err = s.With(sets...); err != nil {
		return nil, err
	}
	c := s.Case()
	result, err := thermal.Simulate(context.Background(), &c, thermal.Options{})
	if err != nil {
		return nil, err
	}
	var cells []string
	for _, col := range t.columns {
		cell := ""
		for _, k := range record.SummaryColumns(&c) {
			if k.Name == col.name {
				cell = "not"
				if v := k.Number(result); !math.IsNaN(v) {
					cell = strings.Replace(strconv.FormatFloat(v+0, 'f', col.digits, 64), "-0.00", "0.00", 1)
				}
			}
		}
		if cell == "" {
			return nil, fmt.Errorf("no column %s", col.name)
		}
		cells = append(cells, cell)
	}
	return cells, nil
}

// block returns where the table stands in the text of its page.
func (t table) block(text string) (from, to int, err error) {
	begin := "<!-- numbers: " + t.name + " -->\n"
	from = strings.Index(text, begin)
	if from < 0 {
		return 0, 0, fmt.Errorf("page %s has no block %s", t.page, t.name)
	}
	from += len(begin)
	to = strings.Index(text[from:], "<!-- end -->")
	if to < 0 {
		return 0, 0, fmt.Errorf("page %s: block %s has no end", t.page, t.name)
	}
	return from, from + to, nil
}

// put writes the table into its page.
func (t table) put(dir, table string) error {
	name := filepath.Join(dir, t.page+".md")
	text, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	from, to, err := t.block(string(text))
	if err != nil {
		return err
	}
	return os.WriteFile(name, []byte(string(text[:from])+table+string(text[to:])), 0o644)
}
