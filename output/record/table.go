package record

import (
	"fmt"
	"math"
	"strings"

	"muralheat/output/phrase"
	"muralheat/thermal"
)

const tableWidth = 80

// Report says on at most 80 columns what was computed and what came out.
func Report(run *Run, r *thermal.Result, dir string, files []string) string {
	var b strings.Builder
	title := r.Case.Title
	if title == "" {
		title = "Untitled scenario"
	}
	Paragraph(&b, "", title)
	Paragraph(&b, "  ", strings.Join(phrase.Setting(r), ", ")+".")
	if run.Failure != "" {
		b.WriteString("\n")
		Paragraph(&b, "", "STOPPED EARLY: "+run.Failure)
		Paragraph(&b, "", "What follows is the state at that time, to find out why; do not use it.")
	}
	b.WriteString("\n")
	Paragraph(&b, "", phrase.Verdict(r))
	for _, reason := range phrase.Reasons(r) {
		Paragraph(&b, "", reason)
	}
	scenes[r.Case.Scene()].lines(&b, r)
	b.WriteString("\n")
	layerLines(&b, r)
	b.WriteString("\n")
	if r.Case.Cuts() {
		cutLines(&b, r)
		b.WriteString("\n")
	}
	electricLines(&b, r)
	if run.Refinement != nil {
		b.WriteString("\n")
		run.Refinement.lines(&b, r)
	}
	b.WriteString("\nSelf-checks\n")
	for _, c := range Checks(r) {
		Paragraph(&b, "  ", c.String())
	}
	if notes := Remarks(run, r); len(notes) > 0 {
		b.WriteString("\nNotes\n")
		for _, n := range notes {
			Paragraph(&b, "  - ", n)
		}
	}
	if dir != "" {
		fmt.Fprintf(&b, "\nFiles in %s\n", dir)
		Paragraph(&b, "  ", strings.Join(files, "  "))
		b.WriteString("\nNext\n")
		Paragraph(&b, "  ", "muralheat guide results: what each file holds, what the numbers mean")
		Paragraph(&b, "  ", "muralheat run --refine: how far the mesh makes them uncertain")
		Paragraph(&b, "  ", "muralheat report FOLDER: the run written up for a reviewer")
	}
	b.WriteString("\n")
	Paragraph(&b, "", phrase.Caution)
	return b.String()
}

// layerLines gives one line per layer, with a bar for the injured share of it.
func layerLines(b *strings.Builder, r *thermal.Result) {
	const bar = 12
	fmt.Fprintf(b, "%-20s %15s %9s %10s  %s\n", "Layer", "depth mm", "max °C", "injured", "share of thickness")
	for i, l := range r.Summary.Layers {
		what := ""
		switch c := r.Case.Layers[i]; {
		case c.Muscle:
			what = " *"
		case c.Beyond:
			what = " (beyond)"
		case c.Above:
			what = " (above)"
		}
		if len(l.Name+what) > 20 && r.Case.Layers[i].Above { // its depths say so too
			what = ""
		}
		n := int(math.Ceil(bar*l.InjuredShare - 1e-9))
		if n < 0 || math.IsNaN(l.InjuredShare) {
			n = 0
		}
		n = min(n, bar)
		fmt.Fprintf(b, "%-20s %15s %9.1f %6.2f mm3  |%s%s| %.0f %%\n", clip(l.Name, 20-len(what))+what,
			fmt.Sprintf("%.2f to %.2f", 1e3*l.TopM, 1e3*l.BottomM), l.MaxC, 1e9*l.InjuredM3,
			strings.Repeat("#", n), strings.Repeat(".", bar-n), 100*l.InjuredShare)
	}
	if !math.IsNaN(r.Summary.MarginToMuscleM) {
		b.WriteString("* the muscle whose injury is judged\n")
	}
}

func electricLines(b *strings.Builder, r *thermal.Result) {
	s, e := r.Summary, r.Balance
	row := rowsOf(b)
	b.WriteString("Current and energy\n")
	row("delivered", "%s mean, %.1f J", phrase.Reached(r), e.ElectricJ)
	if e.LeadsJ > 0 {
		row("at the terminals", "%s W mean, %.1f J; %.1f J of it lost before the tissue", phrase.Short(phrase.TerminalPowerW(r)), e.TerminalJ, e.LeadsJ)
	}
	if e.HeldJ != 0 {
		row("held at the start", "%.1f J, from cases before on the same tissue", e.HeldJ)
	}
	row("current", "%.3g A RMS; heating factor of the neutral electrode %.3g A2 s", s.CurrentRMSA, s.HeatingFactorA2S)
	if !math.IsNaN(s.ResistanceStartOhm) {
		row("resistance", "%.0f ohm at the start, %.0f ohm at the end", s.ResistanceStartOhm, s.ResistanceEndOhm)
	}
	if s.ResistanceRise > 1.005 {
		row("resistance rise", "highest %s times the lowest", phrase.Short(s.ResistanceRise))
	}
	if !math.IsNaN(s.DryOutS) {
		row("dried out", "first at %s: no wet tissue touched the electrode", phrase.ShortTime(s.DryOutS))
	}
	if s.SparkShare > 0 {
		row("sparks", "for %s %% of the time with current", phrase.Short(100*s.SparkShare))
	}
	if s.LimitedShare > 0 {
		row("limited by the source", "for %s %% of the time with current", phrase.Short(100*s.LimitedShare))
	}
	row("highest peak voltage", "%.0f V, crest factor %.2f", s.PeakVoltageV, s.CrestFactor)
	parts := []struct {
		name string
		j    float64
	}{
		{"farther away in the body", e.FarJ}, {"in the tissue", e.StoredJ}, {"steam", e.SteamJ}, {"carbonisation", e.SmokeJ},
		{"removed tissue", e.RemovedJ}, {"cutting", e.CuttingJ}, {"blood", e.PerfusionJ}, {"electrode", e.ElectrodeJ}, {"surfaces", e.SurfacesJ},
	}
	var where []string
	for _, p := range parts {
		if total := e.HeldJ + e.ElectricJ + e.MetabolicJ; math.Abs(p.j) > 0.0005*math.Abs(total) {
			where = append(where, fmt.Sprintf("%s %.1f %%", p.name, 100*p.j/total))
		}
	}
	if len(where) > 0 {
		row("where it went", "%s", strings.Join(where, ", "))
	}
	row("computed with", "%d cells (%s), %d steps, %d field solutions", s.Cells, r.Mesh.Geometry, s.Steps, s.Solves)
}

// rowsOf returns a function that writes a name and what is to be said of it.
func rowsOf(b *strings.Builder) func(name, format string, a ...any) {
	return func(name, format string, a ...any) {
		Paragraph(b, fmt.Sprintf("  %-24s", name), fmt.Sprintf(format, a...))
	}
}

// Paragraph writes text broken at spaces to the width of the table, but not between a
// number and its unit; the first line starts with lead, the others are indented as far.
func Paragraph(b *strings.Builder, lead, text string) {
	line, empty := lead, true
	words := strings.Fields(text)
	for n := 0; n < len(words); n++ {
		w := words[n]
		for n+1 < len(words) && isDigit(w[len(w)-1]) {
			n++
			w += " " + words[n]
		}
		if !empty && len([]rune(line))+1+len([]rune(w)) > tableWidth {
			b.WriteString(strings.TrimRight(line, " ") + "\n")
			line, empty = strings.Repeat(" ", len([]rune(lead))), true
		}
		if !empty {
			line += " "
		}
		line, empty = line+w, false
	}
	b.WriteString(strings.TrimRight(line, " ") + "\n")
}

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// clip shortens s to n characters.
func clip(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n-1]) + "…"
	}
	return s
}
