package tissue

import (
	"math"
	"testing"
)

// Whole walls lie within what was measured; each row names the measurement it is
// held against. Left colon is held against the distended wall (radiology textbooks),
// for ultrasound of the filled bowel gives two to three times less than endoscopic
// ultrasound and callipers.
func TestThicknessAgainstMeasurement(t *testing.T) {
	for _, row := range []struct {
		site, source string
		low, high    float64 // mm
	}{
		{"oesophagus", "Rabinowitz 2020, ages 17-21", 1.6, 2.1},
		{"stomach-antrum", "Nylund 2012, 2.9 +- 0.8", 2.1, 3.7},
		{"stomach-antrum", "endoscopic ultrasound, 10 patients", 2.80, 4.23},
		{"stomach-body", "endoscopic ultrasound, 10 patients", 2.80, 4.23},
		{"duodenum", "Nylund 2012, 1.6 +- 0.3", 1.3, 1.9},
		{"right-colon", "Nylund 2012, 0.9-1.2, SD up to 0.3", 0.6, 1.5},
		{"left-colon", "distended colon, radiology textbooks", 0.9, 3.0},
		{"rectum", "endoscopic ultrasound, 8 patients", 2.28, 3.55},
	} {
		s, ok := FindSite(row.site)
		if !ok {
			t.Fatalf("no site %s", row.site)
		}
		if got := s.ThicknessMM(); got < row.low || got > row.high {
			t.Errorf("%s: %.2f mm, %s: %.2f-%.2f mm", row.site, got, row.source, row.low, row.high)
		}
	}
}

// Each site's sum also lies within at least one of the measurements it carries, and
// its working ranges overlap all of them, but for computed tomography of the adult
// oesophagus, which gives a thicker wall than ultrasound does.
func TestThicknessAgainstOwnSources(t *testing.T) {
	for _, s := range sites {
		low, high := 0.0, 0.0
		for _, l := range s.Layers {
			low += l.ThicknessMM.Low
			high += l.ThicknessMM.High
		}
		inside, misses := false, 0
		for _, m := range s.Measured {
			inside = inside || m.Low <= s.ThicknessMM() && s.ThicknessMM() <= m.High
			if m.High < low || m.Low > high {
				misses++
				t.Logf("%s: %.2f-%.2f mm misses %s", s.Name, low, high, m.Source)
			}
		}
		if want := map[string]int{"oesophagus": 1}[s.Name]; misses != want {
			t.Errorf("%s: misses %d of its measurements, want %d", s.Name, misses, want)
		}
		if !inside {
			t.Errorf("%s: %.2f mm is in none of its measurements", s.Name, s.ThicknessMM())
		}
	}
}

// Mucosa against its own measurements.
func TestMucosaAgainstMeasurement(t *testing.T) {
	for _, row := range []struct {
		site, source string
		low, high    float64 // mm
		muscularis   float64 // muscularis mucosae, to be taken off, mm (from memory)
	}{
		{"oesophagus", "Rabinowitz 2020", .3, .6, 0},
		{"stomach-body", "endoscopic ultrasound, 10 patients", 1.03, 1.64, 0},
		{"rectum", "endoscopic ultrasound, 8 patients", .66, 1.13, 0},
		{"right-colon", "Arai 1989, proximal crypts 0.372 +- 0.057", .315, .429, .05},
		{"left-colon", "Arai 1989, distal crypts 0.506 +- 0.065", .441, .571, .05},
	} {
		s, _ := FindSite(row.site)
		if got := s.Layers[0].ThicknessMM.Value - row.muscularis; got < row.low || got > row.high {
			t.Errorf("%s: %.3f mm, %s: %.3f-%.3f mm", row.site, got, row.source, row.low, row.high)
		}
	}
}

func TestSiteShape(t *testing.T) {
	names := []string{"oesophagus", "stomach-antrum", "stomach-body", "duodenum", "right-colon", "left-colon", "rectum"}
	if len(sites) != len(names) {
		t.Fatalf("%d sites, want %d", len(sites), len(names))
	}
	for i, s := range sites {
		if s.Name != names[i] {
			t.Errorf("site %d is %s, want %s", i, s.Name, names[i])
		}
		if len(s.Layers) != 4 {
			t.Fatalf("%s: %d layers", s.Name, len(s.Layers))
		}
		for j, want := range []string{"mucosa", "submucosa", "muscularis"} {
			if l := s.Layers[j]; l.Name != want || l.Muscle != (want == "muscularis") {
				t.Errorf("%s layer %d: %s, muscle %v", s.Name, j, l.Name, l.Muscle)
			}
		}
		if l := s.Layers[3]; l.Muscle || l.Name != "serosa" && l.Name != "adventitia" {
			t.Errorf("%s: outer layer %s, muscle %v", s.Name, l.Name, l.Muscle)
		}
		for _, l := range s.Layers {
			if !(l.ThicknessMM.Value > 0) || math.IsInf(l.ThicknessMM.Value, 0) {
				t.Errorf("%s %s: thickness %g mm", s.Name, l.Name, l.ThicknessMM.Value)
			}
		}
	}
}
