package keys

import "go.yaml.in/yaml/v4"

// ProcedureFile is a procedure as written: steps one after another, each with a current of its own. The tags serve as
// those of File do.
type ProcedureFile struct {
	Title      *string      `yaml:"title" jsonschema:"required,minLength=1,maxLength=120" jsonschema_description:"One line that says what this procedure is."`
	Question   *string      `yaml:"question" jsonschema:"maxLength=1000" jsonschema_description:"The question that it answers; for the credibility report."`
	ContextUse *string      `yaml:"context_of_use" jsonschema:"maxLength=1000" jsonschema_description:"What the answer is for, who uses it, and what other evidence there is; for the credibility report."`
	Wall       *yaml.Node   `yaml:"wall" jsonschema:"required" jsonschema_description:"The wall before the first step: keys of wall in a scenario."`
	Sheet      *string      `yaml:"sheet" jsonschema:"minLength=1,maxLength=500" jsonschema_description:"File of the source sheet whose sources the steps name in current.source; a step may name another."`
	Common     *yaml.Node   `yaml:"common" jsonschema_description:"Keys of a scenario that every step has unless it says otherwise, such as numerics or body."`
	Pad        *yaml.Node   `yaml:"neutral_electrode" jsonschema_description:"The neutral electrode: a scenario of that scene without current, or the file of one."`
	RestS      *float64     `yaml:"rest_s" jsonschema:"minimum=0,maximum=600" jsonschema_description:"Pause between one step and the next in s, without current."`
	Steps      []*Step      `yaml:"steps" jsonschema:"required,minItems=1,maxItems=100" jsonschema_description:"The steps in their order."`
	Uncertain  []*Uncertain `yaml:"uncertain" jsonschema:"minItems=1,maxItems=20" jsonschema_description:"Keys that muralheat procedure --uncertain draws, in place of those of the library."`
	Draws      *float64     `yaml:"draws" jsonschema:"minimum=2,maximum=10000" jsonschema_description:"Number of draws of the uncertain keys."`
	Seed       *float64     `yaml:"seed" jsonschema:"minimum=0,maximum=9007199254740991" jsonschema_description:"Seed of the random numbers."`
	Limit      *StepLimit   `yaml:"limit" jsonschema_description:"For muralheat limit: a key of a step, whose value is sought up to which every step keeps its margin."`
}

// Step is one step: what changes the wall from there on, what the electrode does, or both.
type Step struct {
	Title    *string     `yaml:"title" jsonschema:"required,minLength=1,maxLength=60" jsonschema_description:"What tables and figures call the step."`
	Wall     *yaml.Node  `yaml:"wall" jsonschema_description:"Keys of the wall that are different from this step on."`
	Scenario *yaml.Node  `yaml:"scenario" jsonschema_description:"What the electrode does: a scenario without wall, or the file of one, whose wall does not count. Leave it out where no current flows."`
	Times    *float64    `yaml:"times" jsonschema:"minimum=1,maximum=1000" jsonschema_description:"How many times the step is done, each time on a fresh place."`
	PauseS   *float64    `yaml:"pause_s" jsonschema:"minimum=0,maximum=600" jsonschema_description:"Pause between one time and the next in s."`
	Repeat   *StepRepeat `yaml:"repeat" jsonschema_description:"The activation again and again on the same place: what it left is there, heat, water, char and injury."`
	Place    *string     `yaml:"place" jsonschema:"enum=same" jsonschema_description:"Same: the step is done on the place of the step before it and meets what that has left, heat, water, char, injury and removed tissue. Left out: on a fresh place."`
	RestS    *float64    `yaml:"rest_s" jsonschema:"minimum=0,maximum=3600" jsonschema_description:"Pause after the step in s, in place of that of the procedure."`
}

// StepRepeat is Repeat of a scenario, with the place said.
type StepRepeat struct {
	Repeat `yaml:",inline"`
	Place  *string `yaml:"place" jsonschema:"enum=same" jsonschema_description:"Same: the activations meet what those before have left. For fresh places give times in place of repeat."`
}

// StepLimit asks for the value of a key of one step that just keeps every step on the safe side.
type StepLimit struct {
	Step        *string  `yaml:"step" jsonschema:"required,maxLength=60" jsonschema_description:"Title of the step that has the key; a key of the wall holds from that step on."`
	Key         *string  `yaml:"key" jsonschema:"required,maxLength=200" jsonschema_description:"Path of the key whose limit is sought."`
	From        *float64 `yaml:"from" jsonschema:"required" jsonschema_description:"Lowest value that is tried."`
	To          *float64 `yaml:"to" jsonschema:"required" jsonschema_description:"Highest value that is tried."`
	Find        *string  `yaml:"find" jsonschema:"enum=largest,enum=smallest" jsonschema_description:"Whether the largest or the smallest safe value is sought."`
	MarginMM    *float64 `yaml:"margin_mm" jsonschema:"minimum=-10,maximum=10" jsonschema_description:"Margin to the muscle in mm that every step must keep."`
	Probability *float64 `yaml:"probability_percent" jsonschema:"exclusiveMinimum=0,exclusiveMaximum=100" jsonschema_description:"With uncertain keys: largest share of unsafe draws, in percent."`
	Tolerance   *float64 `yaml:"tolerance_percent" jsonschema:"minimum=0.01,maximum=50" jsonschema_description:"Accuracy of the limit, in percent of the range tried."`
	Scan        *float64 `yaml:"scan" jsonschema:"minimum=2,maximum=100" jsonschema_description:"Number of values tried first."`
}
