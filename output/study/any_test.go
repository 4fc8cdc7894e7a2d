package study

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"muralheat/output/chart"
)

// The files are written in all formats, and are the same each time.
func TestSweepFiguresAreTheSameEachTime(t *testing.T) {
	dir := t.TempDir()
	madeUps["sites-draws"].write(t, dir)
	var before map[string][]byte
	for range 2 {
		names, err := drawInto(dir, chart.ForDocument)
		if err != nil {
			t.Fatal(err)
		}
		if len(names) != 3*5 || !IsSweep(dir) {
			t.Fatalf("files %v", names)
		}
		now := map[string][]byte{}
		for _, n := range names {
			if now[n], err = os.ReadFile(filepath.Join(dir, n)); err != nil {
				t.Fatal(err)
			}
			if before != nil && !bytes.Equal(now[n], before[n]) {
				t.Errorf("%s differs from one drawing to the next", n)
			}
		}
		before = now
	}
}

// Whatever a plan varies, its figures can be drawn: plans of random shape.
func TestSweepFiguresOfAnyPlan(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	words := []string{"saline", "true", "false", "a-word-that-is-long-enough-to-be-broken-in-two", "漢字"}
	for range 40 {
		m := madeUp{title: "Anything", cut: r.IntN(2) == 0, bare: r.IntN(5) == 0, draws: []int{1, 1, 3, 12}[r.IntN(4)]}
		var axes [][]string
		for k := range 1 + r.IntN(4) {
			in := sweepInput{Key: fmt.Sprintf("any.key-%d_mm", k), Title: strings.Repeat("a long title ", r.IntN(6)), Unit: "mm"}
			n := 1 + r.IntN(8)
			axis := between(math.Pow(10, 3*r.Float64())*(r.Float64()-0.2), 100, n+1, false)[:n]
			if r.IntN(3) == 0 {
				axis, in.Unit = words[:1+r.IntN(len(words))], ""
			}
			m.inputs, axes = append(m.inputs, in), append(axes, axis)
		}
		m.points = every(axes...)
		if r.IntN(3) == 0 {
			m.points = m.points[:1+r.IntN(len(m.points))]
		}
		if len(m.points) > 200 {
			m.points = m.points[:200]
		}
		if r.IntN(2) == 0 {
			m.top = func(v []string) float64 { return 0.5 + 0.1*float64(len(v[0])) }
		}
		m.status = func(n int) string { return []string{"ok", "ok", "failed", "doubtful"}[(n*7+n/3)%4] }
		for _, f := range SweepFigures(chart.ForDocument, m.read(t)) {
			b, err := chart.Svg(f)
			if err != nil {
				t.Fatal(err)
			}
			if bytes.Contains(b, []byte("NaN")) || bytes.Contains(b, []byte("Inf")) {
				t.Errorf("%v, %d points: not a number in %s", m.inputs, len(m.points), f.Name)
			}
		}
	}
}

// drawInto writes the figures of the sweep in dir and returns the names of their files.
func drawInto(dir string, page chart.Page) (names []string, err error) {
	pictures, err := Pictures(dir, page)
	for _, p := range pictures {
		if err := os.WriteFile(filepath.Join(dir, p.Name), p.Data, 0o666); err != nil {
			return nil, err
		}
		names = append(names, p.Name)
	}
	return names, err
}
