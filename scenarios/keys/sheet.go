package keys

// SheetFile is a source sheet as written: one person's generator, as physics. The tags serve as those of File do.
type SheetFile struct {
	Title   *string   `yaml:"title" jsonschema:"required,minLength=1,maxLength=120" jsonschema_description:"One line that says whose generator or which bench this is."`
	Sources []*Source `yaml:"sources" jsonschema:"required,minItems=1,maxItems=100" jsonschema_description:"What it can give, each under a name."`
}

// Source is one source of a sheet.
type Source struct {
	Name   *string `yaml:"name" name:"source" jsonschema:"required,pattern=^[A-Za-z0-9][A-Za-z0-9._-]*$,maxLength=40" jsonschema_description:"Name by which scenarios ask for it, in words of your own."`
	Title  *string `yaml:"title" jsonschema:"minLength=1,maxLength=60" jsonschema_description:"What figures call it; any text."`
	Origin *string `yaml:"origin" jsonschema:"required,minLength=1,maxLength=300" jsonschema_description:"Where its numbers come from: measured on the bench and when, or from the accompanying documents."`
	Output `yaml:",inline"`
	Except []*Origin `yaml:"origins" jsonschema:"minItems=1,maxItems=30" jsonschema_description:"Keys of this source whose numbers come from elsewhere."`
}

// Origin says where the numbers of one key come from.
type Origin struct {
	Key    *string `yaml:"key" jsonschema:"required,maxLength=200" jsonschema_description:"Key of this source, as in limits.load_line."`
	Origin *string `yaml:"origin" jsonschema:"required,minLength=1,maxLength=300" jsonschema_description:"Where its numbers come from."`
}
