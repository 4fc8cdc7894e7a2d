package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"

	"muralheat/output/record"
	"muralheat/output/report"
	"muralheat/output/study"
	"muralheat/scenarios"
	"muralheat/scenarios/batch"
	"muralheat/scenarios/experiments"
	"muralheat/scenarios/plan"
	"muralheat/thermal"
)

// mostAgain is how many cases a report computes again at most.
const mostAgain = 10000

// recompute computes n cases of a folder again, chosen by seed, and compares them with what it holds to the last bit.
func recompute(ctx context.Context, c *console, dir string, n int, seed uint64) (*report.Recomputed, error) {
	if !study.IsSweep(dir) {
		c.say("computing the run again")
		return recomputeRun(ctx, dir, seed)
	}
	s, err := batch.Load(dir)
	if err != nil {
		return nil, err
	}
	var all []int
	if err := batch.Rows(dir, func(r batch.Row) error { all = append(all, r.Case); return nil }); err != nil {
		return nil, err
	}
	r := &report.Recomputed{Seed: seed, Of: len(all)}
	rand.New(rand.NewPCG(seed, 1)).Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	chosen := slices.Sorted(slices.Values(all[:min(n, len(all))]))
	c.say("computing %d of %d cases again, chosen with seed %d", len(chosen), len(all), seed)
	p := newProgress(c, false)
	defer p.clear()
	sessions, err := batch.Sessions(dir)
	if err != nil {
		return nil, err
	}
	for _, x := range sessions {
		if x.Binary != binarySum() {
			r.Other = x.Program
		}
	}
	err = batch.Rows(dir, func(row batch.Row) error {
		if _, ok := slices.BinarySearch(chosen, row.Case); !ok {
			return nil
		}
		if row.Case >= s.Len() {
			r.Cases = append(r.Cases, report.Again{Name: strconv.Itoa(row.Case), Differ: []string{"no such case in the plan"}})
			return nil
		}
		differ, err := batch.Again(ctx, s, row, record.Tell)
		r.Cases = append(r.Cases, report.Again{Name: "case " + strconv.Itoa(row.Case), Differ: differ})
		p.show(float64(len(r.Cases)), float64(len(chosen)))
		return err
	})
	return r, err
}

// recomputeRun computes a run again from the scenario of its record.
func recomputeRun(ctx context.Context, dir string, seed uint64) (*report.Recomputed, error) {
	m, err := record.ReadManifest(dir)
	if err != nil {
		return nil, err
	}
	s, err := scenarios.Parse(filepath.Join(dir, record.ManifestName)+", scenario", []byte(m.Scenario.Resolved))
	if err != nil {
		return nil, err
	}
	r := &report.Recomputed{Seed: seed, Of: 1}
	if m.Program.Binary != binarySum() {
		r.Other = m.Program.Version + ", " + m.Program.Source()
	}
	again := report.Again{Name: record.RecordName}
	problem := s.Case()
	result, err := thermal.Simulate(ctx, &problem, thermal.Options{MaxBytes: memoryBytes()})
	var failure *thermal.Failure
	if err != nil && !errors.As(err, &failure) {
		return nil, err
	}
	ours, err := record.EncodeResult(result)
	if err != nil {
		return nil, err
	}
	theirs, err := os.ReadFile(filepath.Join(dir, record.RecordName))
	if err != nil {
		return nil, err
	}
	if !bytes.Equal(ours, theirs) {
		again.Differ = []string{"its bytes"}
	}
	r.Cases = []report.Again{again}
	return r, nil
}

// mostSurveyed is how many cases of a sweep are set beside their plan, evenly taken: a scenario a case.
const mostSurveyed = 1000

// surveyed says where the cases of a table stand among published experiments, and whether depth and margin of each add
// up to the top of the muscle that its scenario has.
func surveyed(dir string, s *plan.Sweep, cases *report.Cases) (place experiments.Place, findings []record.Finding, err error) {
	number := func(r batch.Row, column string) float64 { return record.Parsed(r.Cell(column)) }
	step, n, looked, none := max(1, (s.Len()+mostSurveyed-1)/mostSurveyed), 0, 0, 0
	var differ []string
	err = batch.Rows(dir, func(r batch.Row) error {
		if n++; (n-1)%step != 0 || r.Cell("status") != "ok" || r.Case >= s.Len() {
			return nil
		}
		of, err := s.Scenario(r.Case)
		if err != nil {
			differ = append(differ, fmt.Sprintf("case %d (its scenario is none: %v)", r.Case, err))
			return nil
		}
		c, settings := of.Case(), settingsOf(of)
		cases.Add(c, settings)
		path := number(r, "path_mm")
		if math.IsNaN(path) {
			path = 1e3 * c.Motion.LengthM
		}
		place = place.And(experiments.PlaceOf(&c, record.TissueOf(settings), experiments.Delivered{
			EnergyJ: number(r, study.EnergyColumn), PeakV: number(r, "peak_voltage_V"), PathMM: path, Dried: !math.IsNaN(number(r, "dry_out_s")), Sparks: number(r, "spark_share") > 0}))
		top, sum := record.MuscleTopMM(&c), number(r, record.DepthColumn)+number(r, record.MarginColumn)
		switch {
		case math.IsNaN(top) || math.IsNaN(sum):
			none++
		case math.Abs(top-sum) > record.RoundingMM:
			differ = append(differ, fmt.Sprintf("case %d (%.4f mm, not %.4f mm)", r.Case, sum, top))
		}
		looked++
		return nil
	})
	f := record.Finding{What: "injury depth plus margin in results.csv, with the top of the muscle by plan and scenario", OK: differ == nil}
	switch {
	case !f.OK:
		f.Says = fmt.Sprintf("%d of %d cases CHANGED: %s", len(differ), looked, shortened(differ))
	case none == looked:
		f.Says, f.None = "no muscle is judged", true
	default:
		f.Says = fmt.Sprintf("the same in %d cases", looked-none)
	}
	if step > 1 {
		f.Says += fmt.Sprintf("; each %dth of %d rows was looked at", step, n)
	}
	return place, []record.Finding{f}, err
}

// shortened lists the first few.
func shortened(list []string) string {
	const most = 5
	text := ""
	for i, s := range list[:min(most, len(list))] {
		if i > 0 {
			text += ", "
		}
		text += s
	}
	if len(list) > most {
		text += fmt.Sprintf(" and %d more", len(list)-most)
	}
	return text
}
