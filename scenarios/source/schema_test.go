package source

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"testing"

	"github.com/invopop/jsonschema"
	validator "github.com/santhosh-tekuri/jsonschema/v6"
	"go.yaml.in/yaml/v4"

	"muralheat/scenarios/keys"
)

var update = flag.Bool("update", false, "write sheet.schema.json anew")

func TestSchemaIsCurrent(t *testing.T) {
	r := jsonschema.Reflector{FieldNameTag: "yaml", RequiredFromJSONSchemaTags: true, ExpandedStruct: true, Anonymous: true}
	s := r.Reflect(&keys.SheetFile{})
	s.Title = "muralheat source sheet"
	s.Description = "What the generator of one person gives, as physics. For research and teaching, not for setting treatment; local protocol and licensed practice decide."
	want, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	want = append(want, '\n')
	if *update {
		if err := os.WriteFile("sheet.schema.json", want, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if !bytes.Equal(want, Schema()) {
		t.Error("sheet.schema.json is stale: run go generate ./scenarios/source")
	}
}

// An independent validator takes a sound sheet and refuses a key that there is not.
func TestSchemaByAnotherProgram(t *testing.T) {
	doc, err := validator.UnmarshalJSON(bytes.NewReader(Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := validator.NewCompiler()
	c.DefaultDraft(validator.Draft2020)
	if err := c.AddResource("sheet.json", doc); err != nil {
		t.Fatal(err)
	}
	compiled := c.MustCompile("sheet.json")
	for text, want := range map[string]bool{sound: true, sound + "    level: 3\n": false} {
		var v any
		if err := yaml.Load([]byte(text), &v); err != nil {
			t.Fatal(err)
		}
		j, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		in, err := validator.UnmarshalJSON(bytes.NewReader(j))
		if err != nil {
			t.Fatal(err)
		}
		if err := compiled.Validate(in); (err == nil) != want {
			t.Errorf("%v for\n%s", err, text)
		}
	}
}
