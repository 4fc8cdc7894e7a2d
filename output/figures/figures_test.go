package figures

import (
	"bytes"
	"fmt"
	"image/color"
	imagepng "image/png"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/plot/vg"

	"muralheat/output/chart"
	"muralheat/output/internal/fixture"
	"muralheat/output/phrase"
	"muralheat/thermal"
	"muralheat/thermal/drive"
)

// What a figure consists of does not change from one drawing to the next. SVG has all of it; that every
// format keeps its bytes is seen on one result here, on others in the tests of output.
func TestFiguresAreTheSameEachTime(t *testing.T) {
	for name, draw := range map[string]func() []chart.Figure{
		"slot":           func() []chart.Figure { return Of(chart.ForDocument, fixture.Synthetics["slot"].Result()) },
		"pad-peeled":     func() []chart.Figure { return Of(chart.ForDocument, fixture.Computed(t, "pad-peeled")) },
		"stalk-opposite": func() []chart.Figure { return Of(chart.ForDocument, fixture.Computed(t, "stalk-opposite")) },
	} {
		sameEachTime(t, name, draw, 1)
	}
	sameEachTime(t, "hot", func() []chart.Figure { return Of(chart.ForDocument, fixture.Synthetics["hot"].Result()) }, len(chart.Formats))
}

// sameEachTime draws figures twice, in the first formats.
func sameEachTime(t *testing.T, name string, draw func() []chart.Figure, formats int) {
	t.Helper()
	a, b := draw(), draw()
	if len(a) == 0 || len(a) != len(b) {
		t.Fatalf("%s: %d figures, then %d", name, len(a), len(b))
	}
	for i := range a {
		for _, k := range chart.Formats[:formats] {
			x, err := k.Render(a[i])
			if err != nil {
				t.Fatal(err)
			}
			y, err := k.Render(b[i])
			if err != nil {
				t.Fatal(err)
			}
			if a[i].Name != b[i].Name || !bytes.Equal(x, y) {
				t.Errorf("%s: %s.%s differs from one drawing to the next", name, a[i].Name, k.Ext)
			}
		}
	}
}

// TestInjuryLineOnThePage looks at the pixels of the PNG on the axis: ink where the
// injury ends, with its white halo, at the height that the scale of the depth axis
// gives.
func TestInjuryLineOnThePage(t *testing.T) {
	r := fixture.Synthetics["mild"].Result()
	b, err := chart.Png(wallFigures(chart.ForDocument, r)[0])
	if err != nil {
		t.Fatal(err)
	}
	img, err := imagepng.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	i, j := phrase.Deepest(r)
	k := NewCut(chart.ForDocument, r, Across(r, i), i, j)
	width := vg.Length(chart.WallWidth - chart.MarginLeft - namesWidth - BarWidth)
	k.frame(width, onlyCut)
	if sx, sy := (k.X1-k.X0)/float64(width), (k.Head+k.Z1)/float64(k.height); math.Abs(sx/sy-1) > 1e-9 {
		t.Errorf("a millimetre is %g across and %g down", sx, sy)
	}
	dots := func(l vg.Length) int { return int(math.Round(l.Dots(chart.DotsPerInch))) }
	x := dots(chart.MarginLeft + width/2)
	y := dots(chart.ForDocument.Head("", []string{"a"}, []string{"b"}).Height() + k.height*vg.Length((k.Head+1e3*r.Summary.InjuryDepthM)/(k.Head+k.Z1)))
	grey := func(y int) uint8 { return color.GrayModel.Convert(img.At(x, y)).(color.Gray).Y }
	for _, d := range []int{-3, 0, 3} { // the line is 2.2 pt = 9 dots thick
		if g := grey(y + d); g > 0x40 {
			t.Errorf("%d dots below the injury depth: grey %d, want ink", d, g)
		}
	}
	for _, d := range []int{-7, 7} { // its halo 4.2 pt = 17 dots
		if g := grey(y + d); g < 0xf0 {
			t.Errorf("%d dots below the injury depth: grey %d, want the halo", d, g)
		}
	}
	if !bytes.Contains(b[:60], []byte("pHYs")) {
		t.Error("the PNG does not tell its size")
	}
}

func TestSVGSays(t *testing.T) {
	b, err := chart.Svg(wallFigures(chart.ForDocument, fixture.Synthetics["hot"].Result())[0])
	if err != nil {
		t.Fatal(err)
	}
	s := string(b)
	for _, want := range []string{"mucosa 0.65 mm", "fat (beyond)", "1.45 mm", "dried", "carbonised", "active electrode", "depth (mm)", phrase.Caution, "data:image/png;", "Liberation Sans', Arial"} {
		if want == "Liberation Sans', Arial" {
			want = "'Liberation Sans',Arial"
		}
		if !strings.Contains(s, want) {
			t.Errorf("no %q in the drawing", want)
		}
	}
	if strings.Contains(s, "removed") {
		t.Error("a standing electrode removed tissue")
	}
}

// What a figure says of pressing, of a cut and of sparks.
func TestFiguresSay(t *testing.T) {
	for _, c := range []struct {
		of   string
		draw func(chart.Page, *thermal.Result) []chart.Figure
		want []string
		not  []string
	}{
		{"pressed", wallFigures, []string{"pressed in 0.30 mm", "cushion 2 mm", "submucosa-upper 0.23 mm", "submucosa-deep 0.15 mm"}, []string{"kerf", "Cut sustained"}},
		{"pulsed", wallFigures, []string{"removed", "0.74 mm beside,", "0.94 mm below the kerf", "Cut sustained."}, []string{"as it passed"}},
		{"slot", wallFigures, []string{"The needle drags."}, nil},
		{"pulsed", timeFigures, []string{"darker: pulses", "sparks", "Pulses of 50 ms"}, []string{"mean over"}},
		{"paused", timeFigures, []string{"mean over pulse and pause", "during pulses", "sparks"}, []string{"darker: pulses"}},
		{"track", timeFigures, []string{"shaded: current on"}, []string{"sparks", "pulses"}},
	} {
		fixture.Says(t, c.of, c.draw(chart.ForDocument, fixture.Synthetics[c.of].Result())[0], c.want, c.not)
	}
}

// What was done, in words: by hand.
func TestSetting(t *testing.T) {
	r := fixture.Synthetics["none"].Result()
	for _, c := range []struct {
		d    drive.Drive
		want string
	}{
		{drive.Drive{Mode: drive.Mode{PowerW: 9.9, DutyCycle: 1}, OnS: 2}, "9.9 W for 2 s"},
		{drive.Drive{Mode: drive.Mode{PowerW: 20, DutyCycle: 0.25}, OnS: 0.5}, "20 W (duty cycle 25 %) for 0.5 s (9.9 W delivered)"},
		{drive.Drive{Mode: drive.Mode{PeakVoltageV: 400, DutyCycle: 0.06}, OnS: 3}, "400 V peak (duty cycle 6 %) for 3 s (mean delivered 9.9 W)"},
		{drive.Drive{Mode: drive.Mode{PowerW: 60, DutyCycle: 1}, OnS: 5, Pulses: &drive.Pulses{LengthS: 1.5, PeriodS: 2}},
			"pulses of 1.5 s every 2 s at 60 W, no current between, for 5 s (mean delivered 9.9 W)"},
		{drive.Drive{Mode: drive.Mode{PowerW: 60, DutyCycle: 1}, OnS: 5, Pulses: &drive.Pulses{LengthS: 0.05, PeriodS: 0.6, Between: drive.Mode{PeakVoltageV: 150, DutyCycle: 0.5}}},
			"pulses of 50 ms every 600 ms at 60 W, 150 V peak (duty cycle 50 %) between, for 5 s (mean delivered 9.9 W)"},
	} {
		r.Case.Drive = c.d
		if got := phrase.Setting(r); got[0] != "Disc, radius 0.7 mm" || got[1] != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// More borders than lines can be told apart: both surfaces and the thickest stay.
func TestShownBorders(t *testing.T) {
	c := &thermal.Case{Electrode: thermal.Electrode{Tip: thermal.Disc}}
	for _, mm := range []float64{1, 0.3, 0.1, 0.5, 0.2, 0.4, 0.6, 0.15} {
		c.Layers = append(c.Layers, thermal.Layer{Name: fmt.Sprint(mm), ThicknessM: mm / 1000})
	}
	if got, want := shownBorders(c), []int{0, 1, 3, 5, 6, 8}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	var names []string
	for _, n := range shownBorders(c) {
		names = append(names, borderName(c, n))
	}
	if got, want := strings.Join(names, ", "), "surface, 1 / 0.3, 0.1 / 0.5, 0.2 / 0.4, 0.4 / 0.6, outer surface"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// wallFigures are the cross-sections of a result of one mesh.
func wallFigures(page chart.Page, res *thermal.Result) []chart.Figure { return walls(page, res, nil) }

// The picture of a refined run says how certain it is.
func TestWallCarriesItsUncertainty(t *testing.T) {
	const says = "Injury depth 0.489 ± 0.013 mm (three meshes)."
	for _, page := range []chart.Page{chart.ForDocument, chart.ForSlide} {
		fixture.Says(t, page.Name, Of(page, fixture.Synthetics["mild"].Result(), says)[0], []string{says}, nil)
	}
}
