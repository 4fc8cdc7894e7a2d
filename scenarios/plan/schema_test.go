package plan

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"reflect"
	"strings"
	"testing"

	"github.com/invopop/jsonschema"
	validator "github.com/santhosh-tekuri/jsonschema/v6"
	"go.yaml.in/yaml/v4"

	"muralheat/scenarios"
	"muralheat/scenarios/keys"
)

var update = flag.Bool("update", false, "write plan.schema.json anew")

func TestSchemaIsCurrent(t *testing.T) {
	r := jsonschema.Reflector{FieldNameTag: "yaml", RequiredFromJSONSchemaTags: true, ExpandedStruct: true, Anonymous: true,
		Mapper: func(of reflect.Type) *jsonschema.Schema { // a value of whatever kind the key takes
			if of == reflect.TypeFor[yaml.Node]() {
				return &jsonschema.Schema{}
			}
			return nil
		}}
	s := r.Reflect(&keys.PlanFile{})
	s.Title = "muralheat plan"
	s.Description = "Many cases of one scenario. " + scenarios.Caution
	want, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	want = append(want, '\n')
	if *update {
		if err := os.WriteFile("plan.schema.json", want, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if !bytes.Equal(want, Schema()) {
		t.Error("plan.schema.json is stale: run go generate ./scenarios/plan")
	}
}

// An independent validator takes every plan among the starter files and refuses what the
// program refuses.
func TestSchemaByAnotherProgram(t *testing.T) {
	doc, err := validator.UnmarshalJSON(bytes.NewReader(Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := validator.NewCompiler()
	c.DefaultDraft(validator.Draft2020)
	if err := c.AddResource("plan.json", doc); err != nil {
		t.Fatal(err)
	}
	s := c.MustCompile("plan.json")
	validate := func(text string) error {
		var v any
		if err := yaml.Load([]byte(text), &v); err != nil {
			t.Fatal(err)
		}
		j, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		doc, err := validator.UnmarshalJSON(bytes.NewReader(j))
		if err != nil {
			t.Fatal(err)
		}
		return s.Validate(doc)
	}
	all := scenarios.PlanExamples()
	for _, l := range scenarios.Lectures() {
		all = append(all, scenarios.Example{Name: l.Name, Text: l.File(scenarios.LecturePlan)})
	}
	for _, e := range all {
		if err := validate(string(e.Text)); err != nil {
			t.Errorf("%s: %v", e.Name, err)
		}
	}
	const sound = "title: T\nscenario: s.yaml\nvary: [{key: current.power_W, values: [1, two]}]\n"
	if err := validate(sound); err != nil {
		t.Error(err)
	}
	for old, new := range map[string]string{"title": "titel", "scenario: s.yaml": "seed: 1", "values: [1, two]": "values: []", "}]": "}]\ndesign: grit"} {
		if validate(strings.Replace(sound, old, new, 1)) == nil {
			t.Errorf("%s in place of %s is taken", new, old)
		}
	}
}
