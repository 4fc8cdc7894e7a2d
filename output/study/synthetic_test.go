package study

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"muralheat/output/record"
)

// madeUp is a sweep with invented results: realistic in shape, of no wall and no source.
type madeUp struct {
	title  string
	inputs []sweepInput
	points [][]string // values of the inputs that vary
	names  []string
	draws  int
	design string // "": grid, or cases with names
	levels []int  // one at a time
	cut    bool
	top    func(values []string) float64 // where the muscle begins, mm; nil: 1.4
	status func(n int) string            // nil: ok
	blank  bool                          // no value in any result
	bare   bool                          // no muscle
}

var (
	powerIn   = sweepInput{Key: "current.power_W", Title: "power", Unit: "W"}
	timeIn    = sweepInput{Key: "current.on_s", Title: "time", Unit: "s"}
	speedIn   = sweepInput{Key: "motion.speed_mm_s", Title: "motion.speed_mm_s", Unit: "mm/s"}
	siteIn    = sweepInput{Key: "wall.site", Title: "site"}
	muscleIn  = sweepInput{Key: "wall.layers.muscularis.thickness_mm", Title: "wall.layers.muscularis.thickness_mm", Unit: "mm", Uncertain: true}
	contactIn = sweepInput{Key: "electrode.contact_radius_mm", Title: "contact radius", Unit: "mm", Uncertain: true}
)

// every returns all combinations, the first changing slowest.
func every(axes ...[]string) [][]string {
	out := [][]string{nil}
	for _, a := range axes {
		var next [][]string
		for _, o := range out {
			for _, v := range a {
				next = append(next, append(append([]string(nil), o...), v))
			}
		}
		out = next
	}
	return out
}

func numbered(v ...float64) (out []string) {
	for _, x := range v {
		out = append(out, record.Number(x))
	}
	return out
}

func between(lo, hi float64, n int, log bool) (out []string) {
	for i := range n {
		u := float64(i) / float64(n-1)
		v := lo + (hi-lo)*u
		if log {
			v = lo * math.Pow(hi/lo, u)
		}
		out = append(out, record.Number(v))
	}
	return out
}

// write writes the sweep's two files into dir.
func (m madeUp) write(t testing.TB, dir string) {
	t.Helper()
	if err := os.MkdirAll(dir, 0o755); err != nil {
		t.Fatal(err)
	}
	draws := max(m.draws, 1)
	rec := sweepRecord{Title: m.title, Inputs: m.inputs, Draws: draws, Cases: len(m.points) * draws, Quality: "standard"}
	switch rec.DesignName = m.design; {
	case m.names != nil:
		rec.DesignName = "cases"
	case m.design == "":
		rec.DesignName = "grid"
	}
	rec.Inputs = slices.Clone(m.inputs)
	for n, l := range m.levels {
		rec.Inputs[n].Levels = l
	}
	if !m.bare {
		rec.Layers = []sweepLayer{{"mucosa", 0, 0.6, false, false}, {"submucosa", 0.6, 1.4, false, false}, {"muscularis", 1.4, 2.4, true, false}, {"fat", 2.4, 8, false, true}}
	}
	header := []string{"case"}
	if m.names != nil {
		header = append(header, "name")
	}
	header = append(header, "point")
	if draws > 1 {
		header = append(header, "draw")
	}
	for _, in := range m.inputs {
		header = append(header, in.Key)
	}
	header = append(header, "status", "reason", record.DepthColumn, record.MarginColumn, shareColumn)
	if m.cut {
		header = append(header, sustainedColumn, besideColumn, speedColumn)
	}
	rows := [][]string{header}
	noise := rand.New(rand.NewPCG(7, 7))
	var drawn [][2]float64
	for range draws {
		drawn = append(drawn, [2]float64{noise.NormFloat64(), noise.NormFloat64()})
	}
	for p, values := range m.points {
		for d := range draws {
			n := p*draws + d
			row := []string{fmt.Sprint(n)}
			if m.names != nil {
				row = append(row, m.names[p])
			}
			row = append(row, fmt.Sprint(p))
			if draws > 1 {
				row = append(row, fmt.Sprint(d))
			}
			power, seconds, speed, contact := 15.0, 1.0, 0.0, 1.0
			v := 0
			for _, in := range m.inputs {
				cell := ""
				switch in {
				case muscleIn:
					cell = record.Number(1 + 0.2*drawn[d][0])
				case contactIn:
					contact = 1 + 0.15*drawn[d][1]
					cell = record.Number(contact)
				default:
					cell = record.Guarded(values[v])
					v++
				}
				switch in.Key {
				case powerIn.Key:
					power = record.Parsed(cell)
				case timeIn.Key:
					seconds = record.Parsed(cell)
				case speedIn.Key:
					speed = record.Parsed(cell)
				}
				row = append(row, cell)
			}
			status := "ok"
			if m.status != nil {
				status = m.status(n)
			}
			row = append(row, status, "")
			depth := 0.75 * math.Pow(power/15, 0.6) * math.Pow(seconds, 0.35) / math.Pow(contact, 0.8)
			if speed > 0 {
				depth *= math.Pow(speed, -0.3)
			}
			top := 1.4
			if m.top != nil {
				top = m.top(values)
			}
			margin, share := top-depth, min(max((depth-top)*100, 0), 100)
			cells := numbered(depth, margin, share)
			if m.cut {
				cells = append(cells, numbered(record.Yes(speed < power/6), 0.9*depth*depth+0.2, min(speed, power/6))...)
			}
			if m.bare {
				cells[1], cells[2] = "", ""
			}
			if m.blank || status == "failed" {
				cells = make([]string, len(cells))
			}
			rows = append(rows, append(row, cells...))
		}
	}
	b, err := json.Marshal(rec)
	if err != nil {
		t.Fatal(err)
	}
	for name, data := range map[string][]byte{SweepName: b, ResultName: record.Table(rows)} {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func bySite(at int) func([]string) float64 {
	return func(values []string) float64 {
		return map[string]float64{"stomach-antrum": 2.3, "left-colon": 1.2, "right-colon": 0.95, "rectum": 1.8, "oesophagus": 1.5}[values[at]]
	}
}

func everyTenth(n int) string {
	switch {
	case n%10 == 3:
		return "failed"
	case n == 5:
		return "doubtful"
	}
	return "ok"
}

// sites and sweeps of every shape.
var (
	siteNames = []string{"stomach-antrum", "left-colon", "right-colon", "rectum", "oesophagus"}
	power4    = numbered(10, 20, 30, 40)
	madeUps   = map[string]madeUp{
		"power":        {title: "Power alone, invented", inputs: []sweepInput{powerIn}, points: every(power4)},
		"two-values":   {title: "Two values, invented", inputs: []sweepInput{powerIn}, points: every(numbered(10, 40))},
		"one-value":    {title: "One value, invented", inputs: []sweepInput{powerIn}, points: every(numbered(10))},
		"many-values":  {title: "Thirty values, invented", inputs: []sweepInput{timeIn}, points: every(between(0.2, 20, 30, true))},
		"speed-power":  {title: "Speed against power, right colon, invented", inputs: []sweepInput{powerIn, speedIn}, points: every(power4, between(0.5, 8, 7, true)), cut: true, status: everyTenth},
		"large-grid":   {title: "Power and time, 20 by 30, invented", inputs: []sweepInput{powerIn, timeIn}, points: every(between(5, 60, 20, false), between(0.1, 10, 30, true))},
		"three":        {title: "Power, time and speed, invented", inputs: []sweepInput{powerIn, timeIn, speedIn}, points: every(power4, numbered(0.5, 1, 2, 4), numbered(1, 2, 4)), cut: true},
		"sites":        {title: "Sites of the wall, invented", inputs: []sweepInput{siteIn}, points: every(siteNames), top: bySite(0)},
		"sites-power":  {title: "Sites against power, invented", inputs: []sweepInput{siteIn, powerIn}, points: every(siteNames, power4), top: bySite(0)},
		"sites-draws":  {title: "Sites against power, uncertain, invented", inputs: []sweepInput{siteIn, powerIn, contactIn}, points: every(siteNames[:3], power4), top: bySite(0), draws: 40},
		"draws":        {title: "Power against speed on a wall that is not known exactly, a title so long that it does not fit on the page at all, invented", inputs: []sweepInput{powerIn, speedIn, muscleIn, contactIn}, points: every(power4, numbered(0.5, 1, 2)), draws: 64, status: everyTenth},
		"draws-only":   {title: "Nothing but uncertainty, invented", design: "none", inputs: []sweepInput{muscleIn, contactIn}, points: [][]string{nil}, draws: 200},
		"thick-draws":  {title: "Muscle that begins anywhere, invented", inputs: []sweepInput{powerIn, contactIn}, points: every(between(5, 60, 12, false)), draws: 64},
		"named":        {title: "Named settings, invented", inputs: []sweepInput{powerIn, timeIn}, names: []string{"gentle", "usual", "long-and-gentle", "short-and-strong"}, points: [][]string{{"10", "1"}, {"20", "1"}, {"10", "4"}, {"40", "0.5"}}},
		"named-draws":  {title: "Named settings, uncertain, invented", inputs: []sweepInput{powerIn, timeIn, contactIn}, names: []string{"gentle", "usual", "long-and-gentle", "short-and-strong"}, points: [][]string{{"10", "1"}, {"20", "1"}, {"10", "4"}, {"40", "1.5"}}, draws: 50},
		"pair":         {title: "Two settings on the same walls, invented", inputs: []sweepInput{powerIn, timeIn, contactIn}, names: []string{"gentle", "strong"}, points: [][]string{{"40", "1"}, {"40", "1.5"}}, draws: 60},
		"named-thirty": {title: "Thirty named settings, invented", inputs: []sweepInput{powerIn}, names: manyNames(30), points: every(between(5, 60, 30, false))},
		"one-at-a-time": {title: "One at a time, invented", design: "one-at-a-time", levels: []int{2, 3, 2, 2}, inputs: []sweepInput{powerIn, timeIn, speedIn, siteIn}, top: bySite(3), points: append([][]string{{"20", "1", "2", "rectum"}},
			[]string{"10", "1", "2", "rectum"}, []string{"40", "1", "2", "rectum"}, []string{"20", "0.5", "2", "rectum"}, []string{"20", "2", "2", "rectum"}, []string{"20", "4", "2", "rectum"},
			[]string{"20", "1", "1", "rectum"}, []string{"20", "1", "8", "rectum"}, []string{"20", "1", "2", "right-colon"}, []string{"20", "1", "2", "left-colon"})},
		"space":      {title: "Space-filling, invented", design: "halton", inputs: []sweepInput{powerIn, timeIn, speedIn}, points: scatter(120), status: everyTenth, cut: true},
		"paired":     {title: "Paired, invented", design: "paired", inputs: []sweepInput{powerIn, timeIn}, points: [][]string{{"10", "4"}, {"20", "2"}, {"30", "1"}, {"40", "0.5"}, {"60", "0.3"}}},
		"no-muscle":  {title: "No muscle, invented", inputs: []sweepInput{powerIn, timeIn}, points: every(power4, numbered(1, 2, 4)), bare: true},
		"all-failed": {title: "All failed, invented", inputs: []sweepInput{powerIn}, points: every(power4), status: func(int) string { return "failed" }},
		"blank":      {title: "No values, invented", inputs: []sweepInput{powerIn}, points: every(power4), blank: true},
	}
)

func manyNames(n int) (out []string) {
	for i := range n {
		out = append(out, fmt.Sprintf("setting-%d-of-many", i+1))
	}
	return out
}

func scatter(n int) (out [][]string) {
	r := rand.New(rand.NewPCG(1, 2))
	for range n {
		out = append(out, numbered(10+30*r.Float64(), 0.5*math.Pow(8, r.Float64()), 0.5*math.Pow(16, r.Float64())))
	}
	return out
}
