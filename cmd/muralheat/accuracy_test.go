package main

import (
	"encoding/csv"
	"fmt"
	"os"
	"strings"
	"testing"
)

// The guide repeats the errors that sweeps take where nothing was measured.
func TestGuideHasDepthErrors(t *testing.T) {
	page, err := os.ReadFile("guide/accuracy.md")
	if err != nil {
		t.Fatal(err)
	}
	f, err := os.Open("../../output/study/numerical.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	line, order := map[string]string{}, []string{}
	for _, r := range rows[1:] { // quality, regime, cases, error
		if line[r[1]] == "" {
			order = append(order, r[1])
			line[r[1]] = fmt.Sprintf("| %s | %s |", r[1], r[2])
		}
		line[r[1]] += " " + r[3] + " |"
	}
	for _, regime := range order {
		if !strings.Contains(string(page), line[regime]+"\n") {
			t.Errorf("guide/accuracy.md has no row %s", line[regime])
		}
	}
}
