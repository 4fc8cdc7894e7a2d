package scenarios_test

import (
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"muralheat/output/phrase"
	"muralheat/output/record"
	"muralheat/scenarios"
	"muralheat/scenarios/plan"
	"muralheat/thermal"
)

// Every lecture has its three files, a page with each part that a teacher needs, and the caution in each file.
func TestLectures(t *testing.T) {
	if n := len(scenarios.Lectures()); n != 10 {
		t.Errorf("%d lectures", n)
	}
	for _, l := range scenarios.Lectures() {
		for _, f := range l.Files {
			for _, words := range []string{"Invented data", "not for setting treatment", "licensed practice"} {
				if !strings.Contains(string(f.Text), words) {
					t.Errorf("%s/%s does not say %q", l.Name, f.Name, words)
				}
			}
		}
		page := string(l.File(scenarios.LecturePage))
		for _, part := range []string{"# " + l.Title() + "\n", "\n## Ask first\n", "\n## Show\n", "-o " + l.Name + "/figure " + l.Name + "/plan.yaml\n", "\n## Answer\n", "\n## What the model leaves out\n"} {
			if !strings.Contains(page, part) {
				t.Errorf("%s: no %q", l.Name, part)
			}
		}
		if len(l.Files) != 3 || len(l.Title()) < 5 || len(answers(t, l)) < 2 {
			t.Errorf("%s: %d files, title %q, %d answers", l.Name, len(l.Files), l.Title(), len(answers(t, l)))
		}
		if _, err := planOf(l); err != nil {
			t.Error(l.Name, err)
		}
	}
}

// planOf reads the plan of a lecture, on a draft mesh.
func planOf(l scenarios.Lecture) (*plan.Sweep, error) {
	return plan.Parse(l.Name+"/"+scenarios.LecturePlan, l.File(scenarios.LecturePlan), func(file string) (*scenarios.Scenario, error) {
		text := string(l.File(filepath.Base(file)))
		if !strings.Contains(text, "\nnumerics: {quality: draft}") {
			text += "numerics: {quality: draft}\n"
		}
		return scenarios.Parse(file, []byte(text))
	})
}

// answer is a row of the table in a page: a column of the results, and the cases in which it is more than in those
// after them, by so much at least; or the same in all, within so much.
type answer struct {
	column string
	cases  []string
	same   bool
	by     float64
}

var answerRow = regexp.MustCompile("(?m)^\\| `([a-zA-Z0-9_]+)` \\| (.*) \\| at (least|most) ([0-9.]+) \\|$")

// answers reads the table of the answer; a row that cannot be read fails the test.
func answers(t *testing.T, l scenarios.Lecture) (all []answer) {
	t.Helper()
	page := string(l.File(scenarios.LecturePage))
	for _, m := range answerRow.FindAllStringSubmatch(page, -1) {
		a := answer{column: m[1], same: m[3] == "most"}
		sign := " > "
		if a.same {
			sign = " = "
		}
		a.cases = strings.Split(m[2], sign)
		a.by, _ = strconv.ParseFloat(m[4], 64)
		if len(a.cases) < 2 || !(a.by > 0) {
			t.Errorf("%s: %s", l.Name, m[0])
		}
		all = append(all, a)
	}
	if n := strings.Count(page, "\n| `"); n != len(all) {
		t.Errorf("%s: %d of %d rows of the answer can be read", l.Name, len(all), n)
	}
	return all
}

// What each lecture says of its figure holds on a draft mesh, and where the source did not deliver what was set, its
// page speaks of the limit.
func TestLecturesAnswer(t *testing.T) {
	if testing.Short() {
		t.Skip("runs thirty cases")
	}
	for _, l := range scenarios.Lectures() {
		t.Run(l.Name, func(t *testing.T) {
			t.Parallel()
			p, err := planOf(l)
			if err != nil {
				t.Fatal(err)
			}
			if c := p.Base.Case(); c.Cuts() && c.Scene() == thermal.OnWall && os.Getenv("MURALHEAT_LONG") == "" {
				t.Skip("a needle that cuts takes seconds: set MURALHEAT_LONG=1, as .ci/run does")
			}
			results := map[string]*thermal.Result{}
			for i := range p.Len() {
				r := computed(t, p, i)
				results[p.CaseTitle(i)] = r
				if phrase.FellShort(r.Summary.MeanPowerW, phrase.SetPowerW(r)) && !strings.Contains(string(l.File(scenarios.LecturePage)), "limit") {
					t.Errorf("%s: %s, and the page does not say so", p.CaseTitle(i), phrase.Remark(r))
				}
			}
			for _, a := range answers(t, l) {
				a.check(t, results)
			}
		})
	}
}

// computed is the result of case i of a plan.
func computed(t *testing.T, p *plan.Sweep, i int) *thermal.Result {
	t.Helper()
	s, err := p.Scenario(i)
	if err != nil {
		t.Fatal(err)
	}
	c := s.Case()
	r, err := thermal.Simulate(context.Background(), &c, thermal.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// check holds the answer to the results, by the titles of their cases.
func (a answer) check(t *testing.T, results map[string]*thermal.Result) {
	t.Helper()
	var values []float64
	for _, name := range a.cases {
		r := results[name]
		if r == nil {
			t.Fatalf("no case %q", name)
		}
		found := false
		for _, c := range record.SummaryColumns(r.Case) {
			if c.Name == a.column && c.Number != nil {
				values, found = append(values, c.Number(r)), true
			}
		}
		if !found {
			t.Fatalf("%s: no column %s", name, a.column)
		}
	}
	t.Logf("%s: %.4g in %s", a.column, values, strings.Join(a.cases, ", "))
	for i := range values[1:] {
		d := values[i] - values[i+1]
		switch {
		case a.same && !(d <= a.by && d >= -a.by):
			t.Errorf("%s is %.4g in %q and %.4g in %q; should be the same within %g", a.column, values[i], a.cases[i], values[i+1], a.cases[i+1], a.by)
		case !a.same && !(d >= a.by):
			t.Errorf("%s is %.4g in %q and %.4g in %q; should be more in the first by %g", a.column, values[i], a.cases[i], values[i+1], a.cases[i+1], a.by)
		}
	}
}
