package procedure

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/thermal"
	"muralheat/thermal/drive"
)

// shown are the columns of a result that the table has, in order.
var shown = []string{
	"set_power_W", "mean_power_W", "terminal_energy_J", "energy_J", "heating_factor_A2s", "wall_mm", record.DepthColumn, record.MarginColumn, "muscle_injured_percent",
	"deepest_layer", "kerf_width_mm", "injury_beside_cut_mm", "injury_half_width_mm", "removed_depth_mm", "dried_depth_mm", "dry_out_s", "spark_share", "limited_percent",
	"resistance_start_ohm", "resistance_end_ohm", record.RemarkColumn,
}

// CSV returns a row for each step of each procedure. Results are those of one time.
func (r *Record) CSV() []byte {
	head := []string{"procedure", "step", "title", "wall_changes", "times", "pause_s", "rest_s", "time_with_current_s", "on_place_of"}
	head = append(head, shown...)
	drawn := r.Drawn != ""
	if drawn {
		head = append(head, "muscle_reached_percent", "muscle_reached_low_percent", "muscle_reached_high_percent", "draws")
	}
	rows := [][]string{append(head, "failed", "folder")}
	for _, l := range r.Procedures {
		for _, s := range l.Steps {
			row := []string{record.Guarded(l.Title), fmt.Sprint(s.Number), record.Guarded(s.Title), record.Guarded(s.Wall), "", "", record.Number(s.RestS), "", ""}
			if s.Name != "" {
				row[4], row[5] = fmt.Sprint(s.Times), record.Number(s.PauseS)
			}
			if s.Result != nil {
				row[7], row[8] = record.Number(toMicro(flowS(Flows(s.Result)))), record.Guarded(s.onPlaceOf())
			}
			for _, name := range shown {
				row = append(row, s.cell(name))
			}
			if drawn && s.Name != "" {
				row = append(row, record.Number(s.Reach.Percent), record.Number(s.Reach.Low), record.Number(s.Reach.High), fmt.Sprint(s.Reach.Draws))
			} else if drawn {
				row = append(row, "", "", "", "")
			}
			rows = append(rows, append(row, record.Guarded(s.Failed), record.Guarded(s.Folder)))
		}
	}
	return record.Table(rows)
}

// onPlaceOf is the title of the step before it on its place, "" on a fresh one.
func (s *Step) onPlaceOf() string {
	if b := s.Result.Case.Before; len(b) > 0 {
		return b[len(b)-1].Title
	}
	return ""
}

// flowS is how long the current of activations flows, s.
func flowS(spans []drive.Span) float64 {
	sum := 0.0
	for _, x := range spans {
		sum += x.OnS
	}
	return sum
}

// toMicro rounds seconds to a microsecond, so that 26.7 s do not print as 26.700000000000003.
func toMicro(s float64) float64 { return math.Round(1e6*s) / 1e6 }

// cell returns what a table has of a column; "" if the result has no such column.
func (s *Step) cell(name string) string {
	if s.Result == nil {
		return ""
	}
	columns := record.SummaryColumns(s.Result.Case)
	if i := slices.IndexFunc(columns, func(c record.Column) bool { return c.Name == name }); i >= 0 {
		return columns[i].Cell(s.Result)
	}
	return ""
}

// totals are what a whole procedure comes to.
type totals struct {
	activations                int
	withCurrentS, wholeS       float64
	energyJ, heatingFactorA2S  float64
	leastMarginM               float64 // NaN without one
	leastMargin                string  // title of the step
	padMeanRiseK, padMostRiseK float64 // NaN without a pad
}

func (l *List) totals() totals {
	t := totals{leastMarginM: math.NaN(), padMeanRiseK: math.NaN(), padMostRiseK: math.NaN()}
	t.activations, t.withCurrentS, t.wholeS = l.activations()
	for _, s := range l.Steps {
		if s.Result == nil {
			continue
		}
		t.energyJ += float64(s.Times) * s.Result.Balance.ElectricJ
		t.heatingFactorA2S += float64(s.Times) * s.Result.Summary.HeatingFactorA2S
		if m := s.Result.Summary.MarginToMuscleM; !math.IsNaN(m) && !(m >= t.leastMarginM) {
			t.leastMarginM, t.leastMargin = m, s.Title
		}
	}
	if p := l.PadResult; p != nil {
		t.padMeanRiseK, t.padMostRiseK = p.Summary.Pad.MeanRiseK, p.Summary.Pad.HighestRiseK
	}
	return t
}

// TotalsCSV returns a row for each procedure.
func (r *Record) TotalsCSV() []byte {
	head := []string{"procedure", "steps", "activations", "time_with_current_s", "whole_s", "energy_J", "heating_factor_A2s", "least_margin_to_muscle_mm", "least_margin_step", record.RiseColumn, "highest_rise_K"}
	if r.Drawn != "" {
		head = append(head, "muscle_reached_by_any_percent", "muscle_reached_by_any_low_percent", "muscle_reached_by_any_high_percent", "draws")
	}
	rows := [][]string{head}
	for _, l := range r.Procedures {
		t := l.totals()
		row := []string{record.Guarded(l.Title), fmt.Sprint(len(l.Steps)), fmt.Sprint(t.activations), record.Number(toMicro(t.withCurrentS)), record.Number(toMicro(t.wholeS)), record.Number(t.energyJ),
			record.Number(t.heatingFactorA2S), record.Number(math.Round(1e12*t.leastMarginM) / 1e9), record.Guarded(t.leastMargin), record.Number(t.padMeanRiseK), record.Number(t.padMostRiseK)}
		if r.Drawn != "" {
			row = append(row, record.Number(l.AnyReach.Percent), record.Number(l.AnyReach.Low), record.Number(l.AnyReach.High), fmt.Sprint(l.AnyReach.Draws))
		}
		rows = append(rows, row)
	}
	return record.Table(rows)
}

// Report says on a terminal what came out.
func (r *Record) Report() string {
	var b strings.Builder
	record.Paragraph(&b, "", r.Title)
	list, risky := r.Riskiest()
	for n, l := range r.Procedures {
		b.WriteString("\n")
		if len(r.Procedures) > 1 {
			record.Paragraph(&b, "", fmt.Sprintf("%c. %s", 'A'+n, l.Title))
		}
		for i, s := range l.Steps {
			record.Paragraph(&b, "    ", fmt.Sprintf("%2d. %s", s.Number, s.line(n == list && i == risky)))
			if s.Result == nil {
				continue
			}
			for _, reason := range phrase.Reasons(s.Result)[:min(1, len(phrase.Reasons(s.Result)))] {
				record.Paragraph(&b, "      ", "      "+reason)
			}
		}
		for _, line := range l.sums() {
			record.Paragraph(&b, "    ", "    "+line)
		}
	}
	return b.String()
}

// line says what a step did.
func (s *Step) line(riskiest bool) string {
	text := s.Title
	if s.Wall != "" {
		text += " (" + s.Wall + ")"
	}
	switch {
	case s.Name == "":
		return text + ": no current."
	case s.Result == nil:
		return text + ": no result: " + s.Failed
	}
	if s.Times > 1 {
		text += fmt.Sprintf(", %d times", s.Times)
	}
	if n := s.Result.Case.Activations(); n > 1 {
		text += fmt.Sprintf(", %d activations on one place", n)
	}
	if before := s.onPlaceOf(); before != "" {
		text += fmt.Sprintf(", on the place of %q", before)
	}
	text += ": " + s.outcome() + ", " + phrase.Delivered(s.Result) + " delivered, " + phrase.Short(s.Result.Balance.ElectricJ) + " J"
	if s.Times > 1 {
		text += " each"
	}
	if s.Reach.Draws > 0 {
		text += "; " + s.Reach.text()
	}
	if riskiest {
		text += ". LEAST MARGIN OF ALL STEPS"
	}
	return text + "."
}

// outcome is the depth and what it leaves.
func (s *Step) outcome() string {
	if s.Result.Case.Scene() == thermal.OnWall && !(s.Result.Summary.InjuryDepthM > 0) {
		return "no injury"
	}
	text := phrase.Answer(s.Result)
	if m := phrase.MarginWord(s.Result.Summary); m != "" {
		text += ", " + m
	}
	return text
}

// text says how probable it is that the muscle is reached.
func (s Share) text() string {
	return fmt.Sprintf("reaches the muscle in %.0f %% of %d draws (95 %% interval %.0f to %.0f %%)", s.Percent, s.Draws, s.Low, s.High)
}

// sums says what the whole list comes to.
func (l *List) sums() []string {
	t := l.totals()
	lines := []string{fmt.Sprintf("In all: %d activations, %s s with current within %s s, %s J, heating factor %s A2 s.", t.activations, phrase.Short(t.withCurrentS), phrase.Short(t.wholeS), phrase.Short(t.energyJ), phrase.Short(t.heatingFactorA2S))}
	if l.PadResult != nil {
		lines = append(lines, "Neutral electrode under the whole list: "+lower(phrase.Verdict(l.PadResult)))
	}
	if l.AnyReach.Draws > 0 {
		lines = append(lines, fmt.Sprintf("Some step %s.", l.AnyReach.text()))
	}
	return lines
}

func lower(s string) string { return strings.ToLower(s[:1]) + s[1:] }
