package study

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"muralheat/scenarios/limit"
	"muralheat/scenarios/plan"
)

// Files of the folder of a search for a limit, beside plan.yaml and scenario.yaml.
const (
	LimitName = "limit.csv"
	MemoName  = "computed.txt" // what was computed, by which a folder is known to hold a search
)

// IsLimit reports whether dir is the folder of a search that came to its end.
func IsLimit(dir string) bool {
	for _, name := range []string{LimitName, MemoName} {
		if _, err := os.Stat(filepath.Join(dir, name)); err != nil {
			return false
		}
	}
	return true
}

// Limits are the limits of a plan as the folder of their search has them.
type Limits struct {
	Plan    *plan.Sweep
	Answers []limit.Answer // found again in what was computed
	Program string         // that computed
	Rows    [][]string     // limit.csv
	Differ  []int          // points of which limit.csv does not say what follows from what was computed
}

// ReadLimit reads the folder of a search and searches again in what it holds, computing nothing.
func ReadLimit(ctx context.Context, dir string) (l Limits, err error) {
	if l.Plan, err = plan.LoadWith(filepath.Join(dir, "plan.yaml"), filepath.Join(dir, "scenario.yaml"), nil, nil); err != nil {
		return l, err
	}
	if l.Plan.Limit == nil {
		return l, fmt.Errorf("%s: no part limit", filepath.Join(dir, "plan.yaml"))
	}
	value, program, err := limit.ReadMemo(filepath.Join(dir, MemoName), l.Plan.Limit.Column)
	if err != nil {
		return l, fmt.Errorf("%s: %w", filepath.Join(dir, MemoName), err)
	}
	l.Program = program
	if l.Answers, err = limit.Find(ctx, l.Plan, value, 1, nil); err != nil {
		return l, err
	}
	data, err := os.ReadFile(filepath.Join(dir, LimitName))
	if err != nil {
		return l, err
	}
	if l.Rows, err = csv.NewReader(bytes.NewReader(data)).ReadAll(); err != nil || len(l.Rows) == 0 {
		return l, fmt.Errorf("%s: not the table of limits: %v", filepath.Join(dir, LimitName), err)
	}
	if head := refinedHead(l.Plan); slices.Contains(l.Rows[0], head[0]) {
		if err := limit.Refine(ctx, l.Plan, l.Answers, value, 1); err != nil {
			return l, err
		}
	}
	ours, err := csv.NewReader(bytes.NewReader(LimitCSV(l.Plan, l.Answers))).ReadAll()
	if err != nil {
		return l, err
	}
	answer := slices.Index(ours[0], "answer")
	for n, row := range ours[1:] {
		if n+1 < len(l.Rows) && slices.Equal(l.Rows[0], ours[0]) {
			there := l.Rows[n+1]
			if slices.Equal(there, row) || there[answer] == string(limit.Failed) && row[answer] == there[answer] { // why is not kept
				continue
			}
		}
		l.Differ = append(l.Differ, n)
	}
	return l, nil
}
