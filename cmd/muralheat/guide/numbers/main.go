// Numbers computes the tables of the guide and writes them into its pages, between
//
//	<!-- numbers: NAME -->
//	<!-- end -->
//
// What each table holds is data, tables.go; what came out is kept with all its digits in results.csv, and the
// pages are rendered from that alone, the experiments from their stored score. It is run by go generate
// ./cmd/muralheat; with names of tables it computes only those (experiments: none).
package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
)

func main() {
	if err := generate("guide", os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "numbers:", err)
		os.Exit(1)
	}
}

// generate computes the tables named, or all, and renders every page in the folder dir anew.
func generate(dir string, names []string) error {
	for _, n := range names {
		if n != compared.name && !slices.ContainsFunc(tables, func(t table) bool { return t.name == n }) {
			return fmt.Errorf("no table %s", n)
		}
	}
	file := filepath.Join(dir, "numbers", resultsName)
	kept, err := readResults(file)
	if err != nil && !os.IsNotExist(err) {
		return err
	}
	for _, t := range tables {
		if len(names) > 0 && !slices.Contains(names, t.name) {
			continue
		}
		kept = slices.DeleteFunc(kept, func(r result) bool { return r.table == t.name })
		for _, r := range t.rows {
			values, err := t.compute(r)
			if err != nil {
				return fmt.Errorf("%s, %s: %w", t.name, r.label, err)
			}
			kept = append(kept, values...)
		}
	}
	if err := writeResults(file, kept); err != nil {
		return err
	}
	all, err := blocks(kept)
	if err != nil {
		return err
	}
	for b, text := range all {
		if err := b.put(dir, text); err != nil {
			return err
		}
	}
	return nil
}
