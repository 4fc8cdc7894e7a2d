package output

import (
	"bytes"
	"context"
	"flag"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"testing"

	"muralheat/output/chart"
	"muralheat/output/compare"
	"muralheat/output/record"
	"muralheat/scenarios"
	"muralheat/scenarios/batch"
	"muralheat/scenarios/plan"
	"muralheat/thermal"
)

var regen = flag.Bool("regen", false, "write the pictures of the gallery anew")

// TestGallery holds the pictures of README.md and the guide to what the program draws today.
func TestGallery(t *testing.T) {
	if runtime.GOARCH != "amd64" {
		t.Skip("other processors round differently in the last digit")
	}
	names := []string{"ball-touch", "pad-peeled"}
	if os.Getenv("MURALHEAT_LONG") != "" || *regen { // .ci/run sets it
		names = append(names, "stalk-pulled", "stalk-opposite")
	}
	for _, name := range names {
		e, ok := scenarios.FindExample(name)
		if !ok {
			t.Fatalf("no example %s", name)
		}
		s, err := e.Scenario()
		if err != nil {
			t.Fatal(err)
		}
		c := s.Case()
		r, err := thermal.Simulate(context.Background(), &c, thermal.Options{})
		if err != nil {
			t.Fatal(err)
		}
		files, err := drawings(r)
		if err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(files, func(f record.File) bool { return f.Name == "wall.png" })
		if i < 0 {
			t.Fatal("no wall.png drawn")
		}
		inGallery(t, name+".png", files[i].Data)
	}
}

// inGallery holds a picture against the one that README.md or the guide shows.
func inGallery(t *testing.T, name string, data []byte) {
	t.Helper()
	name = filepath.Join("gallery", name)
	if *regen {
		if err := os.WriteFile(name, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(data, want) {
		t.Errorf("%s is not what is drawn today; look at the new picture, then go test ./output -run Gallery -regen", name)
	}
}

// The figures of the plans among the starter files. Those on a track take most of a
// minute: they are computed to be drawn anew only.
func TestGalleryOfPlans(t *testing.T) {
	if os.Getenv("MURALHEAT_LONG") == "" && !*regen {
		t.Skip("computes eight plans: set MURALHEAT_LONG=1, as .ci/run does")
	}
	if runtime.GOARCH != "amd64" {
		t.Skip("other processors round differently in the last digit")
	}
	for name, figures := range map[string][]string{
		"sites": {"depth"}, "cushion": {"depth"}, "duty-cycle": {"map"}, "pressure": {"map"}, "uncertain-wall": {"risk"},
		"speed-power": {"depth"}, "pulse-pause": {"cut"}, "pad-area": {"rise"}, "pad-lost": {"rise"}, "stalk-diameter": {"cut-time", "depth"},
	} {
		if track := name == "speed-power" || name == "pulse-pause"; track && !*regen {
			continue
		}
		e, ok := scenarios.FindExample("plan-" + name)
		if !ok {
			t.Fatalf("no example plan-%s", name)
		}
		plan, err := plan.Parse(e.Name, e.Text, scenarios.LoadExample)
		if err != nil {
			t.Fatal(err)
		}
		dir := filepath.Join(t.TempDir(), name)
		if _, err := batch.Run(context.Background(), plan, dir, batch.Options{Program: "gallery", Tell: record.Tell, Workers: 2, MaxBytes: 4e9}); err != nil {
			t.Fatal(err)
		}
		if _, err := SweepFigures(dir); err != nil {
			t.Fatal(err)
		}
		for _, f := range figures {
			data, err := os.ReadFile(filepath.Join(dir, f+".png"))
			if err != nil {
				t.Fatal(err)
			}
			inGallery(t, name+"-"+f+".png", data)
		}
	}
}

// The figures of some of the lectures, as muralheat compare draws them, at half the size.
func TestGalleryOfLectures(t *testing.T) {
	if os.Getenv("MURALHEAT_LONG") == "" && !*regen {
		t.Skip("computes nine cases: set MURALHEAT_LONG=1, as .ci/run does")
	}
	if runtime.GOARCH != "amd64" {
		t.Skip("other processors round differently in the last digit")
	}
	for _, l := range scenarios.Lectures() {
		if !slices.Contains([]string{"continuous-and-interrupted", "cushion", "after-the-current"}, l.Short()) {
			continue
		}
		p, err := plan.Parse(scenarios.LecturePlan, l.File(scenarios.LecturePlan), func(file string) (*scenarios.Scenario, error) {
			return scenarios.Parse(file, l.File(filepath.Base(file)))
		})
		if err != nil {
			t.Fatal(err)
		}
		var members []compare.Member
		for i := range p.Len() {
			s, err := p.Scenario(i)
			if err != nil {
				t.Fatal(err)
			}
			m := compare.Member{Title: p.CaseTitle(i)}
			for _, set := range s.Settings() {
				m.Settings = append(m.Settings, record.Setting(set))
			}
			c := s.Case()
			if m.Result, err = thermal.Simulate(context.Background(), &c, thermal.Options{}); err != nil {
				t.Fatal(err)
			}
			members = append(members, m)
		}
		full, err := chart.Png(compare.Figure(chart.ForDocument, p.Title, members))
		if err != nil {
			t.Fatal(err)
		}
		inGallery(t, "lecture-"+l.Short()+".png", halved(t, full))
	}
}

// halved returns a picture of half the width and height: each point is the mean of four.
func halved(t *testing.T, data []byte) []byte {
	t.Helper()
	full, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	half := image.NewRGBA(image.Rect(0, 0, full.Bounds().Dx()/2, full.Bounds().Dy()/2))
	for y := range half.Rect.Dy() {
		for x := range half.Rect.Dx() {
			var sum [3]uint32
			for _, d := range []image.Point{{}, {X: 1}, {Y: 1}, {X: 1, Y: 1}} {
				r, g, b, _ := full.At(2*x+d.X, 2*y+d.Y).RGBA()
				sum[0], sum[1], sum[2] = sum[0]+r, sum[1]+g, sum[2]+b
			}
			half.SetRGBA(x, y, color.RGBA{uint8(sum[0] / 4 >> 8), uint8(sum[1] / 4 >> 8), uint8(sum[2] / 4 >> 8), 255})
		}
	}
	var out bytes.Buffer
	small := png.Encoder{CompressionLevel: png.BestCompression}
	if err := small.Encode(&out, half); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}
