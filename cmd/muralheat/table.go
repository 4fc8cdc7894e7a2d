package main

import (
	"fmt"
	"strings"
	"text/tabwriter"
)

// A table is printed with its columns below each other.
type table struct {
	c *console
	w *tabwriter.Writer
}

func newTable(c *console) *table {
	return &table{c, tabwriter.NewWriter(c.out, 0, 0, 2, ' ', 0)}
}

// row adds a line; a cell that is empty at its end leaves nothing behind.
func (t *table) row(cells ...string) {
	for len(cells) > 0 && cells[len(cells)-1] == "" {
		cells = cells[:len(cells)-1]
	}
	fmt.Fprintln(t.w, strings.Join(cells, "\t"))
}

func (t *table) end() {
	if err := t.w.Flush(); err != nil && t.c.failed == nil {
		t.c.failed = err
	}
}
