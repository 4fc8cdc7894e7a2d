package report

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"muralheat/output/document"
	"muralheat/output/record"
	"muralheat/scenarios/experiments"
	"muralheat/scenarios/stated"
)

// sentences are the statements of a report in words, outside of tables.
func sentences(d *document.Document) (all []string) {
	end := regexp.MustCompile(`[.;] `)
	add := func(text string) {
		for _, s := range end.Split(text+" ", -1) {
			all = append(all, strings.TrimSpace(s))
		}
	}
	add(d.Lead)
	for _, s := range d.Sections {
		for _, block := range s.Blocks {
			switch x := block.(type) {
			case document.Text:
				add(string(x))
			case document.Lead:
				add(string(x))
			case document.Note:
				add(x.Text)
			case document.List:
				for _, line := range x {
					add(line)
				}
			}
		}
	}
	return all
}

// sourced are statements with a figure that no folder has: each names where it is from, or is how a word is defined.
var sourced = regexp.MustCompile(`(19|20)[0-9]{2}|IEC|ISO|assumption|Assumption|from memory|V&V 40|guide|safety factor|A plan |above some|GOAMD64`)

// Every statement with a figure in it comes from the folder or from what was computed for the report: of two runs that
// differ in everything, no such statement is the same, but for those that name their source.
func TestFiguresInWordsComeFromTheFolder(t *testing.T) {
	report := func(text string, e Evidence) *document.Document {
		run, r := simulated(t, text)
		dir := savedRun(t, run, r)
		d, err := RunReport(dir, dir, e)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	one := evidence()
	other := evidence()
	other.Verified, other.Recomputed = other.Verified[:1], &Recomputed{Of: 1, Cases: []Again{{Name: record.RecordName}}}
	other.Experiments = append(other.Experiments, compared("a third", "apart", "injury_depth", 2, 2.5, 1.1), compared("a fourth", "fit", "injury_depth", 3, 2.5, -1.1), compared("fifth", "fit", "beside_cut", 3, 2.5, -1.1))
	a := sentences(report(benchScenario, one))
	b := sentences(report(strings.NewReplacer("power_W: 3", "power_W: 2", "radius_mm: 1", "radius_mm: 1.3", "on_s: 0.3", "on_s: 0.4", "right-colon", "stomach-antrum").Replace(benchScenario), other))
	fromTheFolder(t, a, b)
}

// fromTheFolder fails for each statement with a figure that two reports have alike and that names no source.
func fromTheFolder(t *testing.T, a, b []string) {
	t.Helper()
	figure, seen := regexp.MustCompile(`[0-9]`), 0
	for _, s := range a {
		switch {
		case !figure.MatchString(strings.ReplaceAll(s, record.Version, "")), sourced.MatchString(s),
			strings.HasPrefix(s, "Each is for one input alone"): // of a count that is 1 in both
			continue
		case slices.Contains(b, s):
			t.Errorf("the same of both: %s", s)
		}
		seen++
	}
	if seen < 5 {
		t.Errorf("only %d statements with a figure", seen)
	}
}

// The same of two sweeps.
func TestFiguresInWordsOfASweepComeFromTheFolder(t *testing.T) {
	one, other := newSweepBench(t), newSweepBench(t)
	lines := strings.SplitAfter(regexp.MustCompile(`,0\.([0-9]+),-1e-09`).ReplaceAllString(string(other.table), ",1.$1,-3e-09"), "\n")
	varied := regexp.MustCompile(`(?m)^(\d+,\d+,\d+),(\d,.*),36(\.\d)?,ok`).ReplaceAllString(strings.Join(lines[:len(lines)-3], ""), "$1,1$2,35$3,ok")
	other.write(t, "results.csv", varied)
	other.write(t, "sweep.json", strings.NewReplacer(`"points": 5`, `"points": 6`, `"cases": 50`, `"cases": 60`, `"program": "test"`, `"program": "another"`, "one-at-a-time", "latin-hypercube", `"title": "radius", "unit": "mm", "levels": 2`, `"title": "radius", "unit": "mm", "uncertain": true`).Replace(other.sweep))
	e := evidence()
	e.Verified = e.Verified[:1]
	e.Experiments = append(e.Experiments, compared("a third", "apart", "injury_depth", 2, 2.5, 1.1), compared("a fourth", "fit", "injury_depth", 3, 2.5, -1.1), compared("fifth", "fit", "beside_cut", 3, 2.5, -1.1))
	p := other.planned
	c := *p.Cases.all[0]
	c.Layers = slices.Clone(c.Layers)
	c.Drive.PowerW, c.Electrode.TipRadiusM, c.Electrode.ContactRadiusM, c.Drive.OnS = 7, 2e-3, 1.5e-3, 2
	c.Layers[0].ThicknessM, c.Domain.RadiusM = 3e-3, 11e-3
	p.Cases = casesOf(c, p.Cases.Settings(func(string) string { return "" }))
	one.planned.Place, p.Place = evidence().Experiments[0].Place, experiments.Place{Kind: "contact"}
	p.Findings = []record.Finding{{What: "another", OK: true}}
	a, err := SweepReport(one.dir, one.dir, one.planned, evidence())
	if err != nil {
		t.Fatal(err)
	}
	b, err := SweepReport(other.dir, other.dir, p, e)
	if err != nil {
		t.Fatal(err)
	}
	fromTheFolder(t, sentences(a), sentences(b))
}

// What is edited in the folder of a run changes what is said of it, and the report says that it differs.
func TestBox(t *testing.T) {
	run, r := simulated(t, strings.Replace(benchScenario, "wall:", "decision: {for: a lecture, influence: low, consequence: low, goals: {code_verification: b, discretisation_error: c}}\nwall:", 1))
	dir := savedRun(t, run, r)
	log := stated.Log{}.Add(statementOf(run.Settings), record.Digest(run.Resolved), 0, run.Start)
	put := func(name string, data []byte) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	said := func() (string, bool) {
		t.Helper()
		d, err := RunReport(dir, dir, evidence())
		if err != nil {
			t.Fatal(err)
		}
		_, md := filesOf(t, dir, d)
		return md, d.Differs
	}
	expect := func(differs bool, all ...string) {
		t.Helper()
		md, got := said()
		for _, want := range all {
			if !strings.Contains(md, want) {
				t.Errorf("no %q", want)
			}
		}
		if got != differs || strings.Contains(md, "Changed since the run") != differs {
			t.Errorf("differs: %v, not %v", got, differs)
		}
	}
	expect(true, "a decision is stated, but not in stated.json", "NOT on record before computing")
	put(stated.LogName, log.Encode())
	expect(false, "1 of 2 met; NOT met: calculation: discretisation error", "2030-01-02 03:04:05 UTC, before the first case was computed", "| Influence of the model | low |")
	later := log
	later.Entries = slices.Clone(log.Entries)
	later.Entries[0].Statement.Goals = map[string]string{"code_verification": "b"}
	put(stated.LogName, later.Encode())
	expect(true, "stated.json was CHANGED: a checksum is not that of its entry")
	put(stated.LogName, stated.Log{}.Add(later.Entries[0].Statement, record.Digest(run.Resolved), 0, run.Start).Encode())
	expect(true, "the folder now states something else than stated.json: CHANGED")
	put(stated.LogName, log.Encode())
	summary, err := os.ReadFile(filepath.Join(dir, "summary.csv"))
	if err != nil {
		t.Fatal(err)
	}
	put("summary.csv", append(summary, '1', '\r', '\n'))
	expect(true, "summary.csv CHANGED", "1 CHANGED and 0 missing", "a: files have changed since")
}

// Cases computed again count in the box and towards the factor of use error.
func TestRecomputed(t *testing.T) {
	same := &Recomputed{Seed: 7, Of: 40, Cases: []Again{{Name: "case 3"}, {Name: "case 5"}}}
	if f := same.finding(); !f.OK || f.Says != "2 of 2, chosen at random with seed 7, are the same to the last bit; 38 others were not computed again" {
		t.Errorf("%+v", f)
	}
	same.Cases[1].Differ, same.Other = []string{"injury_depth_mm"}, "another"
	if f := same.finding(); f.OK || !strings.Contains(f.Says, "1 of 2") || !strings.Contains(f.Says, "DIFFER: case 5 (injury_depth_mm)") || !strings.Contains(f.Says, "not by the one that computed the folder (another)") {
		t.Errorf("%+v", f)
	}
	run, r := simulated(t, benchScenario)
	dir := savedRun(t, run, r)
	e := evidence()
	e.Recomputed = &Recomputed{Seed: 7, Of: 1, Cases: []Again{{Name: record.RecordName}}}
	for _, differ := range []bool{false, true} {
		if differ {
			e.Recomputed.Cases[0].Differ = []string{"its bytes"}
		}
		d, err := RunReport(dir, dir, e)
		if err != nil {
			t.Fatal(err)
		}
		_, md := filesOf(t, dir, d)
		if d.Differs != differ || strings.Contains(md, "c: checked so, and cases computed again to the same bits") == differ {
			t.Errorf("differ %v: %v", differ, d.Differs)
		}
	}
}
