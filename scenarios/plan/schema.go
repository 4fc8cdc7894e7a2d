package plan

import _ "embed"

//go:embed plan.schema.json
var schema []byte

// Schema returns the JSON Schema (draft 2020-12) of a plan, for editors. It is generated
// from the same types that read the file (go generate); which values a key takes depends on
// the scenario that is varied, which it cannot express.
func Schema() []byte { return append([]byte(nil), schema...) }

//go:generate go test -run TestSchemaIsCurrent -update
