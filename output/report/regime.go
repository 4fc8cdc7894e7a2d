package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"muralheat/output/chart"
	"muralheat/output/document"
	"muralheat/output/measured"
	"muralheat/output/phrase"
	"muralheat/scenarios/experiments"
)

// measuredName is the figure of ours against measured, which is written beside the report.
const measuredName = "measured.svg"

// regime is what published experiments say of a case.
type regime struct {
	place       experiments.Place
	own, others []experiments.Result // of its kind, the nearest first; and all others
	axes        []experiments.Axis   // beside those of its kind
	kin         []experiments.Result // of its kind, on the same or like tissue
}

func newRegime(p experiments.Place, all []experiments.Result) regime {
	r := regime{place: p}
	r.own, r.others = p.Regime(all)
	var places []experiments.Place
	for _, e := range r.own {
		places = append(places, e.Place)
		if p.Beside([]experiments.Place{e.Place})[0].Verdict != experiments.Outside {
			r.kin = append(r.kin, e)
		}
	}
	r.axes = p.Beside(places)
	return r
}

// outside names the axes on which the case is outside of what was compared.
func (r regime) outside() (names []string) {
	for _, a := range r.axes {
		if a.Verdict == experiments.Outside {
			names = append(names, a.Name)
		}
	}
	return names
}

// says is the regime in short.
func (r regime) says() string {
	if len(r.own) == 0 {
		return fmt.Sprintf("none of %d published experiments is of this kind (%s)", len(r.others), r.place.Kind)
	}
	n := func(v experiments.Verdict) int { return experiments.Count(r.axes, v) }
	s := fmt.Sprintf("of %d published experiments %d are of this kind (%s), %d of them on the same or like tissue; of %d axes the case is inside what they compared on %d, near on %d, outside on %d",
		len(r.own)+len(r.others), len(r.own), r.place.Kind, len(r.kin), len(r.axes), n(experiments.Inside), n(experiments.Near), n(experiments.Outside))
	if out := r.outside(); out != nil {
		s += " (" + strings.Join(out, ", ") + ")"
	}
	return s
}

// biases say ours less measured in the regime, on the same or like tissue and on all: where, and what.
func (r regime) biases() (kin, all [][2]string) {
	of := func(where string, list []experiments.Result) (lines [][2]string) {
		for _, b := range experiments.Biases(list) {
			lines = append(lines, [2]string{"Ours less measured, " + r.place.Kind + where, b.String()})
		}
		return lines
	}
	return of(" on the same or like tissue", r.kin), of(" on all tissues", r.own)
}

// axesTable sets the case beside what was compared.
func (r regime) axesTable() document.Table {
	t := document.Table{Caption: fmt.Sprintf("This case beside the %d published experiments of its kind (%s), axis by axis", len(r.own), r.place.Kind), Head: []string{"axis", "this case", "compared", "unit", "verdict"}, Stacked: true}
	for _, a := range r.axes {
		t.Rows = append(t.Rows, []string{a.Name, a.Case, a.Compared, a.Unit, whenElse(a.Verdict == experiments.Outside, "OUTSIDE", string(a.Verdict))})
	}
	return t
}

// ownTable lists the experiments of the kind, nearest first, a row for each measure.
func (r regime) ownTable() document.Table {
	t := document.Table{Caption: "Published experiments of this kind, nearest first; each counts once for a measure, by the mean of its values", Stacked: true,
		Head: []string{"experiment", "axes inside, near, outside", "measure", "ours less measured", "unit", "values within twice the combined spread", "residual, root mean square", "why it may miss"}}
	for _, e := range r.own {
		axes := r.place.Beside([]experiments.Place{e.Place})
		near := fmt.Sprintf("%d, %d, %d", experiments.Count(axes, experiments.Inside), experiments.Count(axes, experiments.Near), experiments.Count(axes, experiments.Outside))
		why := e.Remark // once an experiment
		for _, m := range experiments.Measures {
			d, sd, values, within := e.Difference(m)
			if values == 0 {
				continue
			}
			t.Rows = append(t.Rows, []string{e.Title, near, string(m), fmt.Sprintf("%+.2f ± %.2f", d, sd), m.Unit(), fmt.Sprintf("%d of %d", within, values), fmt.Sprintf("%.1f", e.RMS()), why})
			why = ""
		}
		if why != "" {
			t.Rows = append(t.Rows, []string{e.Title, near, "a share or ratio", "", "", "", fmt.Sprintf("%.1f", e.RMS()), why})
		}
	}
	return t
}

// valuesTables list every published value with that of the model, those of the kind first, and their sources.
func (r regime) valuesTables() []document.Block {
	t := document.Table{Caption: "Published values and the model", Head: []string{"experiment", "kind", "part", "measured", "published", "ours", "unit", "residual", "inside", "source"}, Stacked: true, Folded: true}
	var sources []string
	for _, e := range slices.Concat(r.own, r.others) {
		source := e.Source + ", " + e.Read
		n := slices.Index(sources, source) + 1
		if n == 0 {
			sources = append(sources, source)
			n = len(sources)
		}
		for _, x := range e.Rows {
			t.Rows = append(t.Rows, []string{e.Title, e.Place.Kind, string(e.Part), x.Measured, plain(x.Mean) + " ± " + plain(x.SD), plain(x.Ours) + " ± " + plain(math.Hypot(x.InputSD, x.NumericalSD)), x.Unit,
				fmt.Sprintf("%.1f", x.Residual), whenElse(math.Abs(x.Residual) <= 2, "yes", "MISSED"), fmt.Sprintf("[%d]", n)})
		}
	}
	refs := document.Table{Caption: "Sources of the experiments", Head: []string{"no.", "source"}, Stacked: true, Folded: true}
	for n, s := range sources {
		refs.Rows = append(refs.Rows, []string{fmt.Sprintf("[%d]", n+1), s})
	}
	return []document.Block{t, refs}
}

func (b *dossier) comparisonSection() (document.Section, error) {
	s := document.Section{ID: "comparison", Title: "Comparison with published experiments", Blocks: []document.Block{document.Lead(phrase.Capital(b.regime.says()) + ".")}}
	if len(b.regime.own) > 0 {
		kin, all := b.regime.biases()
		var lines document.List
		for _, l := range slices.Concat(kin, all) {
			lines = append(lines, l[0]+": "+l[1])
		}
		s.Blocks = append(s.Blocks, lines)
		s.Blocks = append(s.Blocks, b.regime.axesTable(), b.regime.ownTable())
	}
	for _, f := range measured.Figures(b.Experiments, b.regime.place.Kind) {
		svg, err := chart.Svg(f)
		if err != nil {
			return s, fmt.Errorf("output: figure %s: %w", f.Name, err)
		}
		s.Blocks = append(s.Blocks, document.Figure{SVG: svg, Caption: "Ours against measured, a point an experiment. File " + measuredName + ".", Alt: "Ours against measured, with the line where both are equal.", Link: measuredName})
	}
	var scores document.List
	for _, x := range experiments.Scores(b.Experiments) {
		scores = append(scores, "All kinds, "+x.String())
	}
	s.Blocks = append(s.Blocks,
		document.Text(fmt.Sprintf("Inside: within the values that the experiments had by their scenarios and results; near: within a factor of %g of them, or a like tissue or tip (assumption); outside: beyond. The interval of a bias is the wider of two: that of the mean over experiments (Student 1908), and twice the combined spread of an experiment over the root of their number. The residual is the difference in units of the combined spread of the measurement, of the inputs that a paper leaves open, and of the mesh. Constants may be fitted to experiments of part “fit”, never to those of part “apart”.", experiments.NearFactor)),
		scores)
	s.Blocks = append(s.Blocks, b.regime.valuesTables()...)
	s.Blocks = append(s.Blocks, document.Text("None of these experiments is the case of this report. Compare depths between settings of the model; do not take them for those of an animal. Values as a table for a program: muralheat verify --against experiments -o FOLDER writes places.csv and values.csv."))
	return s, nil
}
