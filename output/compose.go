// Package output puts together what a person reads of a run or a sweep: the tables and
// records of package record with the pictures that packages figures and study draw of them.
// Nothing below it knows both.
package output

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"muralheat/output/chart"
	"muralheat/output/figures"
	"muralheat/output/measured"
	"muralheat/output/record"
	"muralheat/output/sources"
	"muralheat/output/study"
	"muralheat/scenarios/experiments"
	"muralheat/scenarios/source"
	"muralheat/thermal"
)

// Save writes every output of a run into its folder, the pictures too, its figures on a page; see Folder.Save of
// package record.
func Save(ctx context.Context, f *record.Folder, run *record.Run, r *thermal.Result, withFields bool, page chart.Page) (dir string, names []string, err error) {
	return f.Save(ctx, run, r, withFields, func() ([]record.File, error) {
		var certain []string
		if run.Refinement != nil {
			certain = record.Certain(run.Refinement.Statement(r.Case))
		}
		files, undrawn := drawings(page, r, certain...)
		film, err := filed(chart.Guarded("film.gif", func() ([]chart.Picture, error) { return filmed(ctx, r) }))
		return append(files, film...), errors.Join(undrawn, err)
	})
}

// drawings renders every figure of a result on a page in every format.
func drawings(page chart.Page, r *thermal.Result, notes ...string) (files []record.File, err error) {
	defer func() { // results are kept whatever is wrong with a drawing
		if p := recover(); p != nil {
			err = fmt.Errorf("output: this is a bug (%v)", p)
		}
	}()
	return filed(chart.Rendered(figures.Of(page, r, notes...)))
}

// filmed renders the film of a result that keeps moments.
func filmed(ctx context.Context, r *thermal.Result) ([]chart.Picture, error) {
	film, ok := figures.Film(r)
	if !ok {
		return nil, nil
	}
	picture, err := chart.Gif(ctx, film)
	return []chart.Picture{picture}, err
}

// filed makes files of pictures.
func filed(pictures []chart.Picture, err error) ([]record.File, error) {
	var files []record.File
	for _, p := range pictures {
		files = append(files, record.File{Name: p.Name, Data: p.Data})
	}
	return files, err
}

// Redraw draws the figures of the run in dir on a page again from its stored result and
// returns their names. Each file is replaced in one step; if a newer program draws
// differently, the manifest's digests follow.
func Redraw(dir string, page chart.Page) ([]string, error) {
	r, err := record.Load(dir)
	if err != nil {
		return nil, err
	}
	if err := record.LoadFilm(dir, r); err != nil {
		return nil, err
	}
	m, err := record.ReadManifest(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) { // without, the figures cannot be listed, which is said below
		return nil, err
	}
	files, undrawn := filed(chart.Stored(filepath.Join(dir, record.RecordName), func() []chart.Figure { return figures.Of(page, r, record.Certain(m.Refined)...) }))
	film, err := filed(chart.Guarded(filepath.Join(dir, record.FilmName), func() ([]chart.Picture, error) { return filmed(context.Background(), r) }))
	files, undrawn = append(files, film...), errors.Join(undrawn, err)
	if len(files) == 0 && undrawn != nil {
		return nil, undrawn
	}
	text, err := os.ReadFile(filepath.Join(dir, record.ManifestName))
	if err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	if text, err = record.Relist(text, files); err != nil {
		return nil, fmt.Errorf("output: %s: %w", filepath.Join(dir, record.ManifestName), err)
	}
	names, err := replaced(dir, append(files, record.File{Name: record.ManifestName, Data: text}), undrawn)
	return slices.DeleteFunc(names, func(n string) bool { return n == record.ManifestName }), err
}

// replaced puts files in place and returns the names of those that could be; the error is
// record.Undrawn.
func replaced(dir string, files []record.File, undrawn error) (names []string, err error) {
	for _, f := range files {
		if err := record.Replace(filepath.Join(dir, f.Name), f.Data); err != nil {
			undrawn = errors.Join(undrawn, fmt.Errorf("output: %w", err))
			continue
		}
		names = append(names, f.Name)
	}
	if undrawn != nil {
		return names, record.Undrawn{Err: undrawn}
	}
	return names, nil
}

// SweepFigures draws the figures of the sweep in dir from its table on a page, in every format, and
// returns the names of their files; see Pictures of package study. If some cannot be drawn or
// written the others are there, and the error is record.Undrawn.
func SweepFigures(dir string, page chart.Page) ([]string, error) {
	pictures, err := study.Pictures(dir, page)
	if err != nil && len(pictures) == 0 {
		return nil, err
	}
	files, undrawn := filed(pictures, err)
	return replaced(dir, files, undrawn)
}

// Measured writes the figures of the model beside published experiments into the folder dir, which it makes, and
// returns the names of their files.
func Measured(dir string, all []experiments.Result) ([]string, error) {
	pictures, err := chart.Rendered(measured.Figures(all, ""))
	if err != nil && len(pictures) == 0 {
		return nil, err
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	files, undrawn := filed(pictures, err)
	return replaced(dir, files, undrawn)
}

// Sources writes what the sources of source sheets give, as a table and a figure, into the folder dir, which it makes,
// and returns the names of the files.
func Sources(dir string, sheets []*source.Sheet) ([]string, error) {
	pictures, err := chart.Rendered(sources.Figures(sheets))
	if err != nil && len(pictures) == 0 {
		return nil, err
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	files, undrawn := filed(pictures, err)
	return replaced(dir, append(files, record.File{Name: "sources.csv", Data: sources.CSV(sheets)}), undrawn)
}
