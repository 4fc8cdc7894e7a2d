package main

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"muralheat/output"
	"muralheat/output/record"
	"muralheat/output/study"
	"muralheat/scenarios/plan"
	"muralheat/thermal"
)

// mostKept is how many cases a sweep keeps in full: a run folder is megabytes.
const mostKept = 50

// chosen reads which cases to keep, by number or name.
func chosen(s *plan.Sweep, list string) ([]int, error) {
	if list == "" {
		return nil, nil
	}
	var cases []int
	for _, word := range strings.Split(list, ",") {
		i, err := strconv.Atoi(strings.TrimSpace(word))
		found := err == nil && i >= 0 && i < s.Len()
		for n := 0; !found && s.Named() && n < s.Len(); n += s.Draws {
			if s.CaseName(n) == strings.TrimSpace(word) {
				i, found = n, true
			}
		}
		if !found {
			return nil, wrong("sweep: --keep-fields: no case %q; there are 0 to %d", word, s.Len()-1)
		}
		cases = append(cases, i)
	}
	if len(cases) > mostKept {
		return nil, wrong("sweep: --keep-fields names %d cases; at most %d", len(cases), mostKept)
	}
	return cases, nil
}

// keep computes chosen cases once more, for their complete folders. One that is there
// already stays.
func keep(ctx context.Context, c *console, s *plan.Sweep, dir string, cases []int) (undrawn error) {
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
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return err
		}
		folder, err := record.Open(path)
		if err != nil {
			return err
		}
		info, problem := recordOf(c, scenario), scenario.Case()
		result, err := thermal.Simulate(ctx, &problem, thermal.Options{MaxBytes: memoryBytes()})
		info.End = time.Now()
		var failure *thermal.Failure
		switch {
		case errors.As(err, &failure):
			folder.Discard()
			continue
		case err != nil:
			folder.Discard()
			return err
		}
		at, _, err := output.Save(ctx, folder, &info, result, true)
		folder.Discard()
		var lost record.Undrawn
		switch {
		case errors.As(err, &lost):
			undrawn = figuresMissing(at, lost)
		case err != nil:
			return err
		}
	}
	return undrawn
}
