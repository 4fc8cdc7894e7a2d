package main

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"time"

	"muralheat/output"
	"muralheat/output/chart"
	"muralheat/output/record"
	"muralheat/output/study"
	"muralheat/scenarios"
	"muralheat/scenarios/plan"
	"muralheat/thermal"
)

// mostKept is how many cases a sweep keeps in full: a run folder is megabytes. Without figures and fields for viewers
// it is a tenth of that, and as many as mostAll are kept.
const (
	mostKept = 50
	mostAll  = 200
	allCases = "all"
)

// chosen reads which cases to keep, by number or name.
func chosen(s *plan.Sweep, list string) ([]int, error) {
	if list == "" {
		return nil, nil
	}
	var cases []int
	if list == allCases {
		if s.Len() > mostAll {
			return nil, wrong("sweep: --keep-fields all: %d cases; at most %d, so name those to keep", s.Len(), mostAll)
		}
		for i := range s.Len() {
			cases = append(cases, i)
		}
		return cases, nil
	}
	for _, word := range strings.Split(list, ",") {
		i, err := strconv.Atoi(strings.TrimSpace(word))
		found := err == nil && i >= 0 && i < s.Len()
		for n := 0; !found && s.Named() && n < s.Len(); n += s.Draws {
			if s.CaseName(n) == strings.TrimSpace(word) {
				i, found = n, true
			}
		}
		if !found {
			return nil, wrong("sweep: --keep-fields: no case %q; numbers, as in results.csv, are 0 to %d", word, s.Len()-1)
		}
		cases = append(cases, i)
	}
	if len(cases) > mostKept {
		return nil, wrong("sweep: --keep-fields names %d cases; at most %d", len(cases), mostKept)
	}
	return cases, nil
}

// keep computes chosen cases once more, for their complete folders, with figures on a page, if one is given. One that is there
// already stays.
func keep(ctx context.Context, c *console, s *plan.Sweep, dir string, cases []int, drawn *chart.Page) (undrawn error) {
	for _, i := range cases {
		name := s.CaseName(i)
		if name == "" || s.Draws > 1 {
			name = study.KeptName(i, s.Len())
		}
		path := filepath.Join(dir, study.KeptFolder, name)
		if _, err := os.Stat(path); err == nil {
			continue
		}
		scenario, err := s.Scenario(i)
		if err != nil {
			continue // its row says why
		}
		_, at, err := computed(ctx, c, path, scenario, thermal.Options{MaxBytes: memoryBytes(), Cores: runtime.GOMAXPROCS(0)}, drawn)
		var failure *thermal.Failure
		var lost record.Undrawn
		switch {
		case errors.As(err, &failure): // its row says why
		case errors.As(err, &lost):
			undrawn = figuresMissing(at, *drawn, lost)
		case err != nil:
			return err
		}
	}
	return undrawn
}

// computed computes a scenario and keeps it in full, in the folder path or the next free name, which it returns;
// with the figures of a run on a page, if one is given. A case that fails keeps nothing.
func computed(ctx context.Context, c *console, path string, scenario *scenarios.Scenario, opt thermal.Options, drawn *chart.Page) (r *thermal.Result, dir string, err error) {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return nil, "", err
	}
	folder, err := record.Open(path)
	if err != nil {
		return nil, "", err
	}
	defer folder.Discard()
	info, err := begin(c, folder, scenario)
	if err != nil {
		return nil, "", err
	}
	problem := scenario.Case()
	if r, err = thermal.Simulate(ctx, &problem, opt); err != nil {
		return nil, "", err
	}
	info.End = time.Now()
	if drawn != nil {
		dir, _, err = output.Save(ctx, folder, &info, r, true, *drawn)
	} else {
		dir, _, err = folder.Save(ctx, &info, r, false, nil)
	}
	return r, dir, err
}
