package compare

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"muralheat/output/chart"
	"muralheat/output/internal/fixture"
	"muralheat/output/internal/fixture/bench"
	"muralheat/output/record"
	"muralheat/thermal"
	"muralheat/thermal/drive"
)

// settings are those of a made-up scenario, all written in it but the last.
func settings(power, site, speed string) []record.Setting {
	s := []record.Setting{{Key: "title", Value: "T" + power, Given: true}, {Key: "wall.site", Value: site, Given: true}, {Key: "current.power_W", Value: power, Unit: "W", Given: true}}
	if speed != "" {
		s = append(s, record.Setting{Key: "motion.speed_mm_s", Value: speed, Unit: "mm/s", Given: true})
	}
	return append(s, record.Setting{Key: "wall.layers.mucosa.thickness_mm", Value: map[string]string{"rectum": "0.85"}[site] + "1", Unit: "mm"})
}

// pair is a burn that got its 10 W, and one that got 2.5 of them, through the whole wall. All made up.
func pair() []Member {
	slow, fast := fixture.Synthetics["thick"].Result(), fixture.Synthetics["hot"].Result()
	fast.Summary.MeanPowerW, fast.Summary.DryOutS = 2.5, 0.7
	fast.Summary.Limited, fast.Summary.LimitedShare = []thermal.Limited{{By: drive.Current, FromS: 0.9, Share: 0.6}}, 0.6
	fast.Summary.Transmural, fast.Balance.ElectricJ = true, 12
	return []Member{{"Pulled at 1 mm/s, and = slow", slow, settings("10", "rectum", "1")}, {"Pulled at 2 mm/s", fast, settings("10", "right-colon", "2")}}
}

// A run whose result was edited is no member.
func TestLoadRefusesAnEditedResult(t *testing.T) {
	f, err := record.Open(filepath.Join(t.TempDir(), "run"))
	if err != nil {
		t.Fatal(err)
	}
	r := fixture.Synthetics["mild"].Result()
	dir, _, err := f.Save(t.Context(), bench.Run(), r, false, nil)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Load(dir, ""); err != nil {
		t.Error(err)
	}
	r.Summary.InjuryDepthM /= 2
	better, err := record.EncodeResult(r)
	if err == nil {
		err = os.WriteFile(filepath.Join(dir, record.RecordName), better, 0o644)
	}
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Load(dir, ""); err == nil || !strings.Contains(err.Error(), "result.npz is not what was computed") {
		t.Error(err)
	}
}

// Under each cross-section stand what came out, what was delivered beside what was set, how that differs from the
// first, and why. The layers of a wall are named where it is first shown, and the first injury line stands in the others.
func TestFigureSays(t *testing.T) {
	both := pair()
	fixture.Says(t, "two walls", Figure(chart.ForDocument, "Slow and fast", both), []string{
		"Slow and fast", "Pulled at 1 mm/s, and", "Pulled at 2 mm/s", "thin dashed: that of the first", "What differs: site rectum, right-colon; speed 1, 2 mm/s.",
		"through the whole", "2.5 of 10 W delivered, 12 J", "9.9 W delivered, 20 J", "energy –8.0 J", "The contact dried after 700 ms", "dies within a day (", "dried", "carbonised",
	}, []string{"power 10"})
	count := func(members []Member, word string) int {
		svg, err := chart.Svg(Figure(chart.ForDocument, "", members))
		if err != nil {
			t.Fatal(err)
		}
		return strings.Count(string(svg), word)
	}
	if n := count(both, ">muscularis"); n != 2 {
		t.Errorf("two walls: the muscle is named %d times", n)
	}
	alike := []Member{both[0], both[0]}
	if n := count(alike, ">muscularis"); n != 1 {
		t.Errorf("one wall: the muscle is named %d times", n)
	}
	const dashed = "stroke-dasharray:1.6,1.6"
	if one, two := count(both[:1], dashed), count(both, dashed); one != 0 || two == 0 {
		t.Errorf("the line of the first: %d strokes alone, %d beside another", one, two)
	}
	same, err := chart.Svg(Figure(chart.ForDocument, "", alike))
	if err != nil {
		t.Fatal(err)
	}
	if own, first := strings.LastIndex(string(same), "stroke-width:1.6"), strings.LastIndex(string(same), dashed); own < first {
		t.Error("the line of the first hides one that is the same")
	}
	draft := fixture.Synthetics["mild"].Result()
	draft.Case.Numerics.Quality = "draft"
	if one, none := count([]Member{{"draft", draft, nil}}, "Draft mesh."), count(both, "Draft mesh."); one != 1 || none != 0 {
		t.Errorf("a draft is called one %d times, what is none %d times", one, none)
	}
	unhurt := fixture.Synthetics["none"].Result()
	if n := count([]Member{{"none", unhurt, nil}, both[0]}, dashed); n != 0 {
		t.Errorf("no injury, but its line is drawn %d times", n)
	}
}

// Cross-sections of pads explain their lines, as one alone does, and have no depth to differ in.
func TestFigureOfPads(t *testing.T) {
	pads := []Member{{"full", fixture.Computed(t, "pad-full"), nil}, {"peeled", fixture.Computed(t, "pad-peeled"), nil}}
	fixture.Says(t, "pads", Figure(chart.ForDocument, "Pads", pads), []string{"rise of 6 K", "1 cm²", "peeled", "mean rise +"}, []string{"dies within a day (", "dried", "thin dashed", "What differs"})
}

// A row each, in order, with what differs before the results; what only follows from it is left out.
func TestCSV(t *testing.T) {
	rows, err := csv.NewReader(strings.NewReader(string(CSV(pair())))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if got := rows[0][:4]; !slices.Equal(got, []string{"title", "wall.site", "motion.speed_mm_s", record.DepthColumn}) {
		t.Errorf("header %q", got)
	}
	if got := rows[2][:3]; !slices.Equal(got, []string{"Pulled at 2 mm/s", "right-colon", "2"}) {
		t.Errorf("second row %q", got)
	}
	at := func(row int, column string) string { return rows[row][slices.Index(rows[0], column)] }
	if at(1, "energy_J") != "20" || at(2, "energy_J") != "12" || !strings.HasPrefix(at(2, record.RemarkColumn), "The contact dried") || at(1, "max_C_fat") != "" || at(2, "max_C_fat") == "" {
		t.Errorf("rows\n%q\n%q", rows[1], rows[2])
	}
	missing := pair()
	missing[0].Settings = settings("10", "right-colon", "")
	if d := Differences(missing); len(d) != 1 || d[0].Key != "motion.speed_mm_s" || !slices.Equal(d[0].Values, []string{"", "2"}) {
		t.Errorf("%+v", d)
	}
}

func TestAgainst(t *testing.T) {
	a, b := fixture.Synthetics["mild"].Result(), fixture.Synthetics["mild"].Result()
	b.Summary.InjuryDepthM, b.Summary.MarginToMuscleM, b.Balance.ElectricJ = a.Summary.InjuryDepthM+0.25e-3, a.Summary.MarginToMuscleM-0.25e-3, 17.5
	if got := against(b, a); got != "depth +0.25 mm, margin –0.25 mm, energy –2.5 J" {
		t.Error(got)
	}
	if got := against(a, a); got != "depth +0.00 mm, margin +0.00 mm, energy +0.0 J" || Signed("%+.1f", -0.04) != "+0.0" {
		t.Error(got)
	}
	a.Summary.MarginToMuscleM = math.NaN()
	if got := against(b, a); got != "depth +0.25 mm, energy –2.5 J" {
		t.Error(got)
	}
}

// TestLook writes figures into the folder named by MURALHEAT_LOOK, to be looked at.
func TestLook(t *testing.T) {
	dir := os.Getenv("MURALHEAT_LOOK")
	if dir == "" {
		t.Skip("MURALHEAT_LOOK is not set")
	}
	made := func(names ...string) (members []Member) {
		for _, n := range names {
			members = append(members, Member{"Made up: " + n, fixture.Synthetics[n].Result(), nil})
		}
		return members
	}
	for name, members := range map[string][]Member{
		"two": pair(), "three": made("needle", "hot", "pressed"), "four": made("mild", "hot", "thick", "none"), "tracks": made("track", "pulsed"),
		"pads":   {{"full", fixture.Computed(t, "pad-full"), nil}, {"peeled", fixture.Computed(t, "pad-peeled"), nil}},
		"stalks": {{"loop", fixture.Computed(t, "stalk-loop"), nil}, {"opposite", fixture.Computed(t, "stalk-opposite"), nil}},
	} {
		png, err := chart.Png(Figure(chart.ForDocument, "Side by side: "+name, members))
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "compare-"+name+".png"), png, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
