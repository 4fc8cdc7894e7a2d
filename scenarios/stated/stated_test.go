package stated

import (
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"muralheat/scenarios/keys"
)

// Each credibility factor is a key of decision.goals, in the same order, and has words of its own for each gradation.
func TestFactorsAreGoals(t *testing.T) {
	var factors, goals []string
	for _, f := range Factors {
		factors = append(factors, f.Key)
		if f.Gradations[0] == f.Gradations[1] || f.Gradations[1] == f.Gradations[2] || f.Of("c") != f.Gradations[2] || f.Of("d") != "" || f.Category == "" {
			t.Errorf("%+v", f)
		}
	}
	for _, k := range keys.KeysOf(reflect.TypeFor[keys.Goals]()) {
		goals = append(goals, k.Name)
		if !slices.Equal(k.Choices, Grades) {
			t.Errorf("%s takes %v", k.Name, k.Choices)
		}
	}
	if !slices.Equal(factors, goals) {
		t.Errorf("factors %v, goals %v", factors, goals)
	}
}

// A log shows each statement with its time; whoever changes a word, a time or an order spoils it.
func TestLog(t *testing.T) {
	at := time.Date(2030, 1, 2, 3, 4, 5, 678, time.UTC)
	first := Statement{Decision: "which", Influence: "low", Consequence: "high", Goals: map[string]string{"use_error": "b"}}
	second := first
	second.Influence = "high"
	log := Log{}.Add(first, "d", 0, at).Add(first, "d", 3, at.Add(time.Hour)).Add(second, "d", 7, at.Add(2*time.Hour))
	if len(log.Entries) != 2 || log.Entries[1].Done != 7 || !log.Whole() {
		t.Fatalf("%+v", log)
	}
	dir := t.TempDir()
	text := string(log.Encode())
	for _, change := range [][2]string{{"", ""}, {`"which"`, `"what"`}, {"2030-01-02T03", "2030-01-02T02"}, {`"cases_done": 7`, `"cases_done": 0`}, {`"use_error": "b"`, `"use_error": "a"`}} {
		if err := os.WriteFile(filepath.Join(dir, LogName), []byte(strings.Replace(text, change[0], change[1], 1)), 0o644); err != nil {
			t.Fatal(err)
		}
		back, err := Read(dir)
		if err != nil {
			t.Fatal(err)
		}
		if back.Whole() != (change[0] == "") {
			t.Errorf("%v: whole %v", change, back.Whole())
		}
	}
	if none, err := Read(t.TempDir()); err != nil || none.Entries != nil || !none.Whole() {
		t.Errorf("no log: %+v, %v", none, err)
	}
}
