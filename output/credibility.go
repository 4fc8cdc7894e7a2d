package output

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"muralheat/thermal"
	"muralheat/thermal/checks"
)

// Evidence is what a credibility report rests on besides the folder itself.
type Evidence struct {
	Settings []Setting
	Notes    []string
	Case     *thermal.Case
	Verified []checks.Ran
	Measured []Measured
}

// Measured is a published number beside the model's.
type Measured struct {
	What, Source, Unit string
	Low, High, Ours    float64
	Inside             bool
	Why                string // the model may miss it
}

// Files of a report.
const (
	reportHTML = "report.html"
	reportMD   = "report.md"
)

// Credibility writes the credibility report of the run or sweep in dir into it, as HTML and
// Markdown, and returns the names of the files. Its sections are those that ASME V&V 40-2018
// and the FDA's guidance of November 2023 on the credibility of computational models ask
// for.
func Credibility(dir string, e Evidence) ([]string, error) {
	p, err := credibility(dir, e)
	if err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	html, err := p.html()
	if err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	for _, f := range []file{{reportHTML, html}, {reportMD, p.markdown()}} {
		if err := swap(filepath.Join(dir, f.name), f.data); err != nil {
			return nil, fmt.Errorf("output: %w", err)
		}
	}
	return []string{reportHTML, reportMD}, nil
}

// Manifest is what a report needs of the record of a run.
type Manifest struct {
	Program  program   `json:"program"`
	Command  []string  `json:"command"`
	Start    string    `json:"start_utc"`
	Scenario scenario  `json:"scenario"`
	Refined  string    `json:"numerical_uncertainty"`
	Settings []Setting `json:"settings"`
	Notes    []string  `json:"notes"`
	Summary  []quoted  `json:"summary"`
}

// ReadManifest reads the record of the run in dir.
func ReadManifest(dir string) (*Manifest, error) {
	b, err := os.ReadFile(filepath.Join(dir, manifestName))
	if err != nil {
		return nil, fmt.Errorf("output: no %s in %s", manifestName, dir)
	}
	m := &Manifest{}
	if err := json.Unmarshal(b, m); err != nil || m.Scenario.Resolved == "" {
		return nil, fmt.Errorf("output: %s is not the record of a run", filepath.Join(dir, manifestName))
	}
	return m, nil
}

func credibility(dir string, e Evidence) (page, error) {
	p := page{Lead: "What this model was asked, what it assumes, how accurate it is, and how to compute it again. It supports a judgement of credibility in the sense of ASME V&V 40-2018 and of the FDA's guidance of November 2023 on computational models; it does not make one. " + Caution}
	p.Title = "Credibility report: " + e.Case.Title
	p.Sections = []chapter{
		question(e), form(e.Case), geometry(e), properties(e), boundaries(e), source(e), discretisation(e),
	}
	if IsSweep(dir) {
		rest, err := sweepChapters(dir, e)
		if err != nil {
			return p, err
		}
		p.Sections = append([]chapter{rest[0]}, append(p.Sections, rest[1:]...)...)
	} else {
		rest, err := runChapters(dir, e)
		if err != nil {
			return p, err
		}
		p.Sections = append([]chapter{rest[0]}, append(p.Sections, rest[1:]...)...)
	}
	for i := range p.Sections {
		p.Sections[i].Title = fmt.Sprintf("%d %s", i+1, p.Sections[i].Title)
	}
	return p, nil
}

// settingOf returns the value of a key, "" if it has none.
func (e Evidence) settingOf(key string) string {
	for _, s := range e.Settings {
		if s.Key == key {
			return s.Value
		}
	}
	return ""
}

// settings lists those whose key begins with one of the prefixes.
func (e Evidence) settings(caption string, folded bool, prefixes ...string) sheet {
	t := sheet{Caption: caption, Head: []string{"setting", "value", "unit", "where it comes from"}, Folded: folded}
	for _, s := range e.Settings {
		if !slices.ContainsFunc(prefixes, func(p string) bool { return strings.HasPrefix(s.Key, p) }) {
			continue
		}
		from := s.Source
		if s.Given {
			from = "given in the scenario"
		}
		t.Rows = append(t.Rows, []string{s.Key, shortest(s.Value), s.Unit, from})
	}
	return t
}

// shortest shortens a number to six digits.
func shortest(value string) string {
	var v float64
	if _, err := fmt.Sscanf(value, "%g", &v); err == nil && fmt.Sprint(v) == value && len(value) > 8 {
		return six(v)
	}
	return value
}

func question(e Evidence) chapter {
	s := chapter{Title: "Question and context of use"}
	if q := e.settingOf("question"); q != "" {
		s.say("Question of interest: %s", q)
	} else {
		s.say("Question of interest: not stated in the scenario (key question). Read from its title: %s.", e.Case.Title)
	}
	if c := e.settingOf("context_of_use"); c != "" {
		s.say("Context of use: %s", c)
	} else {
		s.say("Context of use: not stated in the scenario (key context_of_use).")
	}
	s.say("Model risk - how much weight a decision puts on this model and what follows if it is wrong - depends on that decision and is not assessed here. Whatever the decision, this program is for research and teaching and does not set treatment.")
	return s
}

// form tells the equations and assumptions in force.
func form(c *thermal.Case) chapter {
	s := chapter{Title: "Equations and assumptions in force"}
	ph := c.Physics
	var eq []string
	eq = append(eq, "Electric: div(sigma grad phi) = 0, quasi-static and resistive; phi in V RMS; metal an equipotential, free surfaces insulated.")
	eq = append(eq, "Heat: rho c dT/dt = div(k grad T) + sigma |grad phi|^2 - w_b c_b (T - T_b) s (Pennes 1948, J Appl Physiol 1:93).")
	if ph.Boiling {
		eq = append(eq, fmt.Sprintf("Water: beyond %g C heat takes water with its latent heat, irreversibly; dried tissue conducts %g of what wet tissue does.", ph.BoilC, ph.DrySigmaShare))
		if ph.Carbonisation {
			eq = append(eq, fmt.Sprintf("Carbonisation: dry mass decomposes at %g C; carbon gets no hotter than %g C (assumption).", ph.CarbonC, ph.CarbonCeilingC))
		}
		eq = append(eq, fmt.Sprintf("Sparks cross dried tissue above %g V peak plus %g kV for each mm of it (assumption), if the source gives that much.", ph.SparkOnsetV, ph.SparkVM/1e6))
	} else {
		eq = append(eq, "Boiling is off: temperatures above 100 C have no meaning.")
	}
	eq = append(eq, fmt.Sprintf("Conductivity: sigma (1 + %g (min(T, %g) - 37)).", ph.SigmaPerK, ph.BoilC))
	eq = append(eq, "Blood flow: "+map[thermal.PerfusionStop]string{thermal.Never: "never stops.", thermal.AtInjury: "stops where the damage integral reaches 1.", thermal.WithDamage: "falls with the damage integral as exp(-Omega)."}[ph.PerfusionStops])
	eq = append(eq, "Injury: Omega = int A exp(-Ea/RT) dt; the injury line is Omega = 1 by the kinetics "+c.Damage.Kinetics.Name+".")
	switch {
	case c.Electrode.Tip == thermal.Pad:
		eq = append(eq, "Contact of the pad: an even impedance in series; its magnitude steers the current, its resistance heats the skin. The body starts at rest with its blood and the room.")
	case c.Electrode.Tip == thermal.Loop:
		eq = append(eq, "Loop: a square ring of wire takes away the tissue it sweeps; when it meets the axis the current ends.")
	case cuts(c):
		eq = append(eq, "Cutting: a moving needle takes away the tissue it covers; tissue parts when it has boiled dry.")
	}
	s.list(eq...)
	s.say("Left out: steam pressure and flow, shrinkage, vessels as such, capacitance of tissue (below 7 %% in gut wall from 0.3 MHz), movement of fluid, and healing.")
	return s
}

func geometry(e Evidence) chapter {
	s := chapter{Title: "Geometry"}
	t := sheet{Caption: "Layers, from the top down; depth 0 is the surface of the wall", Head: []string{"layer", "from, mm", "to, mm", "thickness, mm", "role"}}
	edges := e.Case.Edges()
	for i, l := range e.Case.Layers {
		role := ""
		switch {
		case l.Muscle:
			role = "its injury is judged"
		case l.Beyond:
			role = "beyond the wall"
		case l.Above:
			role = "above the wall"
		}
		t.Rows = append(t.Rows, []string{l.Name, short(1e3 * edges[i]), short(1e3 * edges[i+1]), short(1e3 * l.ThicknessM), role})
	}
	s.table(t)
	s.table(e.settings("Electrode and its way", false, "electrode.", "motion.", "pad.", "stalk.diameter", "stalk.height", "stalk.head", "stalk.opposite", "loop."))
	thick := sheet{Caption: "Thicknesses and where they come from", Head: []string{"setting", "value", "unit", "where it comes from"}}
	for _, r := range e.settings("", false, "wall.").Rows {
		if strings.HasSuffix(r[0], "thickness_mm") || strings.HasPrefix(r[0], "wall.stretch") || strings.HasPrefix(r[0], "wall.site") {
			thick.Rows = append(thick.Rows, r)
		}
	}
	s.table(thick)
	return s
}

func properties(e Evidence) chapter {
	s := chapter{Title: "Properties with their sources"}
	t := sheet{Caption: "Materials", Head: []string{"setting", "value", "unit", "where it comes from"}}
	for _, r := range e.settings("", false, "wall.", "stalk.").Rows {
		if strings.Contains(r[0], ".material.") {
			t.Rows = append(t.Rows, r)
		}
	}
	s.table(t)
	s.table(e.settings("Laws: constants, kinetics", false, "physics.", "damage.", "wall.modulus", "wall.squeeze"))
	s.say("Ranges and the confidence of each number of the library: muralheat tissues, with --sites, --kinetics and --constants.")
	return s
}

func boundaries(e Evidence) chapter {
	s := chapter{Title: "Initial and boundary conditions"}
	s.table(e.settings("Body, surfaces and edges of the domain", false, "body.", "wall.lumen.", "wall.beyond.heat", "wall.beyond.temp", "wall.beyond.medium", "domain.", "electrode.heat", "electrode.temp", "afterwards"))
	return s
}

func source(e Evidence) chapter {
	s := chapter{Title: "Source"}
	s.say("Given: %s.", given(e.Case.Drive))
	s.table(e.settings("Current", false, "current."))
	s.say("Power is what reaches the tissue. The figure set on a generator is not: leads, contact, load and steam take much of it.")
	return s
}

func discretisation(e Evidence) chapter {
	s := chapter{Title: "Discretisation"}
	g := e.Case.Grid()
	s.say("Finite volumes on a graded %s mesh of %d x %d x %d cells, finest %s um; explicit Euler steps of at most %s ms for temperature and water, shortened while tissue boils; the field by conjugate gradients to %g in the energy norm, solved again when resistivity has changed by %s %%.",
		g.Geometry, g.NX, max(g.NY, 1), g.NZ, short(1e6*g.FinestM), short(1e3*e.Case.StepS()), e.Case.Numerics.Tolerance, short(100*e.Case.Numerics.Resolve))
	s.table(e.settings("Numerics", false, "numerics."))
	return s
}

// inShort is what a reviewer reads first.
func inShort(e Evidence, said ...string) chapter {
	s := chapter{Title: "In short"}
	failed, all := Failed(e.Verified)
	inside := 0
	for _, m := range e.Measured {
		if m.Inside {
			inside++
		}
	}
	s.list(append(said,
		fmt.Sprintf("Code verification: %d of %d checks against the outside hold.", all-len(failed), all),
		fmt.Sprintf("Published experiments: %d of %d numbers inside their brackets; none of them is this case.", inside, len(e.Measured)))...)
	return s
}

// verified tells what the solver was held against.
func verified(e Evidence) chapter {
	s := chapter{Title: "Code verification"}
	failed, all := Failed(e.Verified)
	if len(failed) == 0 {
		s.say("%d checks against closed forms, standards and tables, computed by this program when this report was written: all within their tolerance.", all)
	} else {
		s.say("%d of %d checks against closed forms, standards and tables DIFFER: do not use this program.", len(failed), all)
	}
	t := sheet{Caption: "By group", Head: []string{"group", "checks", "differ"}}
	full := sheet{Caption: "All checks", Head: []string{"group", "id", "what", "source", "expected", "ours", "tolerance", "unit", "verdict"}, Folded: true}
	for _, g := range e.Verified {
		bad, n := Failed([]checks.Ran{g})
		t.Rows = append(t.Rows, []string{g.Group, fmt.Sprint(n), fmt.Sprint(len(bad))})
		for _, c := range g.Checks {
			full.Rows = append(full.Rows, []string{g.Group, c.ID, c.What, c.Source, six(c.Expected), six(c.Ours), two(c.Tolerance), unitOf(c), verdictOf(c)})
		}
	}
	s.table(t)
	s.table(full)
	s.say("Three full cases are also held against finite elements by another program (testdata/reference): depth within 0.05 mm, temperatures within 1.5 %% of the rise.")
	return s
}

// compared tells how published experiments come out.
func compared(e Evidence) chapter {
	s := chapter{Title: "Comparison with published experiments"}
	inside := 0
	t := sheet{Caption: "Published numbers and the model's for the nearest scenario; nothing in the model is tuned to them", Head: []string{"measured", "published", "ours", "unit", "inside", "source"}, Folded: true}
	for _, m := range e.Measured {
		verdict := "missed: " + m.Why
		if m.Inside {
			verdict = "yes"
			inside++
		}
		t.Rows = append(t.Rows, []string{m.What, short(m.Low) + " to " + short(m.High), short(m.Ours), m.Unit, verdict, m.Source})
	}
	s.say("%d of %d published numbers lie within their brackets. These are brackets around other settings, tissues and species, not a validation of the case above: depths, temperatures at the outer surface and widths are to be compared between settings of the model, not taken for those of an animal or a patient.", inside, len(e.Measured))
	s.table(t)
	return s
}

func limits(notes []string) chapter {
	s := chapter{Title: "Limits and cautions"}
	if len(notes) > 0 {
		s.list(notes...)
	}
	s.say("High-frequency current perforates, bleeds and burns. Nothing here is a setting for a patient: it comes from a model with assumed tissue, an assumed contact and no patient in it. Follow the instructions of the device, the local protocol and the judgement of a licensed practitioner.")
	return s
}

func runChapters(dir string, e Evidence) ([]chapter, error) {
	m, err := ReadManifest(dir)
	if err != nil {
		return nil, err
	}
	r, err := Load(dir)
	if err != nil {
		return nil, err
	}
	results := chapter{Title: "Results"}
	results.say("%s", verdict(r))
	for _, f := range figures(r) {
		b, err := svg(f)
		if err != nil {
			return nil, err
		}
		results.figure(f.name+".svg", map[string]string{"wall": "Cross-section. " + verdict(r), "timecourse": "Time course of temperatures, power, resistance and depth of injury."}[f.name], b)
	}
	t := sheet{Caption: "Summary", Head: []string{"quantity", "value", "unit", "what it is"}}
	for _, c := range SummaryColumns(r.Case) {
		v := c.Cell(r)
		if c.Word == nil {
			v = shortest(v)
		}
		t.Rows = append(t.Rows, []string{c.Name, v, c.Unit, c.Text})
	}
	results.table(t)

	self := chapter{Title: "Self-checks of this computation"}
	books := sheet{Caption: "Each must stay below its limit", Head: []string{"check", "value", "limit", "verdict"}}
	for _, c := range Checks(r) {
		verdict := "ok"
		if !c.OK {
			verdict = "FAILED: do not use this result"
		}
		books.Rows = append(books.Rows, []string{c.Name, two(c.Value), two(c.Limit), verdict})
	}
	self.table(books)

	uncertainty := chapter{Title: "Numerical uncertainty"}
	if rows, err := readRefined(dir); err == nil {
		uncertainty.say("%s.", capital(m.Refined))
		uncertainty.say("Three meshes and steps; observed order, extrapolation and grid convergence index by Celik and others 2008, J Fluids Eng 130:078001. Temperatures at the rim of a metal have no limit as cells shrink: they depend on the mesh.")
		uncertainty.table(sheet{Caption: "Each quantity on three meshes", Head: rows[0], Rows: rows[1:], Folded: true})
	} else {
		uncertainty.say("Not computed for this run. These commands compute it on three meshes and write this report again:")
		uncertainty.command("muralheat run --refine -o FOLDER scenario.yaml\nmuralheat report FOLDER")
	}

	sensitive := chapter{Title: "Sensitivity to uncertain inputs"}
	sensitive.say("A single run cannot tell. A plan with a part uncertain draws the inputs that are not known exactly, and its report has the correlations and the probability of reaching the muscle; the inputs to vary first are conductivity, blood flow, contact, thickness of the wall and power that reaches the tissue.")
	sensitive.command("title: What is uncertain\nscenario: scenario.yaml\nuncertain:\n  - {key: physics.dry_conductivity_share, lognormal: {median: 0.001, ratio: 3}}\ndraws: 64\nseed: 1")

	again := chapter{Title: "Version and reproduction"}
	again.table(programTable(m.Program))
	again.say("Computed with: %s", strings.Join(m.Command, " "))
	again.say("The resolved scenario, in manifest.json and as scenario.yaml in this folder, has every value in force. The same program gives the same bytes again on the same kind of processor, whatever the number of workers:")
	again.command("muralheat run -o again scenario.yaml")
	again.say("SHA-256 of the scenario as read: %s.", m.Scenario.SHA256)
	self.say("Energy is judged over the largest term of its balance.")
	known := "Numerical uncertainty: not computed for this run."
	if m.Refined != "" {
		known = "Numerical uncertainty: " + m.Refined + "."
	}
	sound := "Self-checks: all hold."
	if !Passed(Checks(r)) {
		sound = "Self-checks: FAILED, do not use this result."
	}
	return []chapter{inShort(e, verdict(r), known, sound), results, self, verified(e), uncertainty, sensitive, compared(e), limits(m.Notes), again}, nil
}

func programTable(p program) sheet {
	modified := "no"
	if p.Modified {
		modified = "yes: not the commit alone"
	}
	return sheet{Caption: "Program", Head: []string{"what", "value"}, Rows: [][]string{
		{"program", p.Name}, {"version", p.Version}, {"commit", p.Commit}, {"modified", modified}, {"Go", p.Go}, {"system", p.OS + "/" + p.Arch}, {"modules", strings.Join(p.Modules, ", ")},
	}}
}

func readRefined(dir string) ([][]string, error) {
	f, err := os.Open(filepath.Join(dir, refineName))
	if err != nil {
		return nil, err
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil || len(rows) == 0 {
		return nil, fmt.Errorf("%s: no table", refineName)
	}
	for _, r := range rows[1:] {
		for i := range r {
			r[i] = shortest(r[i])
		}
	}
	return rows, nil
}

func sweepChapters(dir string, e Evidence) ([]chapter, error) {
	t, err := readSweep(dir)
	if err != nil {
		return nil, err
	}
	results := chapter{Title: "Results"}
	results.say("%s: %d cases, of which %d passed, %d failed and %d are doubtful (a self-check failed).", t.Title, t.Cases, len(t.point), t.failed, t.doubtful)
	varied := sheet{Caption: "What varies", Head: []string{"setting", "unit", "how"}}
	for _, in := range t.Inputs {
		how := "set by the plan"
		if in.Uncertain {
			how = fmt.Sprintf("drawn, %d times at each point", t.Draws)
		}
		varied.Rows = append(varied.Rows, []string{in.Key, in.Unit, how})
	}
	results.table(varied)
	sensitive := chapter{Title: "Sensitivity to uncertain inputs"}
	told := 0
	for _, f := range sweepFigures(t) {
		b, err := svg(f)
		if err != nil {
			return nil, err
		}
		alt := map[string]string{"depth": "Depth of injury against what varies.", "margin": "Margin to the muscle against what varies.", "risk": "Probability that the injury reaches the muscle, with its 95 % interval.",
			"map": "Map over two settings.", "cut": "Speed of the cut against the injury beside it.", "rise": "Rise of the skin against what varies.", "cut-time": "Time to cut through against what varies.",
			"change": "Change of the outcome when one setting leaves its base.", "sensitivity": "Rank correlation of the outcome with each input."}[f.name]
		if f.name == "change" || f.name == "sensitivity" || f.name == "risk" {
			sensitive.figure(f.name+".svg", alt, b)
			told++
			continue
		}
		results.figure(f.name+".svg", alt, b)
	}
	if told == 0 {
		sensitive.say("No input of this plan is drawn, and none leaves a base alone: see the figures above for what the varied settings do. A part uncertain in the plan, or design: one-at-a-time, adds it.")
	}
	uncertainty := chapter{Title: "Numerical uncertainty"}
	uncertainty.say("Every case is computed on one mesh. That of the base case follows from")
	uncertainty.command("muralheat run --refine -o FOLDER scenario.yaml")
	again := chapter{Title: "Version and reproduction"}
	var record struct {
		Program string `json:"program"`
		Digest  string `json:"digest"`
	}
	if b, err := os.ReadFile(filepath.Join(dir, sweepName)); err == nil {
		_ = json.Unmarshal(b, &record) // what is missing stays empty
	}
	again.table(sheet{Caption: "Program and plan", Head: []string{"what", "value"}, Rows: [][]string{{"program", record.Program}, {"digest of the plan", record.Digest}}})
	again.say("plan.yaml and scenario.yaml in this folder are copies of what was computed. The same program gives the same bytes again on the same kind of processor, whatever the number of workers:")
	again.command("muralheat sweep -o again plan.yaml")
	return []chapter{inShort(e, fmt.Sprintf("%d cases: %d passed, %d failed, %d doubtful.", t.Cases, len(t.point), t.failed, t.doubtful)), results, verified(e), uncertainty, sensitive, compared(e), limits(e.Notes), again}, nil
}
