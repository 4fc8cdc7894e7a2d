package figures

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/recorder"

	"muralheat/output/chart"
	"muralheat/output/internal/fixture"
	"muralheat/output/phrase"
	"muralheat/thermal"
)

// frame is the n-th frame of a film, counted from the end if negative, as a figure.
func frame(t *testing.T, res *thermal.Result, n int) chart.Figure {
	t.Helper()
	f, ok := Film(res)
	if !ok {
		t.Fatal("no film")
	}
	if n < 0 {
		n += len(f.Frames)
	}
	return chart.Figure{W: chart.FilmWidth, H: chart.FilmHeight, Draw: func(c draw.Canvas) {
		f.Still(c)
		f.Frames[n].Draw(c)
	}}
}

func TestFilmSays(t *testing.T) {
	for _, c := range []struct {
		of        string
		n         int
		want, not []string
	}{
		{"ball-touch", 0, []string{"0.00 s", "Current on: 1.00 W", "No injury so far.", "time slowed", "temperature (°C)", "mucosa 0.45 mm", "fat (beyond)", "active electrode", phrase.Caution}, []string{"peak temperature", "to muscle"}},
		{"ball-touch", -1, []string{"12.00 s", "Current off for 10.00 s. Injury 0.48 mm deep (0.03 mm of it since), 0.37 mm short of the muscle.", "dies within a day"}, []string{"time slowed"}},
		{"pad-peeled", -1, []string{"rise (K)", "neutral electrode", "Mean rise", "rise of 6 K"}, []string{"highest rise", "injury"}},
		{"stalk-loop", 5, []string{"wire of", "in sparks", "No injury of the wall so far.", "head 6 mm", "removed"}, nil},
	} {
		fixture.Says(t, c.of, frame(t, fixture.Computed(t, c.of), c.n), c.want, c.not)
	}
	long := *fixture.Computed(t, "ball-touch")
	titled := *long.Case
	titled.Title = "A title that takes more than two lines in the letters of a short one, and so is written in smaller ones, to its last word, which stands after a colon, and this is it: end"
	long.Case = &titled
	fixture.Says(t, "a long title", frame(t, &long, 0), []string{"this is it: end"}, []string{"…"})
	if _, ok := Film(fixture.Synthetics["mild"].Result()); ok {
		t.Error("a film without moments")
	}
}

// All text is on the page, and none smaller than notes, in every frame, however long the title.
func TestFilmFitsTheSlide(t *testing.T) {
	long := *fixture.Computed(t, "ball-touch")
	lengthy := *long.Case
	lengthy.Title = strings.Repeat("A very long title ", 30)
	long.Case = &lengthy
	for name, res := range map[string]*thermal.Result{
		"ball": fixture.Computed(t, "ball-touch"), "pad": fixture.Computed(t, "pad-peeled"), "loop": fixture.Computed(t, "stalk-loop"), "long": &long,
	} {
		for n := range res.Moments {
			var page recorder.Canvas
			frame(t, res, n).Draw(draw.NewCanvas(&page, chart.FilmWidth, chart.FilmHeight))
			turned := 0
			for _, a := range page.Actions {
				switch a := a.(type) {
				case *recorder.Push:
					turned++
				case *recorder.Pop:
					turned--
				case *recorder.FillString:
					w := chart.TextStyle(a.Size, chart.Ink, text.XLeft, text.YBottom).Width(a.String)
					if a.Size < chart.ForFilm.Note || turned == 0 && (a.Point.X < 0 || a.Point.X+w > chart.FilmWidth || a.Point.Y < 0 || a.Point.Y+a.Size*0.7 > chart.FilmHeight) {
						t.Errorf("%s, frame %d: %q of %g pt at %v, %.1f mm wide", name, n, a.String, a.Size, a.Point, w/chart.MM)
					}
				}
			}
		}
	}
}

// The last frame is the result: its temperatures are those of the end, its injury line ends at the depth that is reported.
// A millimetre is as long across as down, and the same in every frame.
func TestTheLastFrameIsTheResult(t *testing.T) {
	for _, name := range []string{"ball-touch", "stalk-loop"} {
		res := fixture.Computed(t, name)
		l := newReel(res)
		last, m := l.cuts[len(l.cuts)-1], res.Mesh
		for _, x := range []float64{0.2, 0.9, 1.4} {
			for k := m.Z.Find(1e-9); k < m.Z.Find(2e-3); k++ {
				i := m.X.Find(x / 1e3)
				p := m.Index(i, 0, k)
				if res.Fields.Removed[p] {
					continue
				}
				if got, want := last.Shown.At(1e3*m.X.Centres[i], 1e3*m.Z.Centres[k]), res.Fields.TemperatureC[p]; math.Abs(got-want) > 0.01 {
					t.Errorf("%s: %g C at %g mm, %g mm; want %g", name, got, 1e3*m.X.Centres[i], 1e3*m.Z.Centres[k], want)
				}
			}
		}
		deepest := 0.0
		for _, line := range last.LnOmega.Isoline(0) {
			for _, q := range line {
				deepest = math.Max(deepest, q.Y)
			}
		}
		if want := 1e3 * res.Summary.InjuryDepthM; math.Abs(deepest-want) > 0.005 {
			t.Errorf("%s: the line of the last frame ends at %g mm, want %g", name, deepest, want)
		}
		for n, k := range l.cuts {
			across, down := float64(filmPanel)/(k.X1-k.X0), float64(l.height)/(k.Z1+k.Head)
			if math.Abs(across/down-1) > 1e-9 || k.X0 != last.X0 || k.Z1 != last.Z1 || k.Head != last.Head {
				t.Errorf("%s: frame %d shows %g to %g mm, %g mm deep, %g by %g", name, n, k.X0, k.X1, k.Z1, across, down)
			}
		}
		if l.height < 30*chart.MM || vg.Length(l.top()) > chart.FilmHeight {
			t.Errorf("%s: the wall is %.0f mm high", name, l.height/chart.MM)
		}
		first := l.cuts[0].LnOmega.Isoline(0)
		if name == "ball-touch" && len(first) > 0 {
			t.Errorf("an injury before the current: %v", first)
		}
	}
}
