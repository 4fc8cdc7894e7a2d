package procedure

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"reflect"
	"testing"

	"github.com/invopop/jsonschema"
	validator "github.com/santhosh-tekuri/jsonschema/v6"
	"go.yaml.in/yaml/v4"

	"muralheat/scenarios"
	"muralheat/scenarios/keys"
)

var update = flag.Bool("update", false, "write procedure.schema.json anew")

func TestSchemaIsCurrent(t *testing.T) {
	r := jsonschema.Reflector{FieldNameTag: "yaml", RequiredFromJSONSchemaTags: true, ExpandedStruct: true, Anonymous: true,
		Mapper: func(of reflect.Type) *jsonschema.Schema { // keys of a scenario, or the name of a file
			if of == reflect.TypeFor[yaml.Node]() {
				return &jsonschema.Schema{}
			}
			return nil
		}}
	s := r.Reflect(&keys.ProcedureFile{})
	s.Title = "muralheat procedure"
	s.Description = "Steps one after another, each with an electrode and a current of its own. " + scenarios.Caution
	want, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	want = append(want, '\n')
	if *update {
		if err := os.WriteFile("procedure.schema.json", want, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if !bytes.Equal(want, Schema()) {
		t.Error("procedure.schema.json is stale: run go generate ./scenarios/...")
	}
}

// An independent validator takes the starter files and refuses a key that there is not.
func TestSchemaByAnotherProgram(t *testing.T) {
	doc, err := validator.UnmarshalJSON(bytes.NewReader(Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := validator.NewCompiler()
	c.DefaultDraft(validator.Draft2020)
	if err := c.AddResource("procedure.json", doc); err != nil {
		t.Fatal(err)
	}
	compiled, err := c.Compile("procedure.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range scenarios.ProcedureExamples() {
		for _, more := range []string{"", "nonsense: 1\n"} {
			var v any
			if err := yaml.Load(append([]byte(more), e.Text...), &v); err != nil {
				t.Fatal(err)
			}
			text, err := json.Marshal(v)
			if err != nil {
				t.Fatal(err)
			}
			doc, err := validator.UnmarshalJSON(bytes.NewReader(text))
			if err != nil {
				t.Fatal(err)
			}
			if err := compiled.Validate(doc); (err == nil) != (more == "") {
				t.Errorf("%s, %q: %v", e.Name, more, err)
			}
		}
	}
}
