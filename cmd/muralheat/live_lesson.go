package main

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"muralheat/cmd/muralheat/live"
	"muralheat/output/page"
	"muralheat/output/record"
	"muralheat/scenarios"
	"muralheat/scenarios/keys"
	"muralheat/thermal"
)

// mostLiveCells is how many cells a case on a live page may have: ten times a track at draft, some hundred megabytes.
// Assumption: nobody waits longer in a lecture.
const mostLiveCells = 2_000_000

// lesson computes what a live page asks for, and keeps it.
type lesson struct {
	c       *console
	base    *scenarios.Scenario
	sliders []slider
	quality string
	longest time.Duration // of a case
	dir     string        // of what is kept
	program string
	file    string // that Save writes
	page    *page.Growing
}

// scenario returns that at some levels.
func (l *lesson) scenario(at []int) (*scenarios.Scenario, error) {
	if len(at) != len(l.sliders) {
		return nil, live.Refusal(fmt.Sprintf("%d levels, but there are %d choices", len(at), len(l.sliders)))
	}
	sets := []scenarios.Set{{Key: "numerics.quality", Value: scenarios.Word(l.quality)}}
	for n, level := range at {
		if level < 0 || level >= len(l.sliders[n].sets) {
			return nil, live.Refusal(fmt.Sprintf("no level %d of %s", level, l.sliders[n].Title))
		}
		sets = append(sets, l.sliders[n].sets[level]...)
	}
	s, err := l.base.With(sets...)
	var problems keys.Problems
	if errors.As(err, &problems) {
		return nil, live.Refusal(fmt.Sprintf("These do not go together: %s: %s; %s.", problems[0].Key, problems[0].Wrong, problems[0].Right))
	}
	return s, err
}

// Case returns the case at some levels: from the page, from the folder, or computed.
func (l *lesson) Case(ctx context.Context, at []int, have int, progress func(share float64)) (any, error) {
	s, err := l.scenario(at)
	if err != nil {
		return nil, err
	}
	if l.page.Has(at) {
		return l.page.Add(at, nil, have)
	}
	r, err := l.result(ctx, s, progress)
	if err != nil {
		return nil, err
	}
	return l.page.Add(at, r, have)
}

// result returns the result of a scenario, which the folder keeps under its identity and the program.
func (l *lesson) result(ctx context.Context, s *scenarios.Scenario, progress func(share float64)) (*thermal.Result, error) {
	sum := sha256.Sum256([]byte(s.Identity() + "\n" + l.program))
	dir := filepath.Join(l.dir, hex.EncodeToString(sum[:12]))
	if r, err := record.Load(dir); err == nil {
		return r, nil
	}
	if err := os.RemoveAll(dir); err != nil { // damaged
		return nil, err
	}
	problem := s.Case()
	grid := problem.Grid()
	if n := grid.Cells(); n > mostLiveCells {
		return nil, live.Refusal(fmt.Sprintf("%d x %d x %d cells; a page that answers at once takes at most %d.", grid.NX, grid.NY, grid.NZ, mostLiveCells))
	}
	memory := memoryBytes()
	if err := fits(s.Name, grid, memory); err != nil {
		return nil, live.Refusal(err.Error())
	}
	short, cancel := context.WithTimeout(ctx, l.longest)
	defer cancel()
	r, _, err := computed(short, l.c, dir, s, thermal.Options{MaxBytes: memory, Progress: func(t, of float64) { progress(t / of) }}, nil)
	var failure *thermal.Failure
	switch {
	case err == nil:
		return r, nil
	case ctx.Err() == nil && errors.Is(err, context.DeadlineExceeded):
		return nil, live.Refusal(fmt.Sprintf("Stopped after %s: too long for a lecture.", l.longest))
	case errors.As(err, &failure):
		return nil, live.Refusal("It failed: " + strings.TrimPrefix(err.Error(), "thermal: ") + ".")
	}
	return nil, err
}

// HTML returns the page as it is now.
func (l *lesson) HTML() ([]byte, error) { return l.page.HTML() }

// Save writes what was computed so far as a page that needs no server.
func (l *lesson) Save() (string, error) {
	p, err := l.page.Kept()
	if err != nil {
		return "", err
	}
	text, err := p.HTML()
	if err != nil {
		return "", err
	}
	return l.file, record.Replace(l.file, text)
}

// markName is the file by which a folder is known to be one of ours.
const markName = "live.txt"

// openKept makes the folder of what is kept, or goes on in it. A folder that holds anything else is left alone.
func openKept(dir string) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	mark := filepath.Join(dir, markName)
	if _, err := os.Stat(mark); !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	there, err := os.ReadDir(dir)
	if err != nil {
		return err
	}
	if slices.ContainsFunc(there, func(e fs.DirEntry) bool { return !strings.HasPrefix(e.Name(), ".") }) {
		return errors.New("it holds files that are not those of muralheat live")
	}
	return record.Replace(mark, []byte("Cases that muralheat live computed, each the folder of a run. They may be deleted.\n"))
}
