package page

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"muralheat/output/compare"
	"muralheat/output/internal/fixture"
	"muralheat/output/internal/fixture/bench"
	"muralheat/output/record"
	"muralheat/output/study"
	"muralheat/scenarios/batch"
	"muralheat/scenarios/plan"
	"muralheat/thermal"
)

const scenarioText = `# Invented data: a bench.
title: A short touch
invented: true
wall: {site: rectum}
electrode: {tip: disc, radius_mm: 1}
current: {sparks: false, power_W: 3, on_s: 0.5}
afterwards_s: 0.3
numerics: {quality: draft}
`

// The last of the powers is refused on the thin wall, see sweepOf.
const planText = `title: Power on two walls
scenario: scenario.yaml
vary:
  - {key: current.power_W, title: power, values: [2, 4, 8]}
  - {key: wall.site, title: site, values: [rectum, right-colon]}
`

// sweepOf computes the plan once for all tests and returns a copy of its folder: six cases of which the last is told
// as failed, and the first four are kept.
func sweepOf(t *testing.T) string {
	t.Helper()
	from, err := swept()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(from)); err != nil {
		t.Fatal(err)
	}
	return dir
}

var swept = sync.OnceValues(func() (string, error) {
	plans, err := os.MkdirTemp("", "page-test-")
	if err != nil {
		return "", err
	}
	for name, text := range map[string]string{"scenario.yaml": scenarioText, "plan.yaml": planText} {
		if err := os.WriteFile(filepath.Join(plans, name), []byte(text), 0o644); err != nil {
			return "", err
		}
	}
	p, err := plan.Load(filepath.Join(plans, "plan.yaml"))
	if err != nil {
		return "", err
	}
	dir := filepath.Join(plans, "swept")
	if _, err := batch.Run(context.Background(), p, dir, batch.Options{Program: "test", Tell: record.Tell, Workers: 1}); err != nil {
		return "", err
	}
	for i := range 4 {
		if err := keep(p, i, filepath.Join(dir, study.KeptFolder, study.KeptName(i, p.Len()))); err != nil {
			return "", err
		}
	}
	table := filepath.Join(dir, study.ResultName)
	text, err := os.ReadFile(table)
	if err != nil {
		return "", err
	}
	last := bytes.LastIndex(bytes.TrimSpace(text), []byte("\n"))
	text = append(text[:last], bytes.Replace(text[last:], []byte(",ok,"), []byte(",failed,"), 1)...)
	return dir, os.WriteFile(table, text, 0o644)
})

// keep computes a case for its folder.
func keep(p *plan.Sweep, i int, dir string) error {
	s, err := p.Scenario(i)
	if err != nil {
		return err
	}
	c := s.Case()
	r, err := thermal.Simulate(context.Background(), &c, thermal.Options{})
	if err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Dir(dir), 0o755); err != nil {
		return err
	}
	f, err := record.Open(dir)
	if err != nil {
		return err
	}
	run := bench.Run()
	run.Scenario = []byte(scenarioText)
	_, _, err = f.Save(context.Background(), run, r, false, nil)
	return err
}

func TestMain(m *testing.M) {
	code := m.Run()
	if dir, err := swept(); err == nil && os.Getenv("MURALHEAT_LOOK") == "" {
		os.RemoveAll(filepath.Dir(dir))
	}
	os.Exit(code)
}

// unpacked reads the data of a page back.
func unpacked(t *testing.T, html []byte) (f File, planes []byte) {
	t.Helper()
	data := regexp.MustCompile(`id="data">([^<]*)<`).FindSubmatch(html)
	packed, err := base64.StdEncoding.DecodeString(string(data[1]))
	if err != nil {
		t.Fatal(err)
	}
	r, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		t.Fatal(err)
	}
	all, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	n := binary.LittleEndian.Uint32(all)
	if err := json.Unmarshal(all[4:4+n], &f); err != nil {
		t.Fatal(err)
	}
	return f, all[4+n+3*256:]
}

// The numbers of a page are those of the table, sections are there where they were kept, the temperatures in them are
// those of the result to half a step of 255, and the same folder makes the same bytes.
func TestSweepPage(t *testing.T) {
	dir := sweepOf(t)
	p, err := Of([]string{dir})
	if err != nil {
		t.Fatal(err)
	}
	html, err := p.HTML()
	if err != nil {
		t.Fatal(err)
	}
	table, err := study.ReadSweep(dir)
	if err != nil {
		t.Fatal(err)
	}
	f, planes := unpacked(t, html)
	if len(f.Cases) != 5 || len(f.Walls) != 2 || len(f.Choices) != 2 || !p.Invented || len(p.Notes) != 1 {
		t.Fatalf("%d cases, %d walls, %d choices, invented %t, notes %q", len(f.Cases), len(f.Walls), len(f.Choices), p.Invented, p.Notes)
	}
	for n, c := range f.Cases {
		if c.Value != table.Column[record.DepthColumn][n] || *c.Margin != table.Column[record.MarginColumn][n] || *c.EnergyJ != table.Column[study.EnergyColumn][n] || c.Why != table.Remark[n] {
			t.Errorf("case %d: %g, %g mm, %g J, %q", n, c.Value, *c.Margin, *c.EnergyJ, c.Why)
		}
		if (c.Section != nil) != (n < 4) || (c.Course != nil) != (n < 4) {
			t.Errorf("case %d: section %t, time course %t", n, c.Section != nil, c.Course != nil)
		}
		if c.Section == nil {
			continue
		}
		r, err := record.Load(table.KeptPath(dir, n))
		if err != nil {
			t.Fatal(err)
		}
		k, width := cutOf(r), len(c.Section.X)
		for j := range c.Section.Z {
			for i, x := range c.Section.X {
				at := j*width + i
				if j > 0 {
					planes[at] += planes[at-width]
				}
				shown := func(x float64) float64 { return math.Min(k.Shown.At(x, k.Shown.Y[j]), f.Heat.High) }
				const byMM = 0.0005 // x is rounded by
				want := shown(x)
				off := 0.51*(f.Heat.High-f.Heat.Low)/255 + max(math.Abs(shown(x+byMM)-want), math.Abs(shown(x-byMM)-want))
				if got := f.Heat.Low + float64(planes[at])/255*(f.Heat.High-f.Heat.Low); math.Abs(got-want) > off {
					t.Fatalf("case %d, row %d, x %g mm: %g C, in the result %g", n, j, x, got, want)
				}
			}
		}
		planes = planes[width*len(c.Section.Z):]
		if end := c.Course.Value[len(c.Course.Value)-1]; math.Abs(end-c.Value) > 0.02 {
			t.Errorf("case %d: its time course ends at %g mm, depth %g mm", n, end, c.Value)
		}
	}
	if len(planes) != 0 {
		t.Errorf("%d bytes belong to nothing", len(planes))
	}
	again, err := p.HTML()
	if err != nil || !bytes.Equal(html, again) {
		t.Error("other bytes the second time", err)
	}
}

// The deepest point of the injury line is the depth, to the 5 um that paths are told to.
func TestSectionShowsTheDepth(t *testing.T) {
	r := fixture.Computed(t, "disc-antrum")
	b := &builder{page: &Page{}}
	b.add(r, r, Case{}, "")
	p, err := b.done()
	if err != nil {
		t.Fatal(err)
	}
	deepest := 0.0
	for _, pair := range regexp.MustCompile(`[ML](\S+) ([^MLZ]+)`).FindAllStringSubmatch(p.Cases[0].Section.Injury, -1) {
		deepest = math.Max(deepest, record.Parsed(pair[2]))
	}
	if want := 1e3 * r.Summary.InjuryDepthM; math.Abs(deepest-want) > 0.003 {
		t.Errorf("the line goes down to %g mm, depth %g mm", deepest, want)
	}
	if r.Fields.PeakC == nil {
		t.Error("took the fields out of a result that is not its own")
	}
	// Two hundred such cases must fit into 8 MB, base64 and all.
	with, err := p.packed()
	if err != nil {
		t.Fatal(err)
	}
	p.Cases[0].Section, p.Cases[0].Course = nil, nil
	without, err := p.packed()
	if err != nil {
		t.Fatal(err)
	}
	if size := (len(with) - len(without)) * 4 / 3; size > 8e6/200 {
		t.Errorf("%d bytes a case", size)
	} else {
		t.Logf("%d bytes a case at %s", size, r.Case.Numerics.Quality)
	}
}

// Pads and loops make pages too: a pad is judged by the rise, and not beside other tips.
func TestOtherTips(t *testing.T) {
	pad, loop := fixture.Computed(t, "pad-peeled"), fixture.Computed(t, "stalk-pulled")
	b := &builder{page: &Page{Title: "Pad"}}
	b.add(pad, pad, Case{}, "")
	p, err := b.done()
	if err != nil {
		t.Fatal(err)
	}
	if q := p.Quantity; q.Unit != "K" || !q.Rises || p.Cases[0].Value != pad.Summary.Pad.MeanRiseK || p.Cases[0].Margin != nil || p.Cases[0].Section.Contact == "" || p.Cases[0].Section.Limit == "" {
		t.Errorf("%+v, %+v", q, p.Cases[0])
	}
	b.add(loop, loop, Case{}, "")
	if _, err := b.done(); err == nil || !strings.Contains(err.Error(), "make a page of those") {
		t.Error(err)
	}
	b = &builder{page: &Page{Title: "Loop"}}
	b.add(loop, loop, Case{}, "")
	if p, err = b.done(); err != nil {
		t.Fatal(err)
	}
	if s := p.Cases[0].Section; s.Never == "" || s.Start == "" || s.Polyp == "" || len(s.Above) == 0 || s.Passed {
		t.Errorf("%.60q, %.60q, %.60q, %d layers above, passed %t", s.Never, s.Start, s.Polyp, len(s.Above), s.Passed)
	}
}

// A comparison and runs offer their results under their titles; what cannot be shown is refused.
func TestRunsPage(t *testing.T) {
	dir := sweepOf(t)
	a, b := filepath.Join(dir, study.KeptFolder, "case-0"), filepath.Join(dir, study.KeptFolder, "case-3")
	p, err := Of([]string{a, b})
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(p.Choices[0].Levels, "|"); got != "A short touch|A short touch (case-3)" || p.Title != "Side by side" || !p.Invented {
		t.Errorf("%q under %q, invented %t", got, p.Title, p.Invented)
	}
	if p, err = Of([]string{a}); err != nil || len(p.Choices) != 0 || p.Title != "A short touch" {
		t.Errorf("one run: %v, %v", p, err)
	}
	r := compare.Record{Title: "Two", Members: []compare.Entry{{Title: "One", Folder: "cases/case-0"}, {Title: "Other", Folder: "cases/case-3"}}}
	if err := r.Write(dir); err != nil {
		t.Fatal(err)
	}
	os.Remove(filepath.Join(dir, study.SweepName))
	if p, err = Of([]string{dir}); err != nil || p.Title != "Two" || p.Choices[0].Levels[1] != "Other" || p.Cases[1].Value <= p.Cases[0].Value {
		t.Errorf("comparison: %+v, %v", p, err)
	}
	if _, err := Of([]string{dir, a}); err == nil || !strings.Contains(err.Error(), "by itself") {
		t.Error(err)
	}
	manifest := filepath.Join(a, record.ManifestName)
	text, _ := os.ReadFile(manifest)
	os.WriteFile(manifest, bytes.Replace(text, []byte(`"host"`), []byte(`"failure": "it boiled over", "host"`), 1), 0o644)
	if _, err := Of([]string{a}); err == nil || !strings.Contains(err.Error(), "stopped early: it boiled over") {
		t.Error(err)
	}
}

// What is kept must be the case of the table.
func TestKeptOfAnother(t *testing.T) {
	dir := sweepOf(t)
	kept := filepath.Join(dir, study.KeptFolder)
	if err := os.Rename(filepath.Join(kept, "case-3"), filepath.Join(kept, "case-4")); err != nil {
		t.Fatal(err)
	}
	if _, err := Of([]string{dir}); err == nil || !strings.Contains(err.Error(), "not the case of that table") {
		t.Error(err)
	}
}
