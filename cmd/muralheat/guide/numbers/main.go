// Numbers computes what the guide says of the model and writes it into its pages: tables and listings between
//
//	<!-- numbers: NAME -->
//	<!-- end -->
//
// and numbers within sentences before
//
//	<!-- = TABLE/ROW -->
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

// generate computes the tables and listings named, or all, and renders every page in the folder dir anew.
func generate(dir string, names []string) error {
	known := []string{compared.name}
	for _, t := range tables {
		known = append(known, t.name)
	}
	for _, l := range listings {
		known = append(known, l.name)
	}
	for _, n := range names {
		if !slices.Contains(known, n) {
			return fmt.Errorf("no table %s", n)
		}
	}
	wanted := func(name string) bool { return len(names) == 0 || slices.Contains(names, name) }
	file := filepath.Join(dir, "numbers", resultsName)
	kept, err := readResults(file)
	if err != nil && !os.IsNotExist(err) {
		return err
	}
	for _, t := range tables {
		if !wanted(t.name) {
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
		if err := writeResults(file, kept); err != nil {
			return err
		}
	}
	for _, l := range listings {
		if !wanted(l.name) {
			continue
		}
		text, err := l.compute(dir)
		if err != nil {
			return err
		}
		if err := os.WriteFile(l.file(dir), []byte(text), 0o644); err != nil {
			return err
		}
	}
	all, err := pages(dir, kept)
	if err != nil {
		return err
	}
	for name, text := range all {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			return err
		}
	}
	return nil
}
