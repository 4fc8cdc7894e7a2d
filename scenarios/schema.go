package scenarios

import _ "embed"

//go:embed scenario.schema.json
var schema []byte

// Schema returns the JSON Schema (draft 2020-12) of a scenario, for editors. It
// is generated from the same types that read the file (go generate); what one key
// says about another it cannot express.
func Schema() []byte { return append([]byte(nil), schema...) }

//go:generate go test -run TestSchemaIsCurrent -update
