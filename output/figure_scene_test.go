package output

import (
	"bytes"
	"image"
	"image/color"
	imagepng "image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"gonum.org/v1/plot/vg"

	"muralheat/scenarios"
	"muralheat/thermal"
)

// computed returns the result of an example, computed once for all tests.
func computed(t *testing.T, name string) *thermal.Result {
	t.Helper()
	once, _ := examples.LoadOrStore(name, sync.OnceValues(func() (*thermal.Result, error) {
		e, _ := scenarios.FindExample(name)
		s, err := scenarios.Parse(e.Name, e.Text)
		if err != nil {
			return nil, err
		}
		c := s.Case()
		return thermal.Simulate(t.Context(), &c, thermal.Options{})
	}))
	r, err := once.(func() (*thermal.Result, error))()
	if err != nil {
		t.Fatal(err)
	}
	return r
}

var examples sync.Map

func TestSceneFiguresAreTheSameEachTime(t *testing.T) {
	for _, name := range []string{"pad-peeled", "stalk-opposite"} {
		r := computed(t, name)
		a, err := drawings(r)
		if err != nil {
			t.Fatal(err)
		}
		b, err := drawings(r)
		if err != nil {
			t.Fatal(err)
		}
		for i := range a {
			if a[i].name != b[i].name || !bytes.Equal(a[i].data, b[i].data) {
				t.Errorf("%s: %s differs from one drawing to the next", name, a[i].name)
			}
		}
	}
}

func TestSceneFiguresSay(t *testing.T) {
	for _, c := range []struct {
		of   string
		draw func(*thermal.Result) figure
		want []string
		not  []string
	}{
		{"pad-full", wallFigure, []string{"highest rise (K)", "neutral electrode", "skin 1.55 mm", "1 cm²: mean rise", "below the 6 K"}, []string{"rise of 6 K", "black", "removed", "injury line"}},
		{"pad-peeled", wallFigure, []string{"rise of 6 K", "(black: in contact)", "above the 6 K"}, []string{"injury line"}},
		{"pad-peeled", skinFigure, []string{"highest rise of the skin (K)", "6 K over 1 cm²", "mean over 1 cm²: "}, nil},
		{"pad-peeled", timeFigure, []string{"under the middle of the pad", "fat / muscle", "mean rise (K)", "6 K over 1 cm²", "over the hottest 1 cm² of skin"}, []string{"injury depth"}},
		{"stalk-loop", wallFigure, []string{"wire of", "(dashed:", "depth below the base of the stalk (mm)", "head 6 mm", "stalk 8 mm", "removed"}, []string{"opposite"}},
		{"stalk-opposite", wallFigure, []string{"opposite-mucosa 0.55 mm", "touch 0.5 mm", "head touching the opposite wall"}, nil},
		{"stalk-opposite", timeFigure, []string{"base of the stalk", "injury depth (mm)"}, []string{"opposite-"}},
	} {
		says(t, c.of, c.draw(computed(t, c.of)), c.want, c.not)
	}
}

// onPage draws a figure and returns its pixels.
func onPage(t *testing.T, f figure) image.Image {
	t.Helper()
	b, err := png(f)
	if err != nil {
		t.Fatal(err)
	}
	img, err := imagepng.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	return img
}

func dots(l vg.Length) int { return int(math.Round(l.Dots(dotsPerInch))) }

// TestSkinOnThePage follows the curve of the skin on the page: as high as its axis says where
// the rim is, and nowhere higher.
func TestSkinOnThePage(t *testing.T) {
	r := computed(t, "pad-peeled")
	f, sum := skinFigure(r), r.Summary.Pad
	img := onPage(t, f)
	const height, width = 62 * mm, wallWidth - marginLeft - 12*mm
	top := 1.3 * sum.HighestRiseK
	bottom := f.h - newHead("", []string{padVerdict(r)}, setting(r)).height() - 3*mm - height
	end := 1.45*1e3*r.Case.Electrode.TipRadiusM + 10/math.Sqrt(math.Pi)
	want := color.NRGBAModel.Convert(lineStyles[0].Color)
	highest := func(x int) float64 { // of the curve in a column of pixels, K
		for y := dots(f.h-bottom-height) + dots(7*mm); y < dots(f.h-bottom)-3; y++ {
			if color.NRGBAModel.Convert(img.At(x, y)) == want {
				return top * (1 - float64(y-dots(f.h-bottom-height))/float64(dots(height)))
			}
		}
		return 0
	}
	most, at := 0.0, 0.0
	for x := dots(marginLeft) + 4; x < dots(marginLeft+width)-4; x++ {
		if h := highest(x); h > most {
			most, at = h, end*float64(x-dots(marginLeft))/float64(dots(width))
		}
	}
	if math.Abs(most-sum.HighestRiseK) > 0.03*sum.HighestRiseK || math.Abs(at-1e3*r.Case.Electrode.ContactRadiusM) > 0.5 {
		t.Errorf("the curve is highest, %.2f K, at %.1f mm; the skin %.2f K at %.1f mm", most, at, sum.HighestRiseK, 1e3*r.Case.Electrode.ContactRadiusM)
	}
}

// TestLoopOnThePage looks where the wire is at the end, beside the stalk, in its base and in
// the gap that the wire has left.
func TestLoopOnThePage(t *testing.T) {
	r := computed(t, "stalk-opposite")
	f := wallFigure(r)
	img := onPage(t, f)
	i, j := deepest(r)
	k := newCut(r, across(r, i), i, j)
	const width = wallWidth - marginLeft - namesWidth - barWidth
	k.frame(width, stalkCut)
	if math.Abs((k.x1-k.x0)/float64(width)*float64(k.height)/(k.head+k.z1)-1) > 1e-9 {
		t.Error("a millimetre is not as long across as down")
	}
	below := f.h - footHeight - axisHeight // of the top of the page, where the cut ends
	pixel := func(x, z float64) color.Color {
		return color.NRGBAModel.Convert(img.At(dots(marginLeft+width*vg.Length((x-k.x0)/(k.x1-k.x0))), dots(below-k.height*vg.Length((k.z1-z)/(k.head+k.z1)))))
	}
	e, stalk := r.Case.Electrode, 1e3*stalkRadiusM(r.Case)
	wire, z := 1e3*e.ContactRadiusM, -1e3*e.HeightM
	if at := 1e3*r.Summary.Stalk.RingRadiusM + wire; pixel(at, z) != metal || pixel(-at, z) != metal {
		t.Errorf("no wire at %g mm, %g mm", at, z)
	}
	for _, q := range []point{{stalk + 0.5, -1}, {-stalk - 0.5, -1}, {1e3 * e.TipRadiusM * 0.6, z}} {
		if pixel(q.x, q.y) != paper {
			t.Errorf("not empty at %g mm, %g mm: %v", q.x, q.y, pixel(q.x, q.y))
		}
	}
	for _, q := range []point{{stalk - 0.5, -1}, {0, -10}, {stalk + 1, 0.3}} {
		if pixel(q.x, q.y) == paper {
			t.Errorf("no tissue at %g mm, %g mm", q.x, q.y)
		}
	}
}

// What is seen of a polyp holds all that is injured in the wall, however deep.
func TestLoopShowsTheInjury(t *testing.T) {
	r := *computed(t, "stalk-loop")
	r.Summary.InjuryDepthM = 2.2 * r.Case.WallM()
	i, j := deepest(&r)
	k := newCut(&r, across(&r, i), i, j)
	k.frame(wallWidth-marginLeft-namesWidth-barWidth, stalkCut)
	if k.z1 < 1e3*r.Summary.InjuryDepthM {
		t.Errorf("seen down to %g mm, injured down to %g mm", k.z1, 1e3*r.Summary.InjuryDepthM)
	}
}

// The cut shows rises of a pad, from the temperatures before the current.
func TestPadIsDrawnByItsRise(t *testing.T) {
	r := computed(t, "pad-peeled")
	k := newCut(r, across(r, 0), 0, 0)
	most := 0.0
	for n, c := range k.cell {
		want := r.Fields.PeakC[c] - r.Fields.RestC[c]
		if math.Abs(k.shown.v[n]-want) > 1e-12 {
			t.Fatalf("%g K drawn, %g K", k.shown.v[n], want)
		}
		most = math.Max(most, want)
	}
	if most != r.Summary.Pad.HighestRiseK || k.scale.most != most || k.scale.high < most || k.scale.low != 0 {
		t.Errorf("scale %+v, highest rise %g K", k.scale, most)
	}
	if s := riseScale(computed(t, "pad-full")); s.high != riseLimitK {
		t.Errorf("a pad below the limit: scale %+v", s)
	}
}

// A stalk that was not cut through has no time: it is crossed out, not left out. The table
// is made up.
func TestStalksNotCutThrough(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{
		sweepName: `{"title":"Made up","draws":1,"cases":6,
"inputs":[{"key":"stalk.diameter_mm","title":"diameter of the stalk","unit":"mm"},{"key":"current.power_W","title":"power","unit":"W"}],
"columns":[{"name":"injury_depth_mm","unit":"mm"},{"name":"cut_through_s","unit":"s"}],"layers":[]}`,
		resultName: "case,point,stalk.diameter_mm,current.power_W,status,reason,injury_depth_mm,cut_through_s\n" +
			"0,0,3,10,ok,,1.0,\n1,1,3,20,ok,,1.1,2.5\n2,2,4,10,ok,,1.2,\n3,3,4,20,ok,,1.3,3.5\n4,4,6,10,ok,,1.4,\n5,5,6,20,ok,,1.5,\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	table, err := readSweep(dir)
	if err != nil {
		t.Fatal(err)
	}
	factors := table.factors()
	design, base := table.designOf(factors)
	s := &sweepShape{table, factors, design, base}
	facets, _ := s.facets(false)
	for n, want := range [][]float64{{3, 4, 6}, {6}} {
		if got, some := facets[0].lacking(table, n, cutTimeOf()); !sameNumbers(got, want) || some {
			t.Errorf("power %s: crossed out at %v (%v), want %v", facets[0].series.names[n], got, some, want)
		}
		if got, _ := facets[0].lacking(table, n, depthOf(table)); got != nil {
			t.Errorf("depths crossed out at %v", got)
		}
	}
	b, err := svg(s.curvesFigure("cut-time", cutTimeOf()))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Crossed out, at the top: not cut through", "10 W", "20 W"} {
		if !strings.Contains(string(b), want) {
			t.Errorf("no %q", want)
		}
	}
}

// Cross-sections side by side explain their lines and hatches, as one alone does.
func TestSectionsSay(t *testing.T) {
	pads := []keptCase{{"full", computed(t, "pad-full")}, {"peeled", computed(t, "pad-peeled")}}
	says(t, "pads", sectionsFigure("Pads", pads), []string{"rise of 6 K", "K over 1 cm²", "peeled: "}, []string{"injury line (", "dried"})
	tips := []keptCase{{"hot", synthetics["hot"].result()}, {"mild", synthetics["mild"].result()}}
	says(t, "tips", sectionsFigure("Tips", tips), []string{"injury line (", "dried", "carbonised", " mm deep"}, []string{"rise of 6 K"})
}

// The current of a loop ends with the cut, and so does its shade.
func TestLoopShadeEndsWithTheCut(t *testing.T) {
	r := computed(t, "stalk-pulled")
	cut := r.Summary.Stalk.CutThroughS
	if !(cut < r.Case.Drive.OnS) {
		t.Fatalf("cut through after %g s of %g s", cut, r.Case.Drive.OnS)
	}
	if b := newRhythm(r, 1).bands; len(b) != 1 || b[0].to != cut {
		t.Errorf("shaded %v, want up to %g s", b, cut)
	}
	says(t, "stalk-pulled", timeFigure(r), []string{"ended by the cut"}, nil)
	says(t, "stalk-opposite", wallFigure(computed(t, "stalk-opposite")), []string{"opposite-submucosa"}, []string{"…"})
}
