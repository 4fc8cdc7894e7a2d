package study

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats"

	"muralheat/output/record"
)

// The worked example of the article Spearman's rank correlation coefficient of Wikipedia:
// intelligence quotient against hours of television a week, -29/165.
func TestSpearman(t *testing.T) {
	iq := []float64{106, 100, 86, 101, 99, 103, 97, 113, 112, 110}
	hours := []float64{7, 27, 2, 50, 28, 29, 20, 12, 6, 17}
	if rho := floats.Dot(standing(iq), standing(hours)); math.Abs(rho+29.0/165) > 1e-12 {
		t.Errorf("%g, want %g", rho, -29.0/165)
	}
	if standing([]float64{1, 1, 1}) != nil {
		t.Error("a constant has a standing")
	}
}

// With ties the sum of squared differences of ranks, corrected as in (from memory) Siegel 1956,
// Nonparametric Statistics, formula 9.8, gives the same:
//
//	rho = (A + B - sum d²) / (2 sqrt(A B)),  A = (n³-n)/12 - sum (t³-t)/12
func TestSpearmanTies(t *testing.T) {
	x, y := []float64{1, 2, 2, 3, 3, 3, 5}, []float64{2, 1, 4, 4, 5, 6, 6}
	rx, ry := ranks(x), ranks(y)
	if want := []float64{1, 2.5, 2.5, 5, 5, 5, 7}; !slices.Equal(rx, want) {
		t.Errorf("ranks %v, want %v", rx, want)
	}
	d2 := 0.0
	for i := range rx {
		d2 += (rx[i] - ry[i]) * (rx[i] - ry[i])
	}
	a := (343.0-7)/12 - (8.0-2)/12 - (27.0-3)/12
	b := (343.0-7)/12 - 2*(8.0-2)/12
	if rho := floats.Dot(standing(x), standing(y)); math.Abs(rho-(a+b-d2)/(2*math.Sqrt(a*b))) > 1e-12 {
		t.Errorf("%g, want %g", rho, (a+b-d2)/(2*math.Sqrt(a*b)))
	}
}

// An input that deepens the injury at some points and not at others must not pass for one
// that does nothing.
func TestCorrelationsThatCancel(t *testing.T) {
	s := madeUps["draws"].shape(t)
	depth := s.Column[record.DepthColumn]
	for r, p := range s.Point {
		if p%2 == 1 {
			depth[r] = -depth[r]
		}
	}
	all, _ := s.Correlations(s.Outcome())
	n := slices.IndexFunc(all, func(s sensitivity) bool { return s.Name == "contact radius" })
	if n < 0 {
		t.Fatal("no contact radius")
	}
	if e := all[n].Effects[0]; math.Abs(e.Size) > all[n].Chance || e.Low > -0.9 || e.High < 0.9 || all[n].Reach() < 0.9 {
		t.Errorf("mean %.2f, from %.2f to %.2f; want nothing, from -1 to 1", e.Size, e.Low, e.High)
	}
}

// The bands and p values of testdata/permutation.py, by scipy: one sample, and three points whose draws
// are permuted alike. The share beyond is known to its standard error over the permutations, four of
// them allowed; the band to the step of the statistic.
func TestPermutationBands(t *testing.T) {
	text, err := os.ReadFile("testdata/permutation.json")
	if err != nil {
		t.Fatal(err)
	}
	var want struct {
		One struct {
			X, Y         []float64
			Rho, P, Band float64
		}
		Grouped struct {
			X            []float64
			Y            [][]float64
			Rho, P, Band float64
		}
	}
	if err := json.Unmarshal(text, &want); err != nil {
		t.Fatal(err)
	}
	near := func(name string, x, w []float64, rho, p, band float64) {
		t.Helper()
		gotBand, gotP := permuted(x, w)
		if got := floats.Dot(x, w); math.Abs(got-rho) > 1e-12 {
			t.Errorf("%s: %g, want %g", name, got, rho)
		}
		if se := math.Sqrt(p * (1 - p) / permutations); math.Abs(gotP-p) > 4*se {
			t.Errorf("%s: p %.4f, want %.4f within %.4f", name, gotP, p, 4*se)
		}
		if math.Abs(gotBand-band) > 0.02 {
			t.Errorf("%s: band %.3f, want %.3f", name, gotBand, band)
		}
	}
	near("one", standing(want.One.X), standing(want.One.Y), want.One.Rho, want.One.P, want.One.Band)
	w := make([]float64, len(want.Grouped.X))
	for _, y := range want.Grouped.Y {
		floats.AddScaled(w, 1/float64(len(want.Grouped.Y)), standing(y))
	}
	near("grouped", standing(want.Grouped.X), w, want.Grouped.Rho, want.Grouped.P, want.Grouped.Band)
}

// Where the normal law takes over, it gives what permutations give.
func TestPermutationOfMany(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	x, y := make([]float64, mostPermuted+1), make([]float64, mostPermuted+1)
	for n := range x {
		x[n] = r.Float64()
		y[n] = r.NormFloat64() + 0.05*x[n]
	}
	x, y = standing(x), standing(y)
	band, p := permuted(x, y)
	less, q := permuted(x[:mostPermuted], y[:mostPermuted])
	if math.Abs(band/less-1) > 0.05 || math.Abs(p-q) > 0.04 || p < 0.001 || p > 0.999 {
		t.Errorf("±%.4f and p %.3f, permuted ±%.4f and %.3f", band, p, less, q)
	}
}

// pointsWithDraws is a space-filling plan of 40 points with 25 draws each. The outcome follows
// nothing but noise that the draws of a point share, and that all points share in a draw.
func pointsWithDraws(t *testing.T, seed uint64) *SweepShape {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 5))
	var points [][]string
	for range 40 {
		points = append(points, numbered(10+30*r.Float64(), 0.5+4*r.Float64()))
	}
	s := madeUp{title: "Points with draws, invented", inputs: []sweepInput{powerIn, timeIn, muscleIn, contactIn}, points: points, draws: 25, design: "halton"}.shape(t)
	ofPoint, ofDraw := make([]float64, 40), make([]float64, 25)
	for p := range ofPoint {
		ofPoint[p] = r.NormFloat64()
	}
	for d := range ofDraw {
		ofDraw[d] = r.NormFloat64()
	}
	for row, p := range s.Point {
		s.Column[record.DepthColumn][row] = 2 + 0.3*ofPoint[p] + 0.3*ofDraw[s.Draw[row]] + 0.01*r.NormFloat64()
		for n, in := range s.Inputs { // drawn anew with each seed, alike at all points
			if in.Uncertain {
				s.InputCells[n].Number[row] = rand.New(rand.NewPCG(seed, uint64(100*n+s.Draw[row]))).Float64()
			}
		}
	}
	return s
}

// 25 draws of one point are one value of its settings: over 40 points chance gives 0.31, not the
// 0.06 of a thousand independent values; and in about 1 of 20 studies it gives more.
func TestCorrelationsRespectDraws(t *testing.T) {
	told, beyond := 0, 0
	for seed := range uint64(100) {
		drawn := pointsWithDraws(t, seed)
		all, says := drawn.Correlations(drawn.Outcome())
		if len(all) != 4 || !strings.Contains(says, "over the means at 40 points") || !strings.Contains(says, "within each of 40 points") {
			t.Fatalf("%d: %s", len(all), says)
		}
		for n, r := range all {
			want, over := 1.96/math.Sqrt(39), "40 points" // the variance of Spearman's is 1/(n-1)
			if n >= 2 {
				want, over = 1.96/math.Sqrt(24), "25 draws"
			}
			if math.Abs(r.Chance-want) > 0.06 || r.Over != over {
				t.Errorf("%s: chance ±%.2f over %s, want ±%.2f over %s", r.Name, r.Chance, r.Over, want, over)
			}
			if told++; math.Abs(r.Effects[0].Size) > r.Chance {
				beyond++
			}
		}
	}
	// 400 correlations, of which 20 on average; binomial, 4 standard deviations.
	if math.Abs(float64(beyond)-20) > 4*math.Sqrt(400*0.05*0.95) {
		t.Errorf("%d of %d beyond what chance gives in 1 of 20", beyond, told)
	}
}
