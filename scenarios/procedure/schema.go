package procedure

import _ "embed"

//go:embed procedure.schema.json
var schema []byte

// Schema returns the JSON Schema (draft 2020-12) of a procedure, for editors. It is generated from the same types that
// read the file (go generate).
func Schema() []byte { return append([]byte(nil), schema...) }

//go:generate go test -run TestSchemaIsCurrent -update
