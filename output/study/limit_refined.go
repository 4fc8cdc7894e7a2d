package study

import (
	"fmt"
	"math"
	"slices"

	"muralheat/output/record"
	"muralheat/scenarios/limit"
	"muralheat/scenarios/plan"
)

// refinedHead names the columns of what other meshes say of limits.
func refinedHead(s *plan.Sweep) []string {
	return []string{"numerical_error_of_" + s.Limit.Column, "refined_cases", "limit_in_spite_of_it_" + s.Limit.Key, "limit_at_best_" + s.Limit.Key}
}

func refinedCells(r *limit.Refined) []string {
	if r == nil {
		return []string{"", "", "", ""}
	}
	return []string{record.Number(r.Error), fmt.Sprint(r.Cases), record.Number(r.Sure), record.Number(r.Late)}
}

// refinedText says how far the numerical error moves a limit.
func refinedText(s *plan.Sweep, r *limit.Refined) string {
	sure := fmt.Sprintf("%.4g %s", r.Sure, s.Limit.Unit)
	if math.IsNaN(r.Sure) {
		sure = "none of what was tried"
	}
	return fmt.Sprintf("; %s there ± %s by two more meshes, so that the limit in spite of the numerical error is %s, at best %.4g %s", s.Limit.Column, record.Two(r.Error), sure, r.Late, s.Limit.Unit)
}

// limitNumerical says what is known of the numerical error of limits that were not refined; "" if they were.
func limitNumerical(s *plan.Sweep, answers []limit.Answer) string {
	if !slices.ContainsFunc(answers, func(a limit.Answer) bool {
		return a.Refined == nil && (a.Kind == limit.Found || a.Kind == limit.AllSafe)
	}) {
		return ""
	}
	text := "Numerical error not measured for these limits: muralheat limit --refine does it."
	first, err := s.Scenario(0)
	if err != nil || !isDepth(s.Limit.Column) {
		return text
	}
	c := first.Case()
	t := &SweepTable{sweepRecord: sweepRecord{Quality: c.Numerics.Quality, Moving: c.Motion.Moving()}}
	most := math.NaN()
	for _, g := range regimes {
		if e := t.tableBound(g).Error; !math.IsNaN(e) {
			most = max(e, record.OrElse(most, e))
		}
	}
	if math.IsNaN(most) {
		return text
	}
	return text + fmt.Sprintf(" Other cases of quality %s were off by up to %s mm (muralheat guide accuracy).", t.Quality, record.Two(most))
}
