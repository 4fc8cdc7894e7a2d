package procedure

import (
	"os"
	"testing"
)

func TestTry(t *testing.T) {
	data, _ := os.ReadFile("../examples/procedure-stomach.yaml")
	p, err := Parse("p.yaml", data, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range p.Steps {
		t.Logf("%+v", s)
	}
	s, err := Plan("x", []*Procedure{p})
	if err != nil {
		t.Fatal(err)
	}
	t.Log(string(s.Text()))
	d, err := Drawn("x", []*Procedure{p}, 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, i := range d.Inputs {
		t.Log(i)
	}
}
