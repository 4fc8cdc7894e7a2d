package record

import (
	"strings"
	"testing"

	"go.yaml.in/yaml/v4"

	"muralheat/thermal"
)

// Lengths of one electrode alone stand beside the others in result.yaml, where records of 0.3.0 have them.
func TestOwnLengthsOfARecord(t *testing.T) {
	var c thermal.Case
	if err := yaml.Load([]byte("electrode:\n  tip: loop\n  tipradiusm: 0.004\n  heightm: 0.003\n  innerradiusm: 0\n"), &c); err != nil {
		t.Fatal(err)
	}
	if e := c.Electrode; e.HeightM() != 0.003 || e.InnerRadiusM() != 0 || e.TipRadiusM != 0.004 {
		t.Errorf("read %+v", e)
	}
	c.Electrode = thermal.Electrode{Tip: thermal.Pad, Own: thermal.Own{thermal.PadInner: 0.02}}
	text, err := yaml.Dump(c)
	if err != nil {
		t.Fatal(err)
	}
	var back thermal.Case
	if err := yaml.Load(text, &back); err != nil || back.Electrode.InnerRadiusM() != 0.02 {
		t.Errorf("%v: read back %+v", err, back.Electrode)
	}
}

// What a case is repeated is in its record and its table, and a case of one activation says nothing of it.
func TestRepeatOfARecord(t *testing.T) {
	names := func(c *thermal.Case) (n int) {
		for _, col := range SummaryColumns(c) {
			if col.Name == "activations" || col.Name == "pause_s" {
				n++
			}
		}
		return n
	}
	c := thermal.Case{Layers: []thermal.Layer{{Name: "wall", ThicknessM: 1e-3}}, Electrode: thermal.Electrode{Tip: thermal.Disc}}
	once, err := yaml.Dump(c)
	if err != nil || strings.Contains(string(once), "repeat") || strings.Contains(string(once), "fromm") || names(&c) != 0 {
		t.Errorf("%v: %s", err, once)
	}
	c.Repeat = thermal.Repeat{Times: 3, PauseS: 4, BackAndForth: true}
	text, err := yaml.Dump(c)
	if err != nil {
		t.Fatal(err)
	}
	var back thermal.Case
	if err := yaml.Load(text, &back); err != nil || back.Repeat != c.Repeat || names(&c) != 2 {
		t.Errorf("%v: read back %+v", err, back.Repeat)
	}
}
