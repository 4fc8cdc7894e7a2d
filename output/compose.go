// Package output puts together what a person reads of a run or a sweep: the tables and
// records of package record with the pictures that packages figures and study draw of them.
// Nothing below it knows both.
package output

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"muralheat/output/chart"
	"muralheat/output/figures"
	"muralheat/output/measured"
	"muralheat/output/record"
	"muralheat/output/study"
	"muralheat/scenarios/experiments"
	"muralheat/thermal"
)

// Save writes every output of a run into its folder, the pictures too; see Folder.Save of
// package record.
func Save(ctx context.Context, f *record.Folder, run *record.Run, r *thermal.Result, withFields bool) (dir string, names []string, err error) {
	defer f.Discard()
	pictures, err := drawings(r)
	if err != nil {
		return "", nil, err
	}
	return f.Save(ctx, run, r, withFields, pictures)
}

// drawings renders every figure of a result in every format.
func drawings(r *thermal.Result) ([]record.File, error) { return filed(chart.Rendered(figures.Of(r))) }

// filed makes files of pictures.
func filed(pictures []chart.Picture, err error) ([]record.File, error) {
	var files []record.File
	for _, p := range pictures {
		files = append(files, record.File{Name: p.Name, Data: p.Data})
	}
	return files, err
}

// Redraw draws the figures of the run in dir again from its stored result and
// returns their names. Each file is replaced in one step; if a newer program draws
// differently, the manifest's digests follow.
func Redraw(dir string) ([]string, error) {
	r, err := record.Load(dir)
	if err != nil {
		return nil, err
	}
	files, err := filed(chart.Stored(filepath.Join(dir, record.RecordName), func() []chart.Figure { return figures.Of(r) }))
	if err != nil {
		return nil, err
	}
	text, err := os.ReadFile(filepath.Join(dir, record.ManifestName))
	if err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	if text, err = record.Relist(text, files); err != nil {
		return nil, fmt.Errorf("output: %s: %w", filepath.Join(dir, record.ManifestName), err)
	}
	var names []string
	for _, f := range append(files, record.File{Name: record.ManifestName, Data: text}) {
		if err := record.Replace(filepath.Join(dir, f.Name), f.Data); err != nil {
			return nil, fmt.Errorf("output: %w", err)
		}
		if f.Name != record.ManifestName {
			names = append(names, f.Name)
		}
	}
	return names, nil
}

// SweepFigures draws the figures of the sweep in dir from its table, in every format, and
// returns the names of their files; see Pictures of package study.
func SweepFigures(dir string) ([]string, error) {
	pictures, err := study.Pictures(dir)
	if err != nil {
		return nil, err
	}
	return placed(dir, pictures)
}

// Measured writes the figures of the model beside published experiments into the folder dir, which it makes, and
// returns the names of their files.
func Measured(dir string, all []experiments.Result) ([]string, error) {
	pictures, err := chart.Rendered(measured.Figures(all))
	if err != nil {
		return nil, err
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	return placed(dir, pictures)
}

// placed writes pictures into the folder dir, each in one step, and returns their names.
func placed(dir string, pictures []chart.Picture) ([]string, error) {
	var names []string
	for _, p := range pictures {
		if err := record.Replace(filepath.Join(dir, p.Name), p.Data); err != nil {
			return nil, fmt.Errorf("output: %w", err)
		}
		names = append(names, p.Name)
	}
	return names, nil
}
