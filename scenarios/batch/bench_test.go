package batch

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"muralheat/scenarios"
	"muralheat/scenarios/plan"
	"muralheat/thermal"
)

// stationary is a case of some size: 5 s at standard quality, as in a grid of settings.
const stationary = "title: Stationary\nscenario: quick.yaml\nvary: [{key: current.power_W, from: 1, to: 3, steps: 24}]\n"

func stationarySweep(b *testing.B) *plan.Sweep {
	s, err := plan.Parse("plan.yaml", []byte(stationary), func(string) (*scenarios.Scenario, error) {
		return scenarios.Parse("quick.yaml", []byte("title: Stationary\nwall: {site: right-colon}\nelectrode: {tip: disc, radius_mm: 1}\ncurrent: {sparks: false, power_W: 1, on_s: 5}\nafterwards_s: 0\n"))
	})
	if err != nil {
		b.Fatal(err)
	}
	return s
}

// BenchmarkThroughput: cases per second with one and two workers.
func BenchmarkThroughput(b *testing.B) {
	s := stationarySweep(b)
	for _, workers := range []int{1, 2} {
		b.Run(fmt.Sprintf("%d-workers", workers), func(b *testing.B) {
			for b.Loop() {
				mustRun(b, s, filepath.Join(b.TempDir(), "out"), options(workers))
			}
			b.ReportMetric(float64(s.Len()*b.N)/b.Elapsed().Seconds(), "cases/s")
		})
	}
}

// BenchmarkOverhead: what a case costs besides its computation, and which share of such a
// case that is.
func BenchmarkOverhead(b *testing.B) {
	s := stationarySweep(b)
	outside, inside := 0.0, 0.0
	for b.Loop() {
		start := time.Now()
		mustRun(b, s, filepath.Join(b.TempDir(), "out"), options(1))
		all := time.Since(start).Seconds()
		alone := 0.0
		for i := range s.Len() {
			of, _ := s.Scenario(i)
			c := of.Case()
			start := time.Now()
			if _, err := thermal.Simulate(b.Context(), &c, thermal.Options{}); err != nil {
				b.Fatal(err)
			}
			alone += time.Since(start).Seconds()
		}
		outside, inside = outside+all-alone, inside+alone
	}
	b.ReportMetric(1e3*outside/float64(s.Len()*b.N), "ms-outside/case")
	b.ReportMetric(100*outside/inside, "%-outside")
}

// TestMany: a journal is read and made into a table with at most 300 bytes of memory a case,
// 300 MB for a million, in a time that grows with its length. (A million: 12 s, 132 MB.)
func TestMany(t *testing.T) {
	if os.Getenv("MURALHEAT_LONG") == "" {
		t.Skip("a million rows: set MURALHEAT_LONG=1, as .ci/run does")
	}
	const plan = "title: Many\nscenario: quick.yaml\nvary: [{key: current.power_W, from: 1, to: 2, steps: %d}, {key: current.on_s, from: 1, to: 2, steps: 1000}]\n"
	cols := make([]Column, 40)
	for k := range cols {
		cols[k] = Column{Name: fmt.Sprintf("c%d", k), Text: "made up"}
	}
	took := map[int]time.Duration{}
	for _, n := range []int{20, 200} {
		s, dir := sweepOf(t, fmt.Sprintf(plan, n)), filepath.Join(t.TempDir(), "out")
		f, err := open(s, dir, options(1))
		if err != nil {
			t.Fatal(err)
		}
		var some []outcome
		cells := make([]string, len(cols))
		for i := range s.Len() {
			for k := range cells {
				cells[k] = fmt.Sprint(float64(i) + 0.25)
			}
			var id identity
			copy(id[:], fmt.Sprint(i))
			some = append(some, outcome{i: i, id: id, columns: cols, row: row{Inputs: []string{"1", "2"}, Cells: append([]string{}, cells...)}})
			if len(some) == 10000 {
				if err := f.journal.add(some); err != nil {
					t.Fatal(err)
				}
				some = nil
			}
		}
		f.close()
		runtime.GC()
		start := time.Now()
		most := uint64(0)
		opt := options(1)
		look := func() {
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			most = max(most, m.HeapInuse)
		}
		opt.Progress = func(Count) { look() }
		mustRun(t, s, dir, opt)
		look()
		took[n] = time.Since(start)
		if most > 10e6+300*uint64(s.Len()) {
			t.Errorf("%d cases take %d MB", s.Len(), most/1e6)
		}
		t.Logf("%d cases: %v, %d MB", s.Len(), took[n], most/1e6)
	}
	if ratio := took[200].Seconds() / took[20].Seconds(); ratio > 30 {
		t.Errorf("ten times the cases take %.0f times as long", ratio)
	}
}
