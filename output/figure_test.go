package output

import (
	"bytes"
	"fmt"
	"image/color"
	imagepng "image/png"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"

	"muralheat/thermal"
	"muralheat/thermal/drive"
)

func TestFiguresAreTheSameEachTime(t *testing.T) {
	for _, name := range []string{"hot", "slot"} {
		a, b := figures(synthetics[name].result()), figures(synthetics[name].result())
		for i := range a {
			for _, k := range formats {
				x, err := k.render(a[i])
				if err != nil {
					t.Fatal(err)
				}
				y, err := k.render(b[i])
				if err != nil {
					t.Fatal(err)
				}
				if !bytes.Equal(x, y) {
					t.Errorf("%s: %s.%s differs from one drawing to the next", name, a[i].name, k.ext)
				}
			}
		}
	}
}

// TestInjuryLineOnThePage looks at the pixels of the PNG on the axis: ink where the
// injury ends, with its white halo, at the height that the scale of the depth axis
// gives.
func TestInjuryLineOnThePage(t *testing.T) {
	r := synthetics["mild"].result()
	b, err := png(wallFigure(r))
	if err != nil {
		t.Fatal(err)
	}
	img, err := imagepng.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	i, j := deepest(r)
	k := newCut(r, across(r, i), i, j)
	width := vg.Length(wallWidth - marginLeft - namesWidth - barWidth)
	k.frame(width, onlyCut)
	if sx, sy := (k.x1-k.x0)/float64(width), (k.head+k.z1)/float64(k.height); math.Abs(sx/sy-1) > 1e-9 {
		t.Errorf("a millimetre is %g across and %g down", sx, sy)
	}
	dots := func(l vg.Length) int { return int(math.Round(l.Dots(dotsPerInch))) }
	x := dots(marginLeft + width/2)
	y := dots(newHead("", []string{"a"}, []string{"b"}).height() + k.height*vg.Length((k.head+1e3*r.Summary.InjuryDepthM)/(k.head+k.z1)))
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
	b, err := svg(wallFigure(synthetics["hot"].result()))
	if err != nil {
		t.Fatal(err)
	}
	s := string(b)
	for _, want := range []string{"mucosa 0.65 mm", "fat (beyond)", "1.45 mm", "dried", "carbonised", "active electrode", "depth (mm)", Caution, "data:image/png;", "Liberation Sans', Arial"} {
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
		draw func(*thermal.Result) figure
		want []string
		not  []string
	}{
		{"pressed", wallFigure, []string{"pressed in 0.30 mm", "cushion 2 mm", "submucosa-upper 0.23 mm", "submucosa-deep 0.15 mm"}, []string{"kerf", "Cut sustained"}},
		{"pulsed", wallFigure, []string{"removed", "0.74 mm beside,", "0.94 mm below the kerf", "Cut sustained."}, []string{"as it passed"}},
		{"slot", wallFigure, []string{"The needle drags."}, nil},
		{"pulsed", timeFigure, []string{"darker: pulses", "sparks", "Pulses of 50 ms"}, []string{"mean over"}},
		{"paused", timeFigure, []string{"mean over pulse and pause", "during pulses", "sparks"}, []string{"darker: pulses"}},
		{"track", timeFigure, []string{"shaded: current on"}, []string{"sparks", "pulses"}},
	} {
		says(t, c.of, c.draw(synthetics[c.of].result()), c.want, c.not)
	}
}

// says holds the words of a figure to those wanted and those not.
func says(t *testing.T, of string, f figure, want, not []string) {
	t.Helper()
	b, err := svg(f)
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range want {
		if !strings.Contains(string(b), w) {
			t.Errorf("%s: no %q", of, w)
		}
	}
	for _, w := range not {
		if strings.Contains(string(b), w) {
			t.Errorf("%s: %q", of, w)
		}
	}
}

// What was done, in words: by hand.
func TestSetting(t *testing.T) {
	r := synthetics["none"].result()
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
		if got := setting(r); got[0] != "Disc, radius 0.7 mm" || got[1] != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// The scale must lose lightness evenly: that is what survives grey print.
func TestHeatColoursDarkenEvenly(t *testing.T) {
	last, first := 0.0, 0.0
	for n := range 64 {
		c := heatColour(37+63*float64(n)/63, 37)
		l := lightness(c)
		switch {
		case n == 0:
			first = l
		case n == 1:
			fallthrough
		default:
			if step := last - l; step < 0.8 || step > 2.2 {
				t.Errorf("step %d: lightness falls by %.2f", n, step)
			}
		}
		last = l
	}
	if first-last < 80 {
		t.Errorf("lightness spans only %.0f", first-last)
	}
	if heatColour(math.NaN(), 37) != paper {
		t.Error("not a number has a colour")
	}
}

// lightness is CIE 1976 L* of an sRGB colour (IEC 61966-2-1, CIE 15).
func lightness(c color.NRGBA) float64 {
	lin := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	y := 0.2126*lin(c.R) + 0.7152*lin(c.G) + 0.0722*lin(c.B)
	if y <= 216.0/24389 {
		return y * 24389 / 27
	}
	return 116*math.Cbrt(y) - 16
}

func TestTicks(t *testing.T) {
	for _, c := range []struct {
		lo, hi float64
		n      int
		want   string
	}{
		{0, 1, 5, "0 0.2 0.4 0.6 0.8 1"},
		{-0.31, 0.31, 7, "–0.3 –0.2 –0.1 0 0.1 0.2 0.3"},
		{37, 110, 7, "40 60 80 100"},
		{0, 12500, 4, "0 5000 10000"},
		{5, 5, 4, ""},
	} {
		var got []string
		for _, v := range ticks(c.lo, c.hi, c.n) {
			got = append(got, tickText(v))
		}
		if g := strings.Join(got, " "); g != c.want {
			t.Errorf("%g to %g: %s, want %s", c.lo, c.hi, g, c.want)
		}
	}
}

func TestFitKeepsWhatFits(t *testing.T) {
	s := words(wordSize, ink, text.XLeft, text.YCenter)
	for _, c := range []struct {
		width vg.Length
		txt   string
		want  string
	}{
		{50 * mm, "t", "t"},
		{50 * mm, "two words", "two words"},
		{s.Width("two…"), "two words", "two…"},
		{0, "two words", ""},
		{50 * mm, "", ""},
	} {
		if got := fit(s, c.width, c.txt); got != c.want {
			t.Errorf("%q on %.1f: %q, want %q", c.txt, c.width, got, c.want)
		}
	}
}

// Code page 1252 as in the mapping of the Unicode consortium, CP1252.TXT.
func TestWindows1252(t *testing.T) {
	if got, want := windows1252("a é ‘’“”–—…€™ž Ω漢\uFFFD"), "a \xe9 \x91\x92\x93\x94\x96\x97\x85\x80\x99\x9e ???"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	r := synthetics["mild"].result()
	if got := Remarks(&Run{}, r); len(got) != len(r.Notes) {
		t.Errorf("remarks %q on a plain title", got)
	}
	r.Case.Title = "漢字?"
	if got := Remarks(&Run{}, r); len(got) != len(r.Notes)+1 {
		t.Errorf("remarks %q on a title that cannot be drawn", got)
	}
}

// More borders than lines can be told apart: both surfaces and the thickest stay.
func TestShownBorders(t *testing.T) {
	c := &thermal.Case{}
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

// Whatever a run leaves behind can be written and drawn: it is then that people
// need to see it.
func TestBrokenResultsAreDrawn(t *testing.T) {
	for name, spoil := range map[string]func(*thermal.Result){
		"not a number": func(r *thermal.Result) {
			for i := range r.Fields.PeakC {
				r.Fields.PeakC[i], r.Fields.Omega[i] = math.NaN(), math.NaN()
			}
			r.Summary.InjuryDepthM, r.Summary.PeakC = math.NaN(), math.NaN()
		},
		"infinite": func(r *thermal.Result) {
			for i := range r.Fields.PeakC {
				r.Fields.PeakC[i], r.Fields.Omega[i] = math.Inf(1), math.Inf(1)
			}
		},
		"no history": func(r *thermal.Result) { r.History = nil },
		"no muscle": func(r *thermal.Result) {
			r.Summary.MarginToMuscleM, r.Summary.MuscleInjuredShare = math.NaN(), math.NaN()
		},
		"long names": func(r *thermal.Result) {
			for i := range r.Case.Layers {
				r.Case.Layers[i].Name = strings.Repeat("lamina-", 20)
			}
			r.Case.Title = strings.Repeat("A very long title ", 20)
		},
	} {
		r := synthetics["hot"].result()
		spoil(r)
		if _, err := drawings(r); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if _, err := encodeResult(r); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if got := Report(testRun(), r, "", nil); !strings.Contains(got, Caution[:40]) {
			t.Errorf("%s: no caution in the report", name)
		}
	}
}
