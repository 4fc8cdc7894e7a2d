package cores

import (
	"testing"
)

// Every piece is done once, whoever does it, on one core and on two.
func TestEach(t *testing.T) {
	for _, n := range []int{1, 2} {
		p := New(n)
		for pass := range 20000 {
			pieces := pass % 7
			done := make([]int, pieces)
			p.Each(pieces, func(i int) { done[i]++ })
			for i, n := range done {
				if n != 1 {
					t.Fatalf("piece %d of pass %d done %d times", i, pass, n)
				}
			}
		}
		p.Close()
	}
}

// A panic comes out where the pass was called, whichever core it happens on.
func TestPanic(t *testing.T) {
	caught := func(pass func(p *Pair)) (what any) {
		p := New(2)
		defer p.Close()
		defer func() { what = recover() }()
		pass(p)
		return nil
	}
	for range 1000 {
		for piece := range 2 {
			fail := func(i int) {
				if i == piece {
					panic("piece")
				}
			}
			if what := caught(func(p *Pair) { p.Each(2, fail) }); what != "piece" {
				t.Fatalf("Each ends with %v", what)
			}
		}
	}
}

var sink [2]float64

// BenchmarkEach gives what a pass of nothing costs, and one of 20 us on one core.
func BenchmarkEach(b *testing.B) {
	p := New(2)
	defer p.Close()
	b.Run("empty", func(b *testing.B) {
		do := func(int) {}
		for b.Loop() {
			p.Each(2, do)
		}
	})
	work := func(i int) {
		v := 1.0
		for range 10000 {
			v = v*0.999 + 1
		}
		sink[i] = v
	}
	b.Run("work/1", func(b *testing.B) {
		for b.Loop() {
			(*Pair)(nil).Each(2, work)
		}
	})
	b.Run("work/2", func(b *testing.B) {
		for b.Loop() {
			p.Each(2, work)
		}
	})
}
