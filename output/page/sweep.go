package page

import (
	"fmt"
	"math"
	"strings"

	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/output/study"
	"muralheat/scenarios/batch"
	"muralheat/thermal"
)

// ofSweep makes the page of a sweep from its table, and from what it keeps in full.
func ofSweep(dir string) (*Page, error) {
	t, err := study.ReadSweep(dir)
	if err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	if len(t.Case) > most {
		return nil, fmt.Errorf("output: %s has %d cases; a page has at most %d", dir, len(t.Case), most)
	}
	p, err := batch.Load(dir)
	if err != nil {
		return nil, fmt.Errorf("output: %w", err)
	}
	b := &builder{page: &Page{Title: t.Title, Notes: t.LeftOut(), Invented: invented(string(p.Text())) || invented(string(p.Base.Text()))}}
	choices := t.Choices()
	for _, c := range choices {
		var levels []string
		for _, l := range c.Levels {
			levels = append(levels, clean(l))
		}
		b.page.Choices = append(b.page.Choices, Choice{clean(c.Title), levels, c.Words})
	}
	for row, number := range t.Case {
		scenario, err := p.Scenario(number)
		if err != nil {
			return nil, fmt.Errorf("output: %s: case %d: %w", dir, number, err)
		}
		problem := scenario.Case()
		told := fromRow(t, row, &problem)
		c := Case{At: []int{}, Set: strings.Join(phrase.Set(&problem), ", ") + "."}
		var names []string
		for _, choice := range choices {
			l := choice.Of[row]
			c.At = append(c.At, l)
			if l >= 0 {
				names = append(names, choice.Levels[l])
			}
		}
		c.Name = strings.Join(names, ", ")
		why := ""
		if t.Remark != nil {
			why = t.Remark[row]
		}
		var kept *thermal.Result
		if path := t.KeptPath(dir, row); path != "" {
			if kept, err = record.Load(path); err != nil {
				return nil, err
			}
			if depth := inMM(kept.Summary.InjuryDepthM); math.Abs(depth-inMM(told.Summary.InjuryDepthM)) > 1e-6 {
				return nil, fmt.Errorf("output: %s: injury depth %g mm, but %g mm in %s: not the case of that table", path, depth, inMM(told.Summary.InjuryDepthM), study.ResultName)
			}
		}
		b.add(told, kept, c, why)
	}
	return b.done()
}

// fromRow returns what a row of results.csv tells of a result: what verdicts are made of.
func fromRow(t *study.SweepTable, row int, c *thermal.Case) *thermal.Result {
	at := func(column string) float64 { return phrase.At(t.Column[column], row) }
	r := &thermal.Result{Case: c}
	s := &r.Summary
	s.InjuryDepthM, s.MarginToMuscleM = at(record.DepthColumn)/1e3, at(record.MarginColumn)/1e3
	s.MuscleInjuredShare, s.Transmural = at(study.ShareColumn)/100, at(study.TransmuralColumn) == 1
	s.Stalk.CutThroughS, s.Stalk.RingRadiusM = at(study.CutColumn), at(study.RingColumn)/1e3
	s.Pad.MeanRiseK = at(record.RiseColumn)
	s.MeanPowerW, r.Balance.ElectricJ = at(study.DeliveredColumn), at(study.EnergyColumn)
	r.Balance.TerminalJ, r.Balance.LeadsJ = at(study.TerminalColumn), at(study.LeadsColumn)
	return r
}
