package figures

import (
	"bytes"
	"image"
	"image/color"
	imagepng "image/png"
	"math"
	"testing"

	"gonum.org/v1/plot/vg"

	"muralheat/output/chart"
	"muralheat/output/internal/fixture"
	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/thermal"
)

func TestSceneFiguresSay(t *testing.T) {
	for _, c := range []struct {
		of   string
		draw func(chart.Page, *thermal.Result) []chart.Figure
		want []string
		not  []string
	}{
		{"pad-full", wallFigures, []string{"highest rise (K)", "neutral electrode", "skin 1.55 mm", "1 cm²: mean rise", "below the 6 K"}, []string{"rise of 6 K", "black", "removed", "injury line"}},
		{"pad-peeled", wallFigures, []string{"rise of 6 K", "(black: in contact)", "above the 6 K"}, []string{"injury line"}},
		{"pad-peeled", skinFigures, []string{"highest rise of the skin (K)", "6 K over 1 cm²", "mean over 1 cm²: "}, nil},
		{"pad-peeled", timeFigures, []string{"under the middle of the pad", "fat / muscle", "mean rise (K)", "6 K over 1 cm²", "over the hottest 1 cm² of skin"}, []string{"injury depth"}},
		{"stalk-loop", wallFigures, []string{"wire of", "(dashed:", "depth below the base of the stalk (mm)", "head 6 mm", "stalk 8 mm", "removed"}, []string{"opposite"}},
		{"stalk-opposite", wallFigures, []string{"opposite-mucosa 0.55 mm", "touch 0.5 mm", "head touching the opposite wall"}, nil},
		{"stalk-opposite", timeFigures, []string{"base of the stalk", "injury depth (mm)"}, []string{"opposite-"}},
	} {
		fixture.Says(t, c.of, c.draw(chart.ForDocument, fixture.Computed(t, c.of))[0], c.want, c.not)
	}
}

func skinFigures(page chart.Page, r *thermal.Result) []chart.Figure {
	return []chart.Figure{skinFigure(page, r)}
}

// onPage draws a figure and returns its pixels.
func onPage(t *testing.T, f chart.Figure) image.Image {
	t.Helper()
	b, err := chart.Png(f)
	if err != nil {
		t.Fatal(err)
	}
	img, err := imagepng.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	return img
}

func dots(l vg.Length) int { return int(math.Round(l.Dots(chart.DotsPerInch))) }

// TestSkinOnThePage follows the curve of the skin on the page: as high as its axis says where
// the rim is, and nowhere higher.
func TestSkinOnThePage(t *testing.T) {
	r := fixture.Computed(t, "pad-peeled")
	f, sum := skinFigure(chart.ForDocument, r), r.Summary.Pad
	img := onPage(t, f)
	const height, width = 62 * chart.MM, chart.WallWidth - chart.MarginLeft - 12*chart.MM
	top := 1.3 * sum.HighestRiseK
	bottom := f.H - chart.ForDocument.Head("", []string{phrase.Verdict(r)}, phrase.Setting(r)).Height() - 3*chart.MM - height
	end := 1.45*1e3*r.Case.Electrode.TipRadiusM + 10/math.Sqrt(math.Pi)
	want := color.NRGBAModel.Convert(chart.LineStyles[0].Color)
	highest := func(x int) float64 { // of the curve in a column of pixels, K
		for y := dots(f.H-bottom-height) + dots(7*chart.MM); y < dots(f.H-bottom)-3; y++ {
			if color.NRGBAModel.Convert(img.At(x, y)) == want {
				return top * (1 - float64(y-dots(f.H-bottom-height))/float64(dots(height)))
			}
		}
		return 0
	}
	most, at := 0.0, 0.0
	for x := dots(chart.MarginLeft) + 4; x < dots(chart.MarginLeft+width)-4; x++ {
		if h := highest(x); h > most {
			most, at = h, end*float64(x-dots(chart.MarginLeft))/float64(dots(width))
		}
	}
	if math.Abs(most-sum.HighestRiseK) > 0.03*sum.HighestRiseK || math.Abs(at-1e3*r.Case.Electrode.ContactRadiusM) > 0.5 {
		t.Errorf("the curve is highest, %.2f K, at %.1f mm; the skin %.2f K at %.1f mm", most, at, sum.HighestRiseK, 1e3*r.Case.Electrode.ContactRadiusM)
	}
}

// TestLoopOnThePage looks where the wire is at the end, beside the stalk, in its base and in
// the gap that the wire has left.
func TestLoopOnThePage(t *testing.T) {
	r := fixture.Computed(t, "stalk-opposite")
	f := wallFigures(chart.ForDocument, r)[0]
	img := onPage(t, f)
	i, j := phrase.Deepest(r)
	k := NewCut(chart.ForDocument, r, Across(r, i), i, j)
	const width = chart.WallWidth - chart.MarginLeft - namesWidth - BarWidth
	k.frame(width, scenes[thermal.AroundStalk].tallest)
	if math.Abs((k.X1-k.X0)/float64(width)*float64(k.height)/(k.Head+k.Z1)-1) > 1e-9 {
		t.Error("a millimetre is not as long across as down")
	}
	below := f.H - LegendHeight(chart.ForDocument, r, []*Cut{k}) - chart.ForDocument.Foot(record.Marks(r)).Height() - chart.AxisHeight // of the top of the page, where the cut ends
	pixel := func(x, z float64) color.Color {
		return color.NRGBAModel.Convert(img.At(dots(chart.MarginLeft+width*vg.Length((x-k.X0)/(k.X1-k.X0))), dots(below-k.height*vg.Length((k.Z1-z)/(k.Head+k.Z1)))))
	}
	e, stalk := r.Case.Electrode, 1e3*phrase.StalkRadiusM(r.Case)
	wire, z := 1e3*e.ContactRadiusM, -1e3*e.HeightM()
	if at := 1e3*r.Summary.Stalk.RingRadiusM + wire; pixel(at, z) != chart.Metal || pixel(-at, z) != chart.Metal {
		t.Errorf("no wire at %g mm, %g mm", at, z)
	}
	for _, q := range []chart.Point{{X: stalk + 0.5, Y: -1}, {X: -stalk - 0.5, Y: -1}, {X: 1e3 * e.TipRadiusM * 0.6, Y: z}} {
		if pixel(q.X, q.Y) != chart.Paper {
			t.Errorf("not empty at %g mm, %g mm: %v", q.X, q.Y, pixel(q.X, q.Y))
		}
	}
	for _, q := range []chart.Point{{X: stalk - 0.5, Y: -1}, {X: 0, Y: -10}, {X: stalk + 1, Y: 0.3}} {
		if pixel(q.X, q.Y) == chart.Paper {
			t.Errorf("no tissue at %g mm, %g mm", q.X, q.Y)
		}
	}
}

// What is seen of a polyp holds all that is injured in the wall, however deep.
func TestLoopShowsTheInjury(t *testing.T) {
	r := *fixture.Computed(t, "stalk-loop")
	r.Summary.InjuryDepthM = 2.2 * r.Case.WallM()
	i, j := phrase.Deepest(&r)
	k := NewCut(chart.ForDocument, &r, Across(&r, i), i, j)
	k.frame(chart.WallWidth-chart.MarginLeft-namesWidth-BarWidth, scenes[thermal.AroundStalk].tallest)
	if k.Z1 < 1e3*r.Summary.InjuryDepthM {
		t.Errorf("seen down to %g mm, injured down to %g mm", k.Z1, 1e3*r.Summary.InjuryDepthM)
	}
}

// The cut shows rises of a pad, from the temperatures before the current.
func TestPadIsDrawnByItsRise(t *testing.T) {
	r := fixture.Computed(t, "pad-peeled")
	k := NewCut(chart.ForDocument, r, Across(r, 0), 0, 0)
	most := 0.0
	for n, c := range k.cell {
		want := r.Fields.PeakC[c] - r.Fields.RestC[c]
		if math.Abs(k.Shown.V[n]-want) > 1e-12 {
			t.Fatalf("%g K drawn, %g K", k.Shown.V[n], want)
		}
		most = math.Max(most, want)
	}
	if most != r.Summary.Pad.HighestRiseK || k.Scale.Most != most || k.Scale.High < most || k.Scale.Low != 0 {
		t.Errorf("scale %+v, highest rise %g K", k.Scale, most)
	}
	if s := riseScale(fixture.Computed(t, "pad-full")); s.High != phrase.RiseLimitK {
		t.Errorf("a pad below the limit: scale %+v", s)
	}
}

// The current of a loop ends with the cut, and so does its shade.
func TestLoopShadeEndsWithTheCut(t *testing.T) {
	r := fixture.Computed(t, "stalk-pulled")
	cut := r.Summary.Stalk.CutThroughS
	if !(cut < r.Case.Drive.OnS) {
		t.Fatalf("cut through after %g s of %g s", cut, r.Case.Drive.OnS)
	}
	if b := newRhythm(r, 1).bands; len(b) != 1 || b[0].to != cut {
		t.Errorf("shaded %v, want up to %g s", b, cut)
	}
	fixture.Says(t, "stalk-pulled", timeFigures(chart.ForDocument, r)[0], []string{"ended by the cut"}, nil)
	fixture.Says(t, "stalk-opposite", wallFigures(chart.ForDocument, fixture.Computed(t, "stalk-opposite"))[0], []string{"opposite-mucosa"}, []string{"…"})
}
