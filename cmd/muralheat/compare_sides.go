package main

import (
	"cmp"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"muralheat/output/chart"
	"muralheat/output/compare"
	"muralheat/output/record"
	"muralheat/output/report"
	"muralheat/scenarios"
	"muralheat/scenarios/keys"
	"muralheat/scenarios/plan"
)

// side is one of what is compared: the folder of a run, or a scenario to compute.
type side struct {
	title, name string
	folder      string
	scenario    *scenarios.Scenario
}

// sides are what is compared.
type sides struct {
	title, name string
	sources     []string
	sets        []scenarios.Set // in all scenarios
	list        []side
	figuresFor  string // of the first plan or scenario, if it says
	page        chart.Page
}

// sidesOf reads what words name.
func sidesOf(words []string, sets []scenarios.Set) (*sides, error) {
	s := &sides{title: "Side by side", sources: words, sets: sets}
	for _, word := range words {
		if err := s.add(word); err != nil {
			return nil, err
		}
	}
	if n := len(s.list); n < 2 || n > compare.Most {
		return nil, wrong("compare: %d cases in all; give 2 to %d scenario files, run folders or named cases of a plan", n, compare.Most)
	}
	s.name = s.list[0].name
	if len(words) == 1 {
		path, _, _ := strings.Cut(words[0], "#")
		s.name = folderFor(path)
	}
	s.tellApart()
	return s, nil
}

// add reads what a word names.
func (s *sides) add(word string) error {
	info, err := os.Stat(word)
	switch path, name, one := strings.Cut(word, "#"); {
	case err == nil && info.IsDir():
		return s.addRun(word)
	case err != nil && one:
		return s.addCases(path, name)
	}
	data, err := scenarios.Read(word, "scenario")
	if err != nil {
		return err
	}
	if err := noProcedure("compare", word, data); err != nil {
		return err
	}
	if keys.IsPlanText(word, data) {
		return s.addCases(word, "")
	}
	scenario, err := parseScenario(word, data, s.sets)
	if err != nil {
		return err
	}
	s.figuresFor = cmp.Or(s.figuresFor, scenario.FiguresFor())
	s.list = append(s.list, side{title: scenario.Title(), name: folderFor(word), scenario: scenario})
	return nil
}

func (s *sides) addRun(dir string) error {
	if !report.IsRun(dir) {
		return wrong("compare: %s is not the folder of a run; of a sweep name folders in %s", dir, filepath.Join(dir, "cases"))
	}
	if len(s.sets) > 0 {
		return wrong("compare: %s is computed already, so nothing can be set there; leave %s out, or give its scenario file", dir, setName)
	}
	m, err := compare.Load(dir, "")
	if err == nil {
		err = usable(dir)
	}
	if err != nil {
		return wrong("compare: %s; give the output folder of a run", strings.TrimPrefix(err.Error(), "output: "))
	}
	s.list = append(s.list, side{title: m.Title, name: filepath.Base(filepath.Clean(dir)), folder: dir})
	return nil
}

// usable is nil if the run in dir came to its end and passed its self-checks.
func usable(dir string) error {
	m, err := record.ReadManifest(dir)
	switch {
	case err != nil:
		return err
	case m.Failure != "":
		return fmt.Errorf("%s stopped early: %s", dir, m.Failure)
	case slices.ContainsFunc(m.Checks, func(k record.QuotedCheck) bool { return !k.OK }):
		return fmt.Errorf("%s did not pass its self-checks", dir)
	}
	return nil
}

// addCases adds the named cases of a plan, or one of them.
func (s *sides) addCases(path, name string) error {
	p, err := readPlan("compare", path, s.sets)
	switch {
	case err != nil:
		return err
	case !p.Named():
		return wrong("compare: %s has no named cases; give cases: [{name: ..., title: ..., set: {...}}, ...]", path)
	case p.Draws > 1:
		return wrong("compare: %s draws uncertain keys, so each of its cases is many; leave uncertain out, or compare the risk of two: muralheat compare --risk", path)
	}
	var names []string
	for i := range p.Len() {
		names = append(names, p.CaseName(i))
		if name != "" && p.CaseName(i) != name {
			continue
		}
		scenario, err := p.Scenario(i)
		if err != nil {
			return caseError(p, i, err)
		}
		s.title = p.Title
		s.figuresFor = cmp.Or(s.figuresFor, p.FiguresFor)
		s.list = append(s.list, side{title: p.CaseTitle(i), name: p.CaseName(i), scenario: scenario})
		if name != "" {
			return nil
		}
	}
	if name != "" {
		return wrong("compare: %s has no case %q; %s", path, name, guess(name, names, "it has "+strings.Join(names, ", ")))
	}
	return nil
}

// caseError says which case of a plan does not go together.
func caseError(p *plan.Sweep, i int, err error) error {
	var ps keys.Problems
	if errors.As(err, &ps) {
		return wrong("%s: case %s: %s: %s; %s", p.Name, p.CaseName(i), ps[0].Key, ps[0].Wrong, ps[0].Right)
	}
	return err
}

// tellApart adds the name to a title that comes twice, and a number to a name that does.
func (s *sides) tellApart() {
	titles, names := map[string]int{}, map[string]int{}
	for _, x := range s.list {
		titles[x.title]++
	}
	for i := range s.list {
		x := &s.list[i]
		if names[x.name]++; names[x.name] > 1 {
			x.name = fmt.Sprintf("%s-%d", x.name, names[x.name])
		}
		if titles[x.title] > 1 {
			x.title += " (" + x.name + ")"
		}
	}
}
