package report

import (
	"fmt"
	"runtime/debug"
	"slices"
	"strings"

	"muralheat/output/record"
	"muralheat/output/study"
	"muralheat/scenarios/batch"
	"muralheat/scenarios/experiments"
	"muralheat/scenarios/stated"
	"muralheat/thermal"
	"muralheat/thermal/checks"
)

// Evidence is what a credibility report says besides what the folder holds, from the
// program that writes it.
type Evidence struct {
	Build       *debug.BuildInfo
	Binary      string // SHA-256 of the program's file
	Verified    []checks.Ran
	Experiments []experiments.Result // as computed last
	Recomputed  *Recomputed          // nil: not asked for
}

// dossier is what a report is made of.
type dossier struct {
	Evidence
	title, question, use string
	settings             []record.Setting
	c                    *thermal.Case   // of a sweep the first,
	cases                []*thermal.Case // of all
	notes                []string
	regime               regime
	findings             []record.Finding // of the folder, compared with itself
	log                  stated.Log
	said                 stated.Statement // that the report grades against

	source       string // that the program which computed was built from
	traced       bool   // a commit, unchanged
	refined      string // what run --refine says; "" if it was not asked
	discretised  grade
	balanced     bool   // self-checks hold
	balances     string // what they say
	sensitive    bool
	draws        int
	alternatives []string // to the form of the model, computed beside
}

// state sets what was stated: as the folder has it on record, else as it states now.
func (b *dossier) state(log stated.Log, now stated.Statement, of string) {
	b.log, b.said = log, now
	if len(log.Entries) > 0 {
		b.said = log.Entries[0].Statement
	}
	b.findings = append(b.findings, statedFinding(log, now, of), b.Recomputed.finding())
}

// statementOf reads what a scenario states off its settings.
func statementOf(settings []record.Setting) stated.Statement {
	var s stated.Statement
	to := map[string]*string{"question": &s.Question, "context_of_use": &s.ContextOfUse, "decision.for": &s.Decision, "decision.influence": &s.Influence, "decision.influence_because": &s.InfluenceBecause,
		"decision.consequence": &s.Consequence, "decision.consequence_because": &s.ConsequenceBecause}
	for _, x := range settings {
		if p := to[x.Key]; p != nil {
			*p = x.Value
		}
		if goal, ok := strings.CutPrefix(x.Key, "decision.goals."); ok {
			if s.Goals == nil {
				s.Goals = map[string]string{}
			}
			s.Goals[goal] = x.Value
		}
	}
	if !s.Made() {
		return stated.Statement{}
	}
	return s
}

// ofRun gathers what the folder of a run is evidence of.
func (b *dossier) ofRun(dir string, m record.Manifest, r *thermal.Result) error {
	log, err := stated.Read(dir)
	if err != nil {
		return fmt.Errorf("output: %w", err)
	}
	b.findings = record.Intact(dir, m, r)
	b.state(log, statementOf(m.Settings), record.Digest([]byte(m.Scenario.Resolved)))
	b.regime = newRegime(record.PlaceOf(r, m.Settings), b.Experiments)
	b.source, b.traced = m.Program.Source(), isCommit(m.Program.Commit) && m.Program.Modified == "no"
	b.balances, b.balanced = selfChecked(m), m.Failure == "" && !slices.ContainsFunc(m.Checks, func(c record.QuotedCheck) bool { return !c.OK })
	b.discretised = grade{reached(b.refined != "", false), whenElse(b.refined != "", b.refined, "not computed for this case")}
	for _, k := range r.Case.Damage.Also {
		b.alternatives = append(b.alternatives, "damage kinetics "+k.Name)
	}
	return nil
}

// ofSweep gathers what the folder of a sweep is evidence of, and returns who computed it; cases says how they fared.
func (b *dossier) ofSweep(dir string, t *study.SweepTable, meta sweepMeta, p Planned, cases string) ([]batch.Session, error) {
	kept, err := meta.sinceThen(dir, p)
	if err != nil {
		return nil, err
	}
	sessions, err := batch.Sessions(dir)
	if err != nil {
		return nil, err
	}
	log, err := stated.Read(dir)
	if err != nil {
		return nil, err
	}
	b.findings = slices.Concat(kept, p.Findings)
	b.state(log, p.Stated, meta.Digest)
	b.regime = newRegime(p.Place, b.Experiments)
	b.source, b.traced = builtFrom(sessions)
	b.balances, b.balanced = cases, t.Failed+t.Doubtful == 0
	b.discretised = grade{reached(b.refined != "", t.Quality != ""), "not known"}
	switch {
	case b.refined != "":
		b.discretised.evidence = b.refined
	case t.Quality != "":
		b.discretised.evidence = "carried over from other sweeps of quality " + t.Quality + ": section “Numerical uncertainty”"
	}
	b.draws = t.Draws
	for _, in := range t.Inputs {
		if strings.HasPrefix(in.Key, "physics.") || strings.HasPrefix(in.Key, "damage.") {
			b.alternatives = append(b.alternatives, in.Key)
		}
	}
	return sessions, nil
}
