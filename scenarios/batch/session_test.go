package batch

import (
	"context"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"muralheat/scenarios"
	"muralheat/scenarios/plan"
	"muralheat/scenarios/stated"
	"muralheat/thermal"
)

func statedSweep(t *testing.T, decision string) *plan.Sweep {
	t.Helper()
	s, err := plan.Parse("plan.yaml", []byte("title: Stated\nscenario: quick.yaml\n"+decision+"vary: [{key: current.power_W, values: [1, 2, 3, 4]}]\n"), func(string) (*scenarios.Scenario, error) {
		return scenarios.Parse("quick.yaml", []byte(quick))
	})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// Who computes is written down with each call that computes, and what is stated before the first case; a later
// statement shows when it came. The table does not know of either.
func TestSessions(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	at := time.Date(2030, 1, 2, 3, 4, 5, 0, time.UTC)
	opt := options(1)
	opt.Session = &Session{Command: []string{"muralheat", "sweep"}, Host: "bench", Source: "unknown", Binary: "00", Start: at}
	ctx, stop := context.WithCancel(t.Context())
	opt.Tell = func(r *thermal.Result) ([]Column, []string, string) {
		stop() // the case at hand is finished, and no other
		return tell(r)
	}
	const low = "decision: {for: a lecture, influence: low, consequence: low}\n"
	first, err := Run(ctx, statedSweep(t, low), dir, opt)
	if err == nil || first.Done != 1 {
		t.Fatalf("%d cases finished, %v", first.Done, err)
	}
	opt.Tell = tell
	opt.Session = &Session{Command: []string{"muralheat", "sweep"}, Host: "other", Start: at.Add(time.Hour)}
	high := statedSweep(t, "decision: {for: a lecture, influence: high, consequence: low, goals: {use_error: b}}\n")
	mustRun(t, high, dir, opt)
	mustRun(t, high, dir, opt) // nothing to do: no session

	got, err := Sessions(dir)
	if err != nil || len(got) != 2 {
		t.Fatalf("%+v, %v", got, err)
	}
	if a, b := got[0], got[1]; a.Host != "bench" || a.Before != 0 || a.Done != first.Done || a.End.IsZero() || b.Host != "other" || b.Before != first.Done || b.Done != 4 || b.Program != "test" {
		t.Errorf("%+v", got)
	}
	log, err := stated.Read(dir)
	if err != nil || len(log.Entries) != 2 || !log.Whole() {
		t.Fatalf("%+v, %v", log, err)
	}
	if a, b := log.Entries[0], log.Entries[1]; a.Done != 0 || a.Statement.Influence != "low" || b.Done != first.Done || b.Statement.Goals["use_error"] != "b" {
		t.Errorf("%+v", log.Entries)
	}

	plain := filepath.Join(t.TempDir(), "plain")
	mustRun(t, statedSweep(t, ""), plain, options(2))
	if read(t, plain, tableName) != read(t, dir, tableName) {
		t.Error("the table depends on what is stated or who computes")
	}
	if list, _ := filepath.Glob(filepath.Join(plain, "s*.json")); !slices.Equal(list, []string{filepath.Join(plain, recordName)}) {
		t.Errorf("written unasked: %v", list)
	}
}

// Slices put together keep who computed each, and what was stated.
func TestMergedSessions(t *testing.T) {
	s, base := statedSweep(t, "decision: {for: a lecture, influence: low, consequence: low}\n"), t.TempDir()
	var parts []string
	for i := range 2 {
		opt := options(1)
		opt.Slice = Slice{i, 2}
		opt.Session = &Session{Host: string('a' + rune(i)), Start: time.Date(2030, 1, 2+i, 0, 0, 0, 0, time.UTC)}
		dir := filepath.Join(base, opt.Session.Host)
		mustRun(t, s, dir, opt)
		parts = append(parts, dir)
	}
	dir := filepath.Join(base, "whole")
	if _, err := Merge(dir, []string{parts[1], parts[0]}); err != nil {
		t.Fatal(err)
	}
	got, err := Sessions(dir)
	if err != nil || len(got) != 2 || got[0].Host != "a" || got[0].Slice != "0/2" || got[1].Host != "b" {
		t.Errorf("%+v, %v", got, err)
	}
	if log, err := stated.Read(dir); err != nil || len(log.Entries) != 1 || log.Entries[0].Time.Day() != 3 {
		t.Errorf("%+v, %v", log, err)
	}
}
