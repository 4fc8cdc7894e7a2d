package scenarios

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

	"muralheat/scenarios/keys"
)

var update = flag.Bool("update", false, "write scenario.schema.json anew")

// generate makes the schema from the types of File.
func generate(t *testing.T) []byte {
	r := jsonschema.Reflector{FieldNameTag: "yaml", RequiredFromJSONSchemaTags: true, ExpandedStruct: true, Anonymous: true}
	s := r.Reflect(&keys.File{})
	s.Title = "muralheat scenario"
	s.Description = "A high-frequency burn in a layered gut wall. " + Caution
	root := *s
	for _, of := range []any{keys.File{}, keys.Wall{}, keys.Layer{}, keys.Material{}, keys.Cushion{}, keys.Beyond{}, keys.Lumen{}, keys.Electrode{}, keys.Motion{}, keys.Current{}, keys.Mode{}, keys.Limits{}, keys.LoadPoint{}, keys.Pulses{}, keys.Body{}, keys.Physics{}, keys.Damage{}, keys.Domain{}, keys.Probe{}, keys.Numerics{}} {
		def := s.Definitions[reflect.TypeOf(of).Name()]
		if def == nil {
			def = &root
		}
		for _, k := range keys.KeysOf(reflect.TypeOf(of)) {
			p, ok := def.Properties.Get(k.Name)
			if !ok {
				t.Fatalf("no property %s of %T", k.Name, of)
			}
			if more := k.Explained(); more != "" {
				p.Description += " " + more
			}
			if k.From != "" { // tags cannot hold what the library offers
				if p.Items != nil {
					p = p.Items
				}
				for _, c := range k.Choices {
					p.Enum = append(p.Enum, c)
				}
			}
		}
	}
	text, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	return append(text, '\n')
}

func TestSchemaIsCurrent(t *testing.T) {
	want := generate(t)
	if *update {
		if err := os.WriteFile("scenario.schema.json", want, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if !bytes.Equal(want, Schema()) {
		t.Error("scenario.schema.json is stale: run go generate ./scenarios")
	}
}

// compiled is the schema as an independent validator reads it.
func compiled(t *testing.T) *validator.Schema {
	doc, err := validator.UnmarshalJSON(bytes.NewReader(Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := validator.NewCompiler()
	c.DefaultDraft(validator.Draft2020)
	if err := c.AddResource("scenario.json", doc); err != nil {
		t.Fatal(err)
	}
	return c.MustCompile("scenario.json")
}

func validate(t *testing.T, s *validator.Schema, text []byte) error {
	var v any
	if err := yaml.Load(text, &v); err != nil {
		t.Fatal(err)
	}
	// Through JSON, so that the numbers are of the kind the validator knows.
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

func TestSchemaAcceptsExamples(t *testing.T) {
	s := compiled(t)
	all := Examples()
	for _, l := range Lectures() {
		all = append(all, Example{l.Name, l.File("scenario.yaml")})
	}
	for _, e := range all {
		if err := validate(t, s, e.Text); err != nil {
			t.Errorf("%s: %v", e.Name, err)
		}
		sc, err := e.Scenario()
		if err != nil {
			t.Fatal(err)
		}
		if err := validate(t, s, sc.ResolvedYAML()); err != nil {
			t.Errorf("%s, resolved: %v", e.Name, err)
		}
	}
}

func TestSchemaRefuses(t *testing.T) {
	s := compiled(t)
	for _, text := range []string{sound, strings.Replace(sound, end, end+"  limits: {load_line: [{resistance_ohm: 100, power_W: 30}]}\n"+pulsed+", between: {burst_power_W: 6}}\n", 1)} {
		if err := validate(t, s, []byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []spoilt{
		{"unknown key", "radius_mm", "raduis_mm", "additional properties 'raduis_mm'"},
		{"missing key", "  radius_mm: 1\n", "", "missing property 'radius_mm'"},
		{"range", "power_W: 10", "power_W: -10", "minimum"},
		{"type", "power_W: 10", "power_W: ten", "want number"},
		{"choice", "tip: disc", "tip: disk", "must be one of"},
		{"library", "site: rectum", "site: rektum", "must be one of"},
		{"list of the library", end, end + "damage: {also: [nothing]}\n", "must be one of"},
		{"name", end, end + "probes: [{name: a b, z_mm: 1}]\n", "pattern"},
		{"load line", end, end + "  limits: {load_line: [{resistance_ohm: 100}]}\n", "missing property 'power_W'"},
		{"pulses", end, end + "  pulses: {length_ms: 50, period_ms: 600, between: {power: 6}}\n", "additional properties 'power'"},
		{"open end", "site: rectum", "thickness_mm: 0", "exclusiveMinimum"},
	} {
		err := validate(t, s, []byte(strings.Replace(sound, c.old, c.new, 1)))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %q", c.name, err, c.want)
		}
	}
}

// What the types say, a person must be able to read in the editor.
func TestEveryKeyIsDescribed(t *testing.T) {
	var visit func(reflect.Type)
	visit = func(of reflect.Type) {
		for of.Kind() == reflect.Pointer || of.Kind() == reflect.Slice {
			of = of.Elem()
		}
		if of.Kind() != reflect.Struct {
			return
		}
		for i := range of.NumField() {
			f := of.Field(i)
			if f.Anonymous {
				visit(f.Type)
				continue
			}
			if d := f.Tag.Get("jsonschema_description"); !strings.HasSuffix(d, ".") {
				t.Errorf("%s.%s has no description: %q", of.Name(), f.Name, d)
			}
			visit(f.Type)
		}
	}
	visit(reflect.TypeFor[keys.File]())
}
