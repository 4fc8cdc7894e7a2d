package heat

import (
	"fmt"
	"math"
	"testing"

	"muralheat/mesh"
)

// track is a body of two layers, around a line along which something moves.
func track() *mesh.Mesh {
	across := mesh.Grading{To: 2 * mm, FinestM: 0.4 * mm, Slope: 0.3}.Axis(0, 1*mm, 12*mm)
	return mesh.New(mesh.Track, mesh.Grading{From: -2 * mm, To: 4 * mm, FinestM: 0.4 * mm, Slope: 0.4}.Axis(-8*mm, 10*mm), across, across)
}

// moving heats a body by a source that moves along its line, with perfusion that stops and surfaces that change, for steps of 5 ms,
// and returns what the source gave, J. After each step it calls each.
func moving(s *Solver, steps int, each func(step int)) (givenJ float64) {
	const dt = 5e-3
	src, other := make([]float64, s.m.Len()), make([]float64, s.m.Len())
	ambient := 22.0
	s.SetBottom(50, 30)
	for step := range steps {
		x := 4 * mm * float64(step) / float64(steps)
		s.SetSurface(25, ambient, s.m.Disc(nil, x, 0.8*mm), 300, 30)
		if step%3 == 0 {
			if step%2 == 0 { // another array, or the same written to
				src, other = other, src
			} else {
				s.SourceChanges()
			}
			for p := s.m.Plane(); p < s.m.Plane()+s.m.Cells(); p++ {
				i, j, k := s.m.Cell(p)
				r := math.Hypot(math.Hypot(s.m.X.Centres[i]-x, s.m.Y.Centres[j]), s.m.Z.Centres[k])
				src[p] = 2.5e9 * math.Pow(1+r/mm, -4) * s.m.Volume(i, j, k)
			}
		}
		if step == steps/3 {
			ambient = 15
		}
		if n := step - steps/3; n > 0 && n < 6 { // whether far cells have just stepped or not
			s.SetBottom(50, 30-float64(n))
		}
		if step == steps/2 {
			for p := s.m.Plane(); p < s.m.Plane()+s.m.Cells(); p++ {
				s.Perfuse(p, 0.3)
			}
		}
		s.SourceScale = 1 + 0.5*math.Sin(float64(step))
		for p, q := range src {
			if s.Gone(p) && q != 0 {
				s.SourceChanges()
				src[p] = 0
			}
			givenJ += src[p] * s.SourceScale * dt
		}
		s.Step(dt, src)
		each(step)
	}
	return givenJ
}

// off is by how much the energy balance does not close, as a share of what came in, and what the source gave does not come in.
func off(s *Solver, givenJ float64) (balance, source float64) {
	stored, steam, smoke := s.Stores()
	out := stored + steam + smoke + s.PerfusionJ + s.ElectrodeJ + s.LumenJ + s.OuterJ + s.RemovedJ
	return math.Abs(s.JouleJ-out) / s.JouleJ, math.Abs(s.JouleJ-givenJ) / givenJ
}

// With far cells that step less often energy closes as it does without, whenever they have caught up, whatever happens in between;
// temperatures are those of cells that all step together, and most cells are far most of the time.
func TestFarCells(t *testing.T) {
	const steps = 900
	every, some := layered(track(), phases), layered(track(), phases)
	some.SetFar(0.2)
	differ := func() (most float64) {
		for p := every.m.Plane(); p < every.m.Plane()+every.m.Cells(); p++ {
			most = math.Max(most, math.Abs(every.T[p]-some.T[p]))
		}
		return most
	}
	moving(every, steps, func(int) {})
	far, longer := 0, 0
	given := moving(some, steps, func(step int) {
		for _, c := range some.far.far {
			far += c.End - c.First
		}
		if some.far.waitsS > 0 {
			longer++
		}
		if step == 700 {
			some.CatchUp()
			if some.far.waitsS != 0 {
				t.Error("far cells did not catch up")
			}
		}
	})
	some.CatchUp()
	if balance, source := off(some, given); balance > 1e-12 || source > 1e-12 {
		t.Errorf("energy off by %.2g, what the source gave by %.2g", balance, source)
	}
	if share := float64(far) / float64(steps*some.m.Cells()); share < 0.4 || longer < steps/2 {
		t.Errorf("%.2g of the cells far, waiting in %d of %d steps", share, longer, steps)
	}
	hottest, wet := 0.0, 0.0
	for p := range some.T {
		hottest = math.Max(hottest, some.T[p])
		wet = math.Max(wet, math.Abs(some.Water[p]-every.Water[p]))
	}
	if d := differ(); d > 0.1 || wet > 1e-3 || hottest < 100 {
		t.Errorf("up to %.3g K and %.2g of the water from cells that step together, hottest %.4g C", d, wet, hottest)
	}
}

// Where far cells warm fast they become near, before they boil; there too energy closes, to what happens in any row.
func TestFarCellsThatWarm(t *testing.T) {
	for name, act := range map[string]func(s *Solver, src []float64, p int){
		"warm fast": func(s *Solver, src []float64, p int) {
			i, j, k := s.m.Cell(p)
			src[p] = 1e9 * s.m.Volume(i, j, k)
			for range 10 {
				s.Step(5e-3, src)
			}
			if s.CatchUp(); s.far.isFar[p] || s.T[p] > 60 {
				t.Errorf("far: %v, at %g C", s.far.isFar[p], s.T[p])
			}
		},
		"removed": func(s *Solver, _ []float64, p int) { s.Insert([]int{p}, nil, 0, 0) },
		"contact": func(s *Solver, _ []float64, p int) {
			s.Insert(nil, []mesh.Contact{{P: p, AreaM2: 1e-7, Squares: 1e3}}, 500, 90)
		},
		"exposed": func(s *Solver, _ []float64, p int) {
			i, _, k := s.m.Cell(p)
			s.Insert([]int{s.m.Index(i, s.far.rows-1, k)}, nil, 0, 0)
			s.Expose(25, 22, nil)
		},
		"longer steps": func(s *Solver, src []float64, p int) {
			for range 20 {
				s.Step(1, src)
			}
			for _, tC := range s.T[s.m.Plane():][:s.m.Cells()] {
				if !(tC > 29 && tC < 501) {
					panic(fmt.Sprintf("a cell at %g C", tC))
				}
			}
			if !s.far.isFar[p] {
				t.Error("it takes too long steps")
			}
		},
		"water": func(s *Solver, _ []float64, p int) { s.receive(p, -0.1*s.latentJ(p), 0) },
		"bottom": func(s *Solver, _ []float64, p int) {
			if s.SetBottom(50, 20); s.far.waitsS != 0 {
				t.Error("far cells lose to what was not there as long as they waited")
			}
		},
		"perfusion": func(s *Solver, _ []float64, p int) { s.Perfuse(p, 0) },
	} {
		t.Run(name, func(t *testing.T) {
			s := layered(track(), phases)
			s.SetDiffusivity(1e-9)
			s.SetFar(0.2)
			s.SetSurface(25, 30, nil, 0, 0)
			src := make([]float64, s.m.Len())
			src[s.m.Index(s.m.NX/2, 0, 0)] = 0.5
			run := func(steps int) {
				for range steps {
					s.Step(5e-3, src)
				}
			}
			run(151)
			p := s.m.Index(s.m.NX/2, s.m.NY-4, 1)
			if name == "exposed" {
				p = s.m.Index(s.m.NX/2, s.far.rows, 1)
			}
			if !s.far.isFar[p] || s.far.waitsS == 0 {
				t.Fatal("the case was meant to have a far cell there that waits")
			}
			s.SourceChanges()
			act(s, src, p)
			run(1200)
			s.CatchUp()
			near := !s.far.isFar[p]
			if near == (name == "perfusion" || name == "longer steps" || name == "bottom") {
				t.Errorf("near: %v", near)
			}
			if name == "warm fast" && !(s.Water[p] < 0.9 && s.T[p] > 99) {
				t.Errorf("%g C, water %g: meant to boil", s.T[p], s.Water[p])
			}
			if name == "water" { // that was taken by the test
				return
			}
			if d, _ := off(s, s.JouleJ); d > 1e-12 {
				t.Errorf("energy off by %.2g", d)
			}
		})
	}
}
